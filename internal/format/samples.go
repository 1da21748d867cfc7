package format

// Sample is a whole note, as an example.
type Sample struct {
	Kind string
	File string
	Says string
	Text string
}

// Samples are a small shop: each note is sound beside the others.
var Samples = []Sample{
	{"shop", "content/shop.yaml", "The shop's own file.", `format: 2
name: Tern Street Tool Library
id: tern-street
mains: 230 V
hertz: 50
currency: EUR
rate: 36
power_minutes: {low-voltage: 3, series-lamp: 3, isolated: 6, mains: 5}
allow_mains_tests: false
`},
	{"device", "content/devices/fan-heater.md", "A device that is written out.", `---
title: Fan heater
family: Heat
class: II
plate: {mains: 230 V, power: 2 kW}
blocks: [plug, cord, switch, {cut-out: protective}, element]
symptoms:
  air-cold: {says: "The fan turns, and the air stays cold", is: no-heat}
access:
  grille-off: {does: Take the rear grille off, minutes: 6, undo: 4}
tests:
  element-ohms:
    ask: Resistance across the element's two tags
    covers: [element]
    needs: [grille-off]
    power: off
    minutes: 2
    reads:
      - {open: above 10 kΩ}
      - {as-rated: "calc:element?power=plate.power&mains=plate.mains#cold-range", healthy: true}
      - {low: below}
    caution: "CAUTION: Unplug, and let it cool."
good: {element-ohms: 25.9 Ω}
---
A fan blows over an element. It takes [=](calc:element?power=plate.power&mains=plate.mains#current).
`},
	{"fault", "content/faults/element-tag-burnt-off.md", "One of its faults.", `---
title: Element tag burnt off its terminal
device: fan-heater
block: element
cause: crimped tag between element and cut-out
takes: [cut-out]
seen: 4
symptoms: {air-cold: always}
reads: {element-ohms: open}
because: [loose crimp, inlet blocked]
mend: {does: Cut back and crimp a new tag, minutes: 25, needs: [grille-off], succeeds: 0.95, parts: [{part: tag-6.3, count: 1, price: 0.80}]}
checked_by: [kb]
---
The tag is brown or gone, and the air stays cold.

## How to confirm

Across the tags it is open, behind the crimp it is whole.
`},
	{"block", "content/blocks/cord.md", "A block that many devices have.", `---
title: Mains cord
says: cord
carries: current
ohms: through
reach: {inside: where the cord's cores end inside}
tests:
  ohms:
    spans: before
    needs: [inside]
    ask: "Resistance of each core from its pin to its end, bent along its whole length"
    minutes: 3
    reads: [{open: above 10 kΩ}, {through: below 1 Ω, healthy: true}]
    sees: {open: open}
    caution: "WARNING: Unplug before it is opened."
faults:
  broken:
    title: "{Device} cord broken"
    cause: conductor of the cord
    does: open
    shown: moved
    seen: {share: 0.3}
    complaints: {dead: often}
    mend: {does: Cut back beyond the break and clamp the sheath, minutes: 15, needs: [inside]}
---
The cord from the plug to where its cores end inside.

## broken

It comes and goes while the cord is moved, and one day it is dead.
`},
	{"device", "content/devices/soup-warmer.md", "A device that is made of common blocks: their tests, faults and ohms follow.", `---
title: Soup warmer
family: Heat
class: II
plate: {mains: 230 V, power: 300 W}
blocks:
  - plug: {carries: current, ohms: through, source: true}
  - cord: {is: cord, reach: bottom-off, seen: 6}
  - element: {carries: current, ohms: "calc:element?power=plate.power&mains=plate.mains#cold-range", work: heat}
symptoms:
  dead: {says: It stays cold, is: dead}
access:
  bottom-off: {does: Take the bottom off, minutes: 5, undo: 5}
---
A pot on a warm plate.
`},
	{"checklist", "content/checklists/before-opening.md", "Steps to tick.", `---
title: Before opening
when: Before any case is opened
minutes: 5
hazards: [Stored charge]
---
- [ ] Unplug it
- [ ] [Five minutes](wait:5_min) for what is charged to fall
- [ ] Measure that it has fallen
`},
	{"page", "content/pages/meters.md", "Anything else.", `---
title: What fools a meter
also: [ghost voltage]
---
An open wire beside a live one shows a voltage that drives nothing; see [before opening](../checklists/before-opening.md).
`},
	{"job", "content/jobs/2025-03-04-fan-heater-1.md", "A job sheet.", `---
device: fan-heater
date: 2025-03-04
owner_says: It blows cold
symptoms: [air-cold]
readings: [{test: element-ohms, value: 2 MΩ, minutes: 4}]
cause: element-tag-burnt-off
reason: loose crimp
minutes: 40
outcome: mended
---
`},
	{"complaints", "content/complaints.yaml", "What owners say.", `dead: {says: Nothing happens, short: dead, wordings: [dead, does not turn on]}
no-heat: {says: It does not get warm, needs: run, wordings: [blows cold, stays cold]}
`},
}

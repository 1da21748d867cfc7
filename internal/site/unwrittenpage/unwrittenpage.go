// Package unwrittenpage is the page for a device that nobody has written up: its
// blocks are picked in order, and the trace runs on what they expand to.
package unwrittenpage

import (
	"encoding/json"
	"html/template"
	"sort"

	"faultleaf/calc/blocks"
	"faultleaf/calc/trace"
	"faultleaf/internal/note"
	"faultleaf/internal/site/page"
	"faultleaf/search"
)

// Kind is the page; a shop without block notes has none.
var Kind = page.Listed(page.Kind{Name: "unwritten"}, rowOf, pages)

// row counts what stands behind what in a device: kinds of blocks, "" for the
// beginning.
type row map[[2]string]int

func rowOf(s *page.Shop, d *note.Device) row {
	r := row{}
	var along func(before string, chain []trace.Block) string
	along = func(before string, chain []trace.Block) string {
		for _, b := range chain {
			for _, w := range b.Branch {
				along(before, w)
			}
			if kind := d.Kinds[b.ID]; kind != "" {
				r[[2]string{before, kind}]++
				before = kind
			}
		}
		return before
	}
	along("", d.Blocks)
	return r
}

// Address of the page.
const Address = "unwritten.html"

type view struct {
	Data   template.JS
	Blocks string // address of the list of blocks
}

// ready is a chain that many makes have in common.
type ready struct {
	Title  string            `json:"title"`
	Blocks string            `json:"blocks"`
	Plate  map[string]string `json:"plate,omitempty"`
}

// chains are ready to be taken as they are: common makes, no source.
var chains = []ready{
	{"Heater with a fan", "plug=mains-plug cord=mains-cord switch=contact-switch [ cut-out=thermal-link element=heating-wire | motor=small-fan-motor ] air=airway", map[string]string{"power": "2 kW"}},
	{"Water heater or kettle", "plug=mains-plug cord=mains-cord switch=contact-switch cut-out=thermal-link element=sheathed-element water=waterway", map[string]string{"power": "2 kW"}},
	{"Hot plate or iron", "plug=mains-plug cord=mains-cord thermostat link=thermal-link element=sheathed-element", map[string]string{"power": "1.5 kW"}},
	{"Grill with open wires", "plug=mains-plug cord=mains-cord switch=contact-switch thermostat element=heating-wire", map[string]string{"power": "1.2 kW"}},
	{"Motor tool with a trigger", "plug=mains-plug cord=mains-cord switch=speed-trigger motor=universal-motor gears=gearing", map[string]string{"power": "600 W"}},
	{"Kitchen machine with steps", "plug=mains-plug cord=mains-cord switch=contact-switch motor=universal-motor gears=gearing", map[string]string{"power": "300 W"}},
	{"Suction cleaner", "plug=mains-plug cord=mains-cord switch=contact-switch cut-out=thermal-link motor=universal-motor air=airway", map[string]string{"power": "800 W"}},
	{"Supply with a transformer", "plug=mains-plug transformer bridge reservoir lead=output-lead", map[string]string{"secondary": "17 V ± 4 %", "winding": "2 Ω", "capacitor": "2200 µF ± 20 %", "load": "33 Ω"}},
	{"Lamp on the mains", "plug=mains-plug cord=mains-cord switch=contact-switch holder=lamp-holder bulb", map[string]string{"power": "40 W"}},
	{"Fan or pump with a capacitor motor", "plug=mains-plug cord=mains-cord switch=contact-switch motor=capacitor-motor", map[string]string{"power": "50 W"}},
	{"Switch-mode supply", "plug=mains-plug stage=switch-mode-stage lead=low-voltage-lead", nil},
	{"Battery tool", "pack=battery-pack switch=contact-switch motor=dc-motor gears=gearing", nil},
}

type kind struct {
	Name  string   `json:"name"`
	Title string   `json:"title"`
	Plate []string `json:"plate,omitempty"` // lines of the rating plate that it needs
	Shut  string   `json:"shut,omitempty"`  // why it is not for this shop
	// Example is the plate of the block's note, to show how a line is written.
	Example map[string]string `json:"example,omitempty"`
}

type shut struct {
	Name    string `json:"name"`
	Address string `json:"address"`
	Title   string `json:"title"`
}

type data struct {
	Library *blocks.Library     `json:"library"`
	Shop    trace.Shop          `json:"shop"`
	Mains   string              `json:"mains"`
	Kinds   []kind              `json:"kinds"`
	Follows map[string][]string `json:"follows"` // by kind, "" for the beginning: what mostly comes next
	Ready   []ready             `json:"ready"`
	Shut    []shut              `json:"shut"`
}

func pages(s *page.Shop, rows []row) ([]page.Page, error) {
	if len(s.Blocks) == 0 {
		return nil, nil
	}
	d := data{Library: s.Library(), Mains: s.Shop.Mains, Follows: follows(s, rows)}
	bench := trace.Device{}
	s.Bench(&bench)
	d.Shop = bench.Shop
	for _, b := range s.Blocks {
		k := kind{Name: b.Name, Title: b.Title, Plate: b.Kind.PlateNames(), Shut: b.Kind.Forbidden(), Example: map[string]string{}}
		for _, p := range b.Plate {
			k.Example[p.Name] = p.Value
		}
		d.Kinds = append(d.Kinds, k)
	}
	for _, r := range chains { // what this shop's block notes can make
		if _, err := (blocks.Picked{Blocks: r.Blocks}).Note(d.Library); err == nil {
			d.Ready = append(d.Ready, r)
		}
	}
	for _, p := range s.Set.Pages {
		for _, name := range p.Shut {
			d.Shut = append(d.Shut, shut{name, p.Address(), p.Title})
		}
	}
	raw, err := json.Marshal(d)
	if err != nil {
		return nil, err
	}
	// encoding/json escapes <, > and &, so the text cannot end its element
	v := view{Data: template.JS(raw), Blocks: "blocks.html"}
	return []page.Page{{Address: Address, Title: "A device that nobody has written up", Template: "unwritten", View: v,
		Found: &search.Document{ID: "unwritten", Kind: "page", Title: "A device that nobody has written up", Address: Address,
			Text: "trace a device that is not among the notes: pick its common blocks in order, its rating plate, its class and what is wrong with it"}}}, nil
}

// follows counts what stands behind what in the shop's own devices.
func follows(s *page.Shop, rows []row) map[string][]string {
	count := map[string]map[string]int{}
	add := func(before, kind string, n int) {
		if count[before] == nil {
			count[before] = map[string]int{}
		}
		count[before][kind] += n
	}
	for _, r := range rows {
		for pair, n := range r {
			add(pair[0], pair[1], n)
		}
	}
	for _, r := range chains {
		note, err := (blocks.Picked{Blocks: r.Blocks}).Note(s.Library())
		if err != nil {
			continue
		}
		chain, _ := note.Get("blocks")
		before := ""
		for _, item := range chain.Items() {
			for _, f := range item.Fields {
				add(before, f.Value.Text, 1)
				before = f.Value.Text
			}
		}
	}
	out := map[string][]string{}
	for before, kinds := range count {
		for kind := range kinds {
			out[before] = append(out[before], kind)
		}
		sort.Slice(out[before], func(i, j int) bool {
			a, b := out[before][i], out[before][j]
			if kinds[a] != kinds[b] {
				return kinds[a] > kinds[b]
			}
			return a < b
		})
	}
	return out
}

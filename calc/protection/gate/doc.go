// Package gate gives the times between which a cartridge fuse must open, by its standard.
//
// A standard does not give a fuse one time but gates: at so many times its rating it must not open before, and must
// have opened by. Everything between is allowed, so two sound fuses of one mark may differ a hundredfold.
//
// # Method
//
// The gates are tables. At a current between two of them no standard speaks, but a fuse opens sooner with
// more current: it holds at least as long as it must at the next gate above, and has opened at the latest when it must at
// the next gate below. Where no gate below makes it open it may hold for ever.
//
// # Where it holds
//
// Cartridge fuses 5 × 20 mm to IEC 60127-2 and small fuses to UL 248-14, new, at 23 °C, with the current steady.
//
// # Where it misleads
//
// At one and a half times its rating, a fuse to IEC 60127 holds for an hour and one to UL 248-14 has opened. They are not
// the same part, though both are marked 2 A. Between 1.5 and 2.1 times, an IEC fuse may do either.
//
// A fuse protects against a short circuit, hardly against a small overload: twice the rating may flow for minutes, and the device
// cooks meanwhile. That is what thermal links are for.
//
// Warm air, an old wire and a bad holder make it open sooner than the gate says.
//
// # Sources disagree
//
// Time-lag, high breaking capacity (sheet 5): 0.75 s to 80 s at 2.75 times and up to 150 ms at 10 times in Schurter's data sheet, 1 s to 80 s and up to 100 ms in
// Bel's of 1998 and 2003. The edition of the standard differs; both are here as choices.
//
// UL 248-14 at twice the rating: within 2 minutes up to 30 A in Littelfuse's guide and on the data sheet of the GMA series, within 5 seconds in a newsletter of OptiFuse. Two
// minutes is the gate; a quick maker's own promise may be shorter.
//
// Quick fuses of 8 to 10 A at 1.5 times: hold 30 minutes (OptiFuse) or 60 (another table of the same sheet). We take 30.
//
// # Sources
//
// - Time-lag H, sheet 5: [iec-60127-2 sheet 5] as [schurter-spt] and [schurter-spt-pigtail] print it. Older text: [bel-5ht].
// - Quick L, sheet 2: [iec-60127-2 sheet 2 (summary)] and [optifuse-2009].
// - Quick H, sheet 1, and time-lag L, sheet 3: [iec-60127-2 sheets 1 and 3 (memory)].
// - UL 248-14, 100 %, 135 %, 200 %: [ul-248-14]; 110 % for 4 hours and the least times of time-delay fuses: [ul-248-14 (summary)].
package gate

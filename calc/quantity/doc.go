// Package quantity is the only place where faultleaf reads or prints a number.
//
// A Kind says what sort of amount something is (voltage, resistance, ...). A
// Value is an amount of one kind, held in the kind's base unit (SI, but °C for
// temperatures), and may carry a range.
//
// The way in: Parse reads an amount as people write it on a bench (4k7, 100n,
// 0,5 A, 17V±2%, 18 AWG, 68 °F, 1h30). The way out: Value.Text prints it with
// an engineering prefix; Value.In prints it in a wished unit. Everything printed
// is rounded to ten significant digits first and to the shown digits after that,
// so that the last bit of a computation, which differs between machines, never
// reaches a page.
//
// A Claim is a printed number found in a note ("24–26 Ω"). It holds as many
// digits as were written, and Claim.Check compares a Value at just that digit.
package quantity

// Package mark reads what is printed on resistors and capacitors: letter code, three and
// four digits, EIA-96, and says where a mark can be read in two ways.
//
// # Method
//
// Letter code (IEC 60062): the letter stands where the decimal point would, and for a power of ten. R is
// ohms, K kilohms, M megohms; p, n, µ are picofarads, nanofarads, microfarads: 4K7, R47, 4n7. A letter behind it is the
// tolerance.
//
// Three digits: two digits and the number of zeros, in ohms or in picofarads: 103 is 10 kΩ or 10 nF. Four
// digits have three and the number of zeros: 4702 is 47 kΩ. R is the decimal point. On capacitors 9 as last digit
// means times 0.1 and 8 times 0.01.
//
// EIA-96: two digits are a place in the list of E96, the letter is a power of ten: Z 0.001, Y or R 0.01, X or S 0.1, A
// 1, B or H 10, C 100, D 1000, E 10⁴, F 10⁵. 68C is the 68th value, 499, times 100.
//
// Tolerance letters: F 1 %, G 2 %, J 5 %, K 10 %, M 20 %; on capacitors also H 3 %, N 30 %, P −0 +100 %, S −20 +50 %, Z −20 +80 %;
// below 10 pF B, C, D, F are 0.1, 0.25, 0.5 and 1 pF.
//
// A figure and a letter before a capacitor's three digits are its volts: 2A104J stands 100 V DC.
//
// Behind the code may stand the rated volts, with or without their V: 105K275, 104J 630. On tantalum capacitors a letter beside three
// digits is the volts: G 4, J 6.3, A 10, C 16, D 20, E 25, V 35, H 50. E stands for the ohms on parts from the
// Netherlands and India: 4E7, 0E22.
//
// Inductors have three digits in microhenries: 101 is 100 µH. R is the point there, N in nanohenries: 4R7, 22N.
//
// Every reading that the mark allows is made; the customary one is given as the value, the rest
// beside it.
//
// # Where it holds
//
// Chip resistors, wire-wound and shunt resistors, ceramic, film and tantalum capacitors.
//
// # Where it misleads
//
// 220 on a chip resistor is 22 Ω, not 220 Ω: the last digit counts zeros. Some makers print plain ohms or picofarads all the
// same, so a mark that ends in 0 is settled with the meter.
//
// 68R is 68 Ω by the letter code and 4.99 Ω by EIA-96; 22E is 22 Ω and 1.65 MΩ. 01R is 1 Ω in both. 220K is 220 kΩ, or 22 with 10 %.
//
// On the can of an electrolytic capacitor the number is plain microfarads: 100 is 100 µF there, while 107 on a tantalum is
// 100 µF by the code.
//
// A bare 0.1 on film or ceramic is microfarads. MFD and mfd are microfarads, MMFD picofarads, never mega or milli.
//
// A bar over or under three digits marks a 1 % part of E24, or milliohms on a shunt: look the series up.
//
// Chips of 0402 and smaller bear no mark, nor do most chip capacitors.
//
// # Sources disagree
//
// EIA-96 01Y is 1.00 Ω: the value of place 01, which is 100, times 0.01. A text found on the web says 0.01 Ω; it multiplies the place
// instead of the value and is wrong.
//
// H in EIA-96 is 10 in two descriptions; one data sheet of chip resistors gives H as 10⁷ and G as 10⁶.
//
// Tolerance of 20 %: a page on resistor codes prints L, IEC 60062 has M (and L for 0.01 % since 2016, from memory). L is therefore not read.
//
// B, C, D on capacitors above 10 pF: per cent in IEC 60062 (from memory), picofarads in a list of a question-and-answer site.
//
// # Sources
//
// - RKM and letter codes, tolerance letters: [iec-60062].
// - Three and four digits, 220 and 12R0: [gwinstek-gds-200]. 4K7 style, 2701, 10R0, R300: [rnd-chip]. 3160 and the jumper: [yageo-chip].
// - EIA-96: [resistor-com 68C is 49.9 kΩ], [asc-wf 25X to 25E], [tru-chip 85X and 02C].
// - Volts code and picofarads of ceramics: [eia-198]. 8 and 9 as last digit, 4R7 as picofarads: [practice].
package mark

// Package calc is what a calculator is.
//
// One Calculator value describes one computation: its name, its inputs and
// outputs, the function, and the texts a reader needs (method, where it holds,
// where it misleads, sources, cautions, a worked example). From that one value
// come the form on the page, the table without script, the reference page, the
// command line, the calc: links in notes, the JSON list and the plot.
//
// The way of a computation:
//
//  1. Run takes the inputs as people write them and reads each one with
//     calc/quantity; a wrong one is an *InputError that names the input.
//  2. The calculator's own function gets an In (SI numbers by input name) and
//     fills an Out (SI numbers, words and notes by output name).
//  3. Where an input has a tolerance, Run computes the corners of the inputs'
//     ranges as well and gives each output its range; an output word that
//     differs between corners becomes "cannot tell".
//
// A Link is the address of one output: calc:rectifier?ac=17V#mean.
//
// The rooms (calc/supply/rectifier and so on) import this package; calc/all
// lists them.
package calc

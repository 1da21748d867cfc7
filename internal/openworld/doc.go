// Package openworld measures the trace on faults that no note describes. Its
// tests leave the notes of the starter out one after the other, play the fault
// that is missing, and count what the trace makes of it.
package openworld

// Package readings reads what the meters showed in a car: level, frequency,
// place, openings, and what a clamp meter showed at the amplifier.
//
//	list, report := readings.Load("monday.yaml")
//	if err := report.Err(); err != nil {
//		return err // every mistake, with its place and how to mend it
//	}
//
// A file is YAML, where keys above the list hold for all of its readings:
//
//	vehicle: small sedan
//	build: demo:value-12-sealed
//	openings: doors open
//	readings:
//	  - {date: 2026-03-09, place: dash, frequency: 40 Hz, level: 124.1 dB, clamp_voltage: 26 V, clamp_current: 6.2 A}
//
// or CSV with the same keys as the names of its columns, where numbers may
// stand without their unit. Several tones at one place make a response curve.
// Both go through one table of keys, so that they accept and refuse the same.
//
// Limits: one reading is one steady tone; what stands in a file is believed if
// it can be at all, and what two readings say against each other is a warning,
// for the fit knows how to weigh them and the reader does not.
package readings

import (
	"loudfor/catalog"
	"loudfor/catalog/document"
	"loudfor/catalog/prices"
)

// Reading is what the meters showed once. Values that were not measured are
// zero.
type Reading struct {
	ID       int64 // in the job book; 0: from a file
	Date     prices.Date
	Vehicle  string
	Build    string // a build file, demo:NAME, or parts in words: see Parts
	Quote    int64  // of the job book, in place of Build
	Place    string
	Openings string
	Built    *catalog.BuiltBox // that the build names, of a quote whose box the shop built; nil: none

	Frequency float64 // Hz
	Level     float64 // dB
	Tolerance float64 // dB, one standard deviation of the meter; 0: not stated
	Volts     float64 // V rms at one output of the amplifier
	Amps      float64 // A rms from it
	Watts     float64 // W real power from it
	Supply    float64 // V at the amplifier's supply
	Note      string

	Where catalog.Position            // of the reading
	At    map[string]catalog.Position // of its stated keys

	file *document.File
}

// Problem is one about a key of the reading, with its line shown.
func (r *Reading) Problem(s catalog.Severity, key, summary, detail string) catalog.Problem {
	return mark(r.file, catalog.Problem{Severity: s, Summary: summary, Detail: detail, Where: r.Source(key)})
}

// Source is where a key of the reading stands, or the reading itself.
func (r *Reading) Source(key string) catalog.Position {
	if at, ok := r.At[key]; ok {
		return at
	}
	return r.Where
}

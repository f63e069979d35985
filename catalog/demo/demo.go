// Package demo is a catalogue to try the program with: about a hundred invented
// parts of four invented makers at two invented shops, two deals, three cars,
// four customers and three ready builds, all inside the program.
//
// It is laid out as a user's own folder would be, one shop sorting its lists
// by kind and the other by price, and it is read by the same code:
//
//	parts, report := catalog.LoadFS(demo.FS, demo.Parts)
//
// The shelves have the flaws of real ones: cards with half the numbers
// missing, powers that no fuse could feed, a cable with more fuse than copper,
// one card that contradicts itself, a driver out of stock. None is announced
// in the files; demo_test.go lists what a check has to find, and holds that it
// finds nothing else.
//
// The drivers' parameters obey the identities of Thiele and Small, and the
// boxes' volumes leave room for walls of 15 to 18 mm, so that predictions made
// from them behave as those from real parts do. Limits: prices, powers and
// parameters are plausible (common practice, no source), not measured.
package demo

import "embed"

// FS holds the files below.
//
//go:embed parts vehicles.yaml briefs builds lists prices readings
var FS embed.FS

// Names inside FS.
const (
	Parts    = "parts"         // folder of part lists
	Vehicles = "vehicles.yaml" // the three cars
	Briefs   = "briefs"        // folder, one file a customer
	Builds   = "builds"        // folder, one file a build to predict
	Lists    = "lists"         // folder of spreadsheets, as shops send them
	Prices   = "prices"        // folder of price lists for these parts
	Readings = "readings"      // folder, readings in the cars

	// Brief is the customer that stands for all when none is named.
	Brief = Briefs + "/250-reading.yaml"
	// BriefWithoutBuild cannot be met until one of its rules gives way.
	BriefWithoutBuild = Briefs + "/500-no-room.yaml"
	// Build is the build that stands for all.
	Build = Builds + "/value-12-sealed.yaml"
)

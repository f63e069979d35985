package build

import (
	"fmt"
	"math"
	"strings"

	"loudfor/catalog"
	"loudfor/model/bass"
	"loudfor/model/driver"
	"loudfor/model/enclosure"
	"loudfor/model/front"
	"loudfor/model/hookup"
	"loudfor/model/supply"
)

// Build is a complete set of parts with its wiring and what it will do.
type Build struct {
	Rank  int
	Lines []Line        // in the order of the kinds, then by SKU
	Cost  catalog.Money // everything, tax included

	Deals  []AppliedDeal // by name
	Labour []LabourLine  // that is paid for, the vehicle's first
	Taxes  []TaxLine     // highest rate first; their sums and taxes make the cost

	// Objective is what the brief's goal ranks by, dB, rounded to a
	// thousandth: the reading, or the balanced music level.
	Objective float64
	ByMusic   bool // what Objective is

	// Due is the cost before rounding, millionths of a minor unit, in two words.
	Due [2]uint64

	Reading Reading
	Music   Music
	Front   Front
	Bass    Bass

	Plan      hookup.Plan      // of each bass amplifier, for the drivers it feeds
	Operation bass.Operation   // at the reading's frequency
	Curve     []bass.Operation // the loudest at each frequency of bass.Grid
	Feed      supply.Feed      // what the amplifiers are fed from
	Demand    float64          // A that all amplifiers together can draw
	Signal    string           // how the signal gets to the amplifiers, in words

	Assumed  []string // what no card, brief or vehicle stated
	Warnings []string
	Doubts   []string // of Warnings, what a customer has to know too (doubts)
	Hazards  []string // of Warnings, what current can do: never left out of an answer

	// Fault is why the recheck refuses this build, which is an error of the program:
	// the figures may be wrong, or a rule broken. Empty: it was confirmed.
	Fault string

	Difference Difference // to rank 1; zero for rank 1 itself
	Tie        bool       // the difference to rank 1 is none: Difference.Tie
}

// Refuse marks a build that the recheck refuses, so that whoever shows it says so.
func (b *Build) Refuse(why error) {
	b.Fault = strings.ReplaceAll(why.Error(), "\n", "; ")
	b.WarnOfFault()
}

// WarnOfFault puts a fault first among the warnings, with what is needed to find its
// cause.
func (b *Build) WarnOfFault() {
	if b.Fault == "" {
		return
	}
	var parts []string
	for _, l := range b.Lines {
		parts = append(parts, fmt.Sprintf("%d x %s", l.Count, l.Part.SKU))
	}
	words := fmt.Sprintf("not confirmed: a second look by the rules refuses this build (%s). It is a fault of the program: please report it with its version, the question, the files of brief and catalogue, and this build: %s; %s at %.3g ohm",
		b.Fault, strings.Join(parts, ", "), b.Plan.Mode, b.Plan.Load)
	b.Warnings, b.Doubts = append([]string{words}, b.Warnings...), append([]string{words}, b.Doubts...)
}

// Band is the half-width of the 90 % interval of the objective, dB: that of the
// balanced music level where the brief ranks by it. Zero: not drawn.
func (b *Build) Band() float64 {
	if b.ByMusic {
		return b.Music.Band
	}
	return b.Reading.Band
}

// Line is one part of a build with how many of it.
type Line struct {
	Part  *catalog.Part
	Count int
	Owned int           // of Count, those the customer has already
	From  []Purchase    // where the others are bought, if there was a choice
	Cost  catalog.Money // of those that are bought, before tax
}

// Reading is the highest level that a meter would show.
type Reading struct {
	DB       float64
	Band     float64 // half-width of the 90 % interval, dB
	Hz       float64
	Place    string
	Openings string
}

// Music is the balanced playback level: the lower of what the bass reaches
// after the wanted lift is taken off, and what the front reaches.
type Music struct {
	DB   float64
	Band float64
	Bass float64 // level of the bass over the third-octave bands, lift included
	// BassBand is the half-width of the 90 % interval of Bass; see Front.Band
	// for that of the other part.
	BassBand float64
	// FrontLimits says that the front stage is the weaker of the two.
	FrontLimits bool
}

// Difference is how far a build is behind the first one. Both stand in the
// same car, so its band is much smaller than that of either reading.
type Difference struct {
	DB   float64 // this build's objective minus that of rank 1
	Band float64 // half-width of the 90 % interval

	// Chance is the share of the draws of the bands in which the sign is that
	// of DB; zero where none was drawn.
	Chance float64
}

// Noticed is the difference in dB that a listener about notices with music
// (common practice, no source). Nothing above it is called a tie, however wide
// its band is: the customer would hear it, if it is there.
const Noticed = 1.0

// Tie tells whether a difference is none: maybe not there, and hardly to be
// noticed if it is.
func (d Difference) Tie() bool { return math.Abs(d.DB) <= min(d.Band, Noticed) }

// Uncertain tells whether a difference that would be noticed may not be there.
func (d Difference) Uncertain() bool {
	return math.Abs(d.DB) > Noticed && math.Abs(d.DB) <= d.Band
}

// FrontPower is what drives the front speakers.
type FrontPower int

const (
	FromNothing FrontPower = iota
	FromSource             // the source's own power channels
	FromBass               // channels that the bass leaves over on its amplifier
	FromOwn                // an amplifier of their own
)

func (p FrontPower) String() string {
	return [...]string{"nothing", "the source", "left-over channels of the bass amplifier", "an amplifier of its own"}[p]
}

// Front is the front stage of a build.
type Front struct {
	DB         float64       // level at the seat; 0: silent or unknown
	Band       float64       // half-width of its 90 % interval, dB
	Part       *catalog.Part // nil: the speakers that the car came with
	Power      FrontPower
	Amplifier  *catalog.Part // for FromBass and FromOwn
	Given      float64       // W a side that the power offers
	Usable     float64       // W a side that the speakers can use of it
	HighPass   float64       // Hz; 0: none
	HighPassBy string        // what makes it, in words
	Limit      front.Limit

	Stage  front.Stage   // the pair with what drives it, for its draws
	Source *catalog.Part // for FromSource
}

// Bass is the bass block of a build, completed.
type Bass struct {
	Driver     driver.Driver
	Part       *catalog.Part // subwoofer or loaded enclosure
	Box        enclosure.Box
	Enclosure  *catalog.Part // nil for a loaded enclosure
	Boxes      int
	Drivers    int
	Amplifier  *catalog.Part
	Amplifiers int
}

// Boxed is the part that is the box.
func (b *Bass) Boxed() *catalog.Part {
	if b.Enclosure != nil {
		return b.Enclosure
	}
	return b.Part
}

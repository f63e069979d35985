package catalog

import (
	"strconv"

	"loudfor/model/amplifier"
	"loudfor/model/driver"
	"loudfor/model/enclosure"
)

// Kind is what a part is for.
type Kind int

// The kinds, in the order in which tables show them.
const (
	KindSubwoofer Kind = iota
	KindAmplifier
	KindEnclosure
	KindLoaded
	KindFront
	KindSource
	KindConverter
	KindBlocker
	KindKit
	KindSheet    // what boxes are built of; see material.go
	KindWorkshop // who builds them
	KindCount    // how many kinds there are
)

// Unlimited is the Stock of a part whose file does not state one.
const Unlimited = -1

// MostStock is the largest count of pieces, in files and in price lists alike.
const MostStock = 1_000_000

var stockRange = "0.." + strconv.Itoa(MostStock)

// Part is one thing with a SKU, a kind and a price. Exactly one of the
// pointers below is set, the one that Kind names.
type Part struct {
	SKU   string
	Kind  Kind
	Name  string
	Maker string
	Store string // empty: not stated
	Price Money
	// Priced is false for a part without a price: it can only be owned.
	Priced bool
	Stock  int // pieces, or Unlimited
	Limit  int // pieces a customer may buy, or Unlimited
	Note   string
	Offers []Offer // of other shops, in the order of the file
	Where  Position
	Keys   Keys // where each key's value stands

	Subwoofer *Subwoofer
	Amplifier *Amplifier
	Enclosure *Enclosure
	Loaded    *Loaded
	Front     *FrontSpeakers
	Source    *Source
	Converter *LineConverter
	Blocker   *BassBlocker
	Kit       *WiringKit
	Sheet     *Sheet
	Workshop  *Workshop
}

// Size3 is a width, depth and height in metres; all zero: not stated.
type Size3 struct{ Width, Depth, Height float64 }

// Subwoofer is a bass driver without a box.
type Subwoofer struct {
	Card         driver.Card
	Cutout       float64 // m, 0: not stated
	BoltCircle   float64 // diameter of the circle of its screws, m, 0: not stated
	Depth        float64 // mounting depth, m, 0: not stated
	Displacement float64 // volume taken inside the box, m3, 0: not stated
}

// Amplifier is a power amplifier with what it offers besides power.
type Amplifier struct {
	Spec         amplifier.Spec
	HighPass     bool // for the front channels
	LowPass      bool
	BassControl  bool // a remote bass level knob
	SpeakerInput bool // takes the source's speaker wires: no pre-out is needed
}

// Enclosure is an empty box.
type Enclosure struct {
	Box    enclosure.Box
	Hole   float64 // nominal driver size that fits, m
	Cutout float64 // m, 0: not stated
	// BoltCircle is the diameter of the circle of the holes for screws, m,
	// 0: not stated.
	BoltCircle float64
	Depth      float64 // depth available behind the baffle, m, 0: not stated
	Outside    Size3
}

// Loaded is a box sold with its drivers in it.
type Loaded struct {
	Box     enclosure.Box // Box.Drivers says how many are in it
	Card    driver.Card   // of each driver
	Outside Size3
}

// FrontSpeakers is a pair of speakers for the doors or the dash.
type FrontSpeakers struct {
	Load        float64 // nominal ohm, each
	Power       float64 // continuous W, each
	Sensitivity float64 // dB at 1 W, 1 m, 0: not stated
	Fs          float64 // Hz, 0: not stated
	Sd          float64 // m2, 0: not stated
	Xmax        float64 // m peak one way, 0: not stated
	Size        float64 // m, 0: not stated
}

// Source is a head unit.
type Source struct {
	PreOuts      int     // pairs of line outputs
	PreOutVolts  float64 // V rms, 0: not stated
	Channels     int     // built-in power channels, 0: none
	Power        float64 // W a channel, continuous, into Load; 0: not stated
	Load         float64 // ohm
	MinimumLoad  float64 // ohm, 0: Load
	HighPass     bool    // for the front outputs
	LowPass      bool    // for the bass output
	BassControl  bool
	SupplyVolts  float64 // 0: 14.4
	PowerClaimed bool    // the figure is a maker's claim, not a measured one
}

// LineConverter makes line level out of speaker wires.
type LineConverter struct {
	Channels int
}

// BassBlocker is a pair of series capacitors, a high-pass for front speakers.
type BassBlocker struct {
	Capacitance float64 // F, each
}

// WiringKit is the power cable with its fuse and what goes with it.
type WiringKit struct {
	Area         float64 // conductor cross-section, m2
	CopperClad   bool    // copper-clad aluminium instead of copper
	Length       float64 // power cable, m, one way
	Fuse         float64 // A, 0: no fuse in the kit
	GaugeClaimed bool    // the stated gauge is a claim
}

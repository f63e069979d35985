package audit

import (
	"loudfor/catalog"
	"loudfor/model/amplifier"
	"loudfor/model/bass"
	"loudfor/model/driver"
	"loudfor/model/enclosure"
)

// Premises are all that a checker from outside needs: every part that can be had as
// numbers in SI units, the car's response, the rules, the cap and the claim. Prices
// are the least ones, in millionths of a minor unit with tax and labour.
type Premises struct {
	Schema   string         `json:"schema"`
	Currency string         `json:"currency"`
	Limit    int64          `json:"limit"`    // of what the pieces of a build cost
	Additive bool           `json:"additive"` // prices are exact: no deals, trips or choice of shops
	Claim    *PremisedClaim `json:"claim"`
	Must     map[string]int `json:"must"`
	Rules    PremisedRules  `json:"rules"`
	Car      PremisedCar    `json:"car"`
	Parts    []PremisedPart `json:"parts"`
}

// PremisedClaim is the claimed build; none: that there is none.
type PremisedClaim struct {
	DB    float64        `json:"db"`
	Due   int64          `json:"due"`
	Parts map[string]int `json:"parts"`
}

// PremisedRules are brief, vehicle and what equipment stands.
type PremisedRules struct {
	Boxes, Drivers, Amplifiers int
	Music                      bool        // its goal; else a reading
	Lift                       float64     // dB by which the bass of music is above its level
	Space, Boot                []float64   // m; empty: any
	Limits                     bass.Limits // Burst 0: for hours
	Supply                     []float64   // V, A of reserve, V and ohm of the battery
	Density, Sound             float64     // of the air
	FrontWatts                 float64
	Cabin                      []float64 // its length, width and height, m
}

// PremisedCar is the car's response.
type PremisedCar struct {
	Hz             []float64    `json:"hz"`
	Transfer, Back [][2]float64 // Pa s/m3, in phase and in quadrature
}

// PremisedPart is one part: of its own keys those of its kind.
type PremisedPart struct {
	SKU   string `json:"sku"`
	Kind  string `json:"kind"`
	At    string `json:"at"` // where the card stands
	Owned int    `json:"owned"`
	Most  int    `json:"most"`  // pieces that can be had
	Each  int64  `json:"each"`  // labour for a piece, owned or not
	Least int64  `json:"least"` // a piece that is bought: Price x (1 + tax) + work
	Price int64  `json:"price"` // on the card, minor units
	Tax   int64  `json:"tax"`   // millionths
	Work  int64  `json:"work"`  // labour for a piece that is bought

	Driver       *driver.Driver   `json:"driver,omitempty"` // completed
	HeatTime     float64          `json:"heat_time,omitempty"`
	Origin       []string         `json:"origin,omitempty"` // of what was completed
	Displacement float64          `json:"displacement,omitempty"`
	Size         float64          `json:"size,omitempty"` // of the driver, or of the hole
	Cutout       float64          `json:"cutout,omitempty"`
	Depth        float64          `json:"depth,omitempty"`
	Box          *enclosure.Box   `json:"box,omitempty"`
	Type         string           `json:"type,omitempty"`      // of the box
	Helmholtz    float64          `json:"helmholtz,omitempty"` // of the port on the empty chamber, Hz
	Outside      []float64        `json:"outside,omitempty"`
	Amplifier    *PremisedAmp     `json:"amplifier,omitempty"`
	Kit          []float64        `json:"kit,omitempty"`    // ohm, A that it carries, m2, m to the boot, copper-clad (1) or not
	Source       *catalog.Source  `json:"source,omitempty"` // a head unit
	Watts        []float64        `json:"watts,omitempty"`  // a side into each of the loads of the pairs, in their order
	Pair         *PremisedPair    `json:"pair,omitempty"`
	Channels     int              `json:"channels,omitempty"`    // of a converter
	Capacitance  float64          `json:"capacitance,omitempty"` // of a blocker, F
	Modes        []PremisedSource `json:"modes,omitempty"`
}

// PremisedAmp is what an amplifier has besides its outputs.
type PremisedAmp struct {
	Stereo      int     // outputs in stereo
	Demand      float64 // A
	SpeakerWire bool
	HighPass    bool
	Fuse        float64  // A; 0: not stated
	Rest        [2]int64 // what source and front cost beside it at least; with two channels left over
	// Louder are the ways to have a source and a front that is louder than the claim, each
	// dearer and with less current than the one before; and with two channels left over.
	Louder [2][]PremisedRest
}

// PremisedRest is what source and front cost at least, and the current of an amplifier
// of the front's own, A.
type PremisedRest struct {
	Price int64
	Amps  float64
}

// PremisedSource is one output of a mode: V, ohm, A, efficiency, least load, how
// many there are and how many stereo channels each takes.
type PremisedSource struct {
	Volts, Ohms, Amps, Efficiency, Least float64
	Outputs, Takes                       int
	Ratings                              []amplifier.Rating // on the card
}

// PremisedPair is a pair of front speakers behind each blocker ("": none), without and
// beside a built-in high-pass: of each setting its level with 1 W a side, dB, and how
// many watts it can use.
type PremisedPair struct {
	Fresh   bool
	Behind  map[string][2][][2]float64
	Load    int     // which of the loads
	Ohms    float64 // that load
	Speaker PremisedSpeaker
}

// PremisedSpeaker is one of a pair, completed: dB for 1 W at 1 m, W, Hz, m2 and m.
type PremisedSpeaker struct{ Sensitivity, Power, Fs, Sd, Xmax float64 }

// PremisesSchema is the shape of Premises.
const PremisesSchema = "loudfor/premises/2"

package catalog

import (
	"loudfor/catalog/document"
	"loudfor/model/cabin"
)

// Goal is what the customer wants most.
type Goal int

const (
	GoalReading Goal = iota // the highest level on a meter
	GoalMusic               // the loudest balanced playback
)

// FrontRule says what happens to the front speakers.
type FrontRule int

const (
	FrontKeep    FrontRule = iota // the speakers in the car stay
	FrontReplace                  // new ones are part of the build
	FrontEither
)

// Mention is a SKU that a brief names, and where it does.
type Mention struct {
	SKU   string
	Count int      // at least 1
	Where Position `json:",omitzero"`
}

// Brief is what one customer wants. Zero values mean "not stated" where zero
// cannot be; the reader fills in the defaults, and DefaultBrief is a brief of
// them for code that writes its own: no lift, no watts for the front, and air at
// 0 C are wishes like any other.
type Brief struct {
	Name string
	Cap  Money
	// Steps is all that may have been spent by each step of a plan, the cap
	// first; empty: there is no later step. See Budgets.
	Steps  []Money
	Resale int64     // share of its price, millionths, for which a part bought at an earlier step is sold
	Order  PlanOrder // which plan is the best
	TaxPPM int64     // tax in millionths: 7.5 % is 75,000
	// TaxByKind and LabourTax are the taxes that differ from TaxPPM; see
	// TaxOn and TaxOnLabour.
	TaxByKind  map[Kind]int64
	LabourTax  *int64
	Labour     []Labour // work that is paid for, beside the vehicle's
	Vehicle    string
	Goal       Goal
	Place      string // of the vehicle's places; default dash
	Openings   string // of the vehicle's sets; default shut
	Front      FrontRule
	Owned      []Mention // in the customer's hands: cost nothing, may be used
	Must       []Mention // has to be in the build
	Never      []Mention // must not be in the build
	Stores     []string  // where to buy; empty: anywhere
	MostStores int       // most shops to buy from; 0: any number
	Space      Size3     // free space for boxes; zero: the vehicle's
	Boxes      int       // most boxes; default 2
	Drivers    int       // most bass drivers; default 4
	// Amplifiers is the most amplifiers for bass; default 2.
	Amplifiers int
	Alternator float64 // rated A; zero: the vehicle's
	BassLift   float64 // dB that the bass shall stand above the front; default 6
	FrontWatts float64 // W a side that a front pair needs at least; default 10
	Celsius    float64 // air temperature; default 20
	Burst      float64 // s that a reading's tone lasts; default 3
	Overdrive  float64 // travel allowed for a reading, in units of Xmax; default 1.3
	// BuildBoxes lets the shop build the boxes itself; BoxWeight is the most
	// that the wood of one may weigh, kg, 0: any.
	BuildBoxes bool
	BoxWeight  float64
	// LowestNote bounds the tuning of built boxes from above, Hz; AnyNote does not;
	// default 35.
	LowestNote float64
	Where      Position
	Keys       map[string]Position // where the value of each stated key stands

	file *document.File
}

// AnyNote is the lowest note of a box that need not play any, Hz: above whatever a
// port is tuned to.
const AnyNote = 1e6

// Vehicle is one car: a body with its places and openings, and its supply.
type Vehicle struct {
	Name  string
	Body  cabin.Body // geometry, damping, places, openings
	Space Size3      // free space for boxes
	// Boot is the opening that a box has to go through, width and height, m;
	// zero: not stated.
	Boot       [2]float64
	Alternator float64  // rated A
	Standby    float64  // A that the car itself takes, engine running
	CableRun   float64  // m from the battery to the boot
	Labour     []Labour // work that this car takes
	// OpenField is no car at all: the box on open ground and the meter 1 m
	// away; Body, Space and the supply mean nothing then.
	OpenField bool
	Assumed   []string // what no one measured, in words
	Outdated  string   // why what was learned is not used, and what to do; empty: nothing was, or it is
	Where     Position
}

// BuildFile is a given build to predict: a brief with its parts chosen.
type BuildFile struct {
	Brief Brief
	Parts []Mention
	Mode  string    // amplifier mode: mono, stereo, bridged or paralleled; empty: the loudest valid hookup
	Load  float64   // load for each output, ohm; zero: the loudest valid hookup
	Built *BuiltBox // nil: every box is bought as it is
}

// Package record is the program's JSON: the shapes that other programs read.
//
//	json.NewEncoder(os.Stdout).Encode(record.OfPick(brief, vehicle, false, result))
//
// The shapes are kept apart from the structs of the search, so that a change
// inside never changes what a script reads. Each document names its shape in
// "schema"; under one number keys may be added, none is renamed, removed or
// given another meaning. Money is exact decimal text as a JSON number; levels
// are rounded to 0.001 dB, other figures to six significant digits, so that
// the last bits of floating-point arithmetic never show. Limit: what is not
// known is left out rather than written as zero.
package record

// The names of the shapes.
const (
	PickSchema    = "loudfor/pick/1"
	PredictSchema = "loudfor/predict/1"
	CheckSchema   = "loudfor/check/1"
	ErrorSchema   = "loudfor/error/1"
	VersionSchema = "loudfor/version/1"
)

// Origin is where the parts come from, and what was left out of the car.
type Origin struct {
	Demo bool   `json:"demo,omitempty"`  // the catalogue is the invented one
	From string `json:"files,omitempty"` // which files were taken that nobody named, in words
	// Outdated is why what readings taught about the car is not used.
	Outdated string `json:"outdated,omitempty"`
}

// Pick is the answer of "pick".
type Pick struct {
	Schema   string `json:"schema"`
	Currency string `json:"currency"`
	Cap      Amount `json:"cap"`
	Outcome  string `json:"outcome"` // optimal, feasible, infeasible or unknown
	Stop     string `json:"stop"`    // why the search ended
	Goal     string `json:"goal"`
	Vehicle  string `json:"vehicle"`
	Origin
	Proof     Proof      `json:"proof"`
	Builds    []Build    `json:"builds"`
	Conflicts []Conflict `json:"conflicts,omitempty"`

	Answers *Answers `json:"answers,omitempty"`

	BuiltBoxes []Box `json:"built_boxes,omitempty"`
	BoxSearch  *Shop `json:"box_search,omitempty"`
}

// Answers are the builds that are answered first. The first of Builds is the
// best by the goal.
type Answers struct {
	WithinDB Figure  `json:"within_db"`
	Whole    bool    `json:"whole"`
	Value    *Answer `json:"best_value,omitempty"`
	Other    *Answer `json:"best_by_the_other_goal,omitempty"`
	Before   *Before `json:"before,omitempty"`
}

// Answer is one of them; the differences are to the first build.
type Answer struct {
	Reading *Difference `json:"reading_difference"`
	Music   *Difference `json:"music_difference"`
	Build   Build       `json:"build"`
}

// Before is what plays in the car today.
type Before struct {
	MusicDB Figure `json:"music_db"`
	BandDB  Figure `json:"music_band_db,omitempty"`
}

// Predict is the answer of "predict": a build with its curve.
type Predict struct {
	Schema   string `json:"schema"`
	Currency string `json:"currency"`
	Vehicle  string `json:"vehicle"`
	Build
	Asked *Asked  `json:"asked,omitempty"`
	Curve []Point `json:"curve"`
}

// Proof says how the search knows that nothing better exists.
type Proof struct {
	Combinations Figure            `json:"combinations"`
	Evaluated    Figure            `json:"evaluated"`
	Dropped      map[string]Figure `json:"dropped"`
	GapDB        Figure            `json:"gap_db"`
}

// Build is one ranked build.
type Build struct {
	Rank       int         `json:"rank"`
	Cost       Amount      `json:"cost"`
	Reading    Reading     `json:"reading"`
	Music      Music       `json:"music"`
	Limit      string      `json:"limit"`
	Clamp      Clamp       `json:"clamp"`
	Hookup     string      `json:"hookup"`
	LoadOhm    Figure      `json:"load_ohm"`
	Parts      []Part      `json:"parts"`
	Deals      []Deal      `json:"deals,omitempty"`
	Labour     []Labour    `json:"labour,omitempty"`
	Taxes      []Tax       `json:"taxes,omitempty"`
	Tie        bool        `json:"tie"` // with rank 1
	Difference *Difference `json:"difference,omitempty"`
	Assumed    []string    `json:"assumed"`
	Warnings   []string    `json:"warnings"`
}

// Reading is the level that a meter would show.
type Reading struct {
	DB       Figure `json:"db"`
	BandDB   Figure `json:"band_db,omitempty"`
	Hz       Figure `json:"hz"`
	Place    string `json:"place"`
	Openings string `json:"openings"`
}

// Music is the level of the loudest balanced playback.
type Music struct {
	DB          Figure `json:"db"`
	BandDB      Figure `json:"band_db,omitempty"`
	BassDB      Figure `json:"bass_db"`
	BassBandDB  Figure `json:"bass_band_db,omitempty"`
	FrontDB     Figure `json:"front_db,omitempty"`
	FrontBandDB Figure `json:"front_band_db,omitempty"`
}

// Clamp is what a clamp meter shows at one amplifier output at the peak; the
// watts are real power of all outputs together.
type Clamp struct {
	Volts Figure `json:"volts"`
	Amps  Figure `json:"amps"`
	Ohms  Figure `json:"ohms"`
	Watts Figure `json:"watts"`
}

// Part is one line of the parts list; the price is that of one piece before
// tax, zero for a part that the customer owns.
type Part struct {
	SKU   string `json:"sku"`
	Count int    `json:"count"`
	Price Amount `json:"price"`
	Owned bool   `json:"owned,omitempty"`
	Store string `json:"store,omitempty"` // where there was a choice
}

// Deal is a deal that the cost contains, with all that it saves before tax.
type Deal struct {
	Name   string `json:"name"`
	Times  int    `json:"times"`
	Saving Amount `json:"saving"`
}

// Labour is work that the cost contains; the price is that of one time before
// tax.
type Labour struct {
	Name  string `json:"name"`
	Count int    `json:"count"`
	Price Amount `json:"price"`
}

// Tax is what is taxed at one rate. All sums and taxes add up to the cost.
type Tax struct {
	RatePercent Figure `json:"rate_percent"`
	Sum         Amount `json:"sum"`
	Tax         Amount `json:"tax"`
}

// Difference is this build's level less that of rank 1, with its own band.
type Difference struct {
	DB     Figure `json:"db"`
	BandDB Figure `json:"band_db"`
	Chance Figure `json:"chance,omitempty"` // that the sign is right
}

// Point is one frequency of the curve; its keys are the columns of the CSV.
type Point struct {
	FrequencyHz       Figure `json:"frequency_hz"`
	ImpedanceOhm      Figure `json:"impedance_ohm"`
	ImpedancePhaseDeg Figure `json:"impedance_phase_deg"`
	ExcursionMM       Figure `json:"excursion_mm"`
	PortSpeed         Figure `json:"port_speed_m_s"`
	LevelDB           Figure `json:"level_db"`
	Limit             string `json:"limit"`
}

// Conflict is a set of requirements that no build can meet together.
type Conflict struct {
	Requirements []string `json:"requirements"`
	Unblock      []string `json:"unblock"`
}

// Failure is any error.
type Failure struct {
	Schema   string `json:"schema"`
	Status   int    `json:"status"` // the exit status
	Error    string `json:"error"`
	Problems any    `json:"problems,omitempty"`
}

// Version is the answer of "version".
type Version struct {
	Schema  string `json:"schema"`
	Version string `json:"version"`
	Commit  string `json:"commit,omitempty"`
	Go      string `json:"go"`
}

// Check is the answer of "check".
type Check struct {
	Schema   string `json:"schema"`
	From     string `json:"files,omitempty"` // see Origin
	Parts    int    `json:"parts"`
	Problems any    `json:"problems"`
}

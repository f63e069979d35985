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
	Demo     bool   `json:"demo,omitempty" doc:"true where the catalogue is the invented demo; else left out"`
	From     string `json:"files,omitempty" doc:"which files were taken that nobody named, in words; left out where all were named"`
	Outdated string `json:"outdated,omitempty" doc:"why what readings taught about the car is not used, and what to do; left out where it is used. In predict it is a warning"`
}

// Head is how the answer about a brief begins.
type Head struct {
	Schema   string  `json:"schema"`
	Currency string  `json:"currency" doc:"ISO 4217 code of every sum in the document"`
	Cap      *Amount `json:"cap,omitempty" doc:"the most that a build may cost, everything included; left out where none is stated"`
	Outcome  string  `json:"outcome,omitempty" doc:"optimal: proven best; feasible: found, with proof.gap_db left open; infeasible: proven that no build exists; unknown"`
	Stop     string  `json:"stop,omitempty" doc:"why the search ended: complete, time limit, cancelled or memory limit; versus has neither outcome nor stop"`
	Goal     string  `json:"goal" doc:"reading or music"`
	Vehicle  string  `json:"vehicle" doc:"name of the vehicle"`
	Origin
}

// Pick is the answer of "pick".
type Pick struct {
	Head
	Proof     Proof      `json:"proof" doc:"how it is known that nothing better exists"`
	Rough     bool       `json:"rough_bands,omitempty" doc:"true where it was stopped, and so the bands and differences come from fewer draws than usual; else left out"`
	Builds    []Build    `json:"builds" doc:"ranked; [] when there is none"`
	Conflicts []Conflict `json:"conflicts,omitempty" doc:"only when no build exists: the smallest sets of requirements that block, and what would free each; left out where the search for them was stopped"`

	Answers *Answers `json:"answers,omitempty" doc:"the builds that are answered first beside builds[0], the best by the goal; left out when there is none"`

	BuiltBoxes []Box `json:"built_boxes,omitempty" doc:"of a brief with build_boxes: yes, the boxes that the ranked builds have built; lengths in mm, volumes in L"`
	BoxSearch  *Shop `json:"box_search,omitempty" doc:"how they were searched for: boxes worked out and taken into the catalogue, drivers (in so many a box) looked at and all of them, rounds of refinement, how exact it is, and why nothing can be built"`
}

// Answers are the builds that are answered first.
type Answers struct {
	WithinDB Figure  `json:"within_db" doc:"how far the best value may be below builds[0]"`
	Whole    bool    `json:"whole" doc:"false where a stopped search may have missed a better one"`
	Value    *Answer `json:"best_value,omitempty" doc:"the cheapest build of the catalogue that is within; differences to builds[0] for both goals; build has the keys of one build"`
	Other    *Answer `json:"best_by_the_other_goal,omitempty" doc:"the same of the best build by music where the goal is reading, and the other way round"`
	Idle     []Kept  `json:"owned_idle,omitempty" doc:"what is owned and builds[0] does not use; left out where all is used"`
	Before   *Before `json:"before,omitempty" doc:"what the owned source does with the front speakers that are in the car; left out where no source is owned"`
}

// Answer is one of them; the differences are to the first build.
type Answer struct {
	Reading *Difference `json:"reading_difference"`
	Music   *Difference `json:"music_difference"`
	Build   Build       `json:"build"`
}

// Kept is an owned part without a use, and what keeping it would be like.
type Kept struct {
	SKU   string  `json:"sku"`
	Count int     `json:"count" doc:"pieces that builds[0] does not hold"`
	None  bool    `json:"useless,omitempty" doc:"true where no build of the brief has a use for it"`
	Best  *Answer `json:"best,omitempty" doc:"the loudest build that uses it, or all of it where some is used, by the goal, as best_value is given; left out where there is none, or it was not looked for"`
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
	Asked *Asked  `json:"asked,omitempty" doc:"as for why; left out under --volts"`
	Curve []Point `json:"curve" doc:"lowest frequency first; the same keys are the columns of --curve"`
}

// Proof says how the search knows that nothing better exists.
type Proof struct {
	Combinations Figure            `json:"combinations" doc:"how many builds the catalogue could make; where shops have to be chosen, once for each set of shops that was searched"`
	Evaluated    Figure            `json:"evaluated" doc:"how many of them were computed"`
	Dropped      map[string]Figure `json:"dropped" doc:"{reason: count} of the others; with evaluated they add up to combinations; counts may exceed 2^53. Reasons: REASONS"`
	GapDB        Figure            `json:"gap_db,omitempty" doc:"by how much an unseen build could still be louder; 0: none can; left out where the outcome is unknown"`
}

// Build is one ranked build.
type Build struct {
	Rank       int         `json:"rank" doc:"from 1"`
	Cost       Amount      `json:"cost" doc:"all in, tax included"`
	Reading    Reading     `json:"reading" doc:"the highest level on a meter, half the width of its 90 % interval, its frequency, where the meter stands and what is open"`
	Music      Music       `json:"music" doc:"the loudest balanced playback; what the bass reaches over the bands from 31.5 to 80 Hz, the wanted lift included; what the front reaches, left out where nothing drives it; each with half the width of its 90 % interval"`
	Limit      string      `json:"limit" doc:"what keeps the reading from being higher"`
	Clamp      Clamp       `json:"clamp" doc:"what meters show at the peak: volts, amps and ohms at one output, watts of all together"`
	Hookup     string      `json:"hookup" doc:"the wiring in words"`
	LoadOhm    Figure      `json:"load_ohm" doc:"nominal load at one output"`
	Parts      []Part      `json:"parts" doc:"price of one piece before tax, 0 for a part that the customer owns; owned only for these; store where a part could be bought at several"`
	Deals      []Deal      `json:"deals,omitempty" doc:"deals in the cost, with all that they save before tax; left out where there are none"`
	Labour     []Labour    `json:"labour,omitempty" doc:"work in the cost, price of one time before tax; left out where there is none"`
	Taxes      []Tax       `json:"taxes,omitempty" doc:"what is taxed at each rate; all sums and taxes add up to the cost"`
	Tie        bool        `json:"tie" doc:"true where the difference to rank 1 lies within its band and is not above 1 dB, about what a listener notices"`
	Difference *Difference `json:"difference,omitempty" doc:"this build's level less that of rank 1, half the width of its 90 % interval, and how likely its sign is right (0 to 1); not on rank 1"`
	Assumed    []string    `json:"assumed" doc:"what no card or file states and was assumed"`
	Warnings   []string    `json:"warnings" doc:"what to look at before buying"`
	Refused    string      `json:"not_confirmed,omitempty" doc:"why a second look by the rules refuses this build, which is a fault of the program; left out where it is confirmed"`
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

// Clamp is what meters show at one amplifier output at the peak.
type Clamp struct {
	Volts Figure `json:"volts"`
	Amps  Figure `json:"amps"`
	Ohms  Figure `json:"ohms"`
	Watts Figure `json:"watts"` // of all outputs together
}

// Part is one line of the parts list.
type Part struct {
	SKU   string `json:"sku"`
	Count int    `json:"count"`
	Price Amount `json:"price"`
	Owned bool   `json:"owned,omitempty"`
	Store string `json:"store,omitempty"`
}

// Deal is a deal that the cost contains.
type Deal struct {
	Name   string `json:"name"`
	Times  int    `json:"times"`
	Saving Amount `json:"saving"`
}

// Labour is work that the cost contains.
type Labour struct {
	Name  string `json:"name"`
	Count int    `json:"count"`
	Price Amount `json:"price"`
}

// Tax is what is taxed at one rate.
type Tax struct {
	RatePercent Figure `json:"rate_percent"`
	Sum         Amount `json:"sum"`
	Tax         Amount `json:"tax"`
}

// Difference is a level less that of another build, with its own band.
type Difference struct {
	DB     Figure `json:"db"`
	BandDB Figure `json:"band_db"`
	Chance Figure `json:"chance,omitempty"`
}

// Point is one frequency of the curve.
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
	Status   int    `json:"status" doc:"the exit status: 1 bad input, 2 wrong usage, 3 no build exists"`
	Error    string `json:"error" doc:"what is wrong"`
	Problems any    `json:"problems,omitempty" doc:"as for check, where files are at fault"`
}

// Version is the answer of "version".
type Version struct {
	Schema  string `json:"schema"`
	Version string `json:"version" doc:"of the program"`
	Commit  string `json:"commit,omitempty" doc:"that it was built from"`
	Go      string `json:"go" doc:"that built it"`
}

// Check is the answer of "check".
type Check struct {
	Schema   string `json:"schema"`
	From     string `json:"files,omitempty"` // see Origin
	Parts    int    `json:"parts" doc:"how many parts the catalogue holds"`
	Problems any    `json:"problems" doc:"[{severity, file, line, column, text, summary, remedy, related}]"`
}

package record

import (
	"loudfor/catalog/readings"
	"loudfor/optimizer/learning"
)

// The shapes of the meter commands.
const (
	MeterListSchema    = "loudfor/meter-list/1"
	MeterCompareSchema = "loudfor/meter-compare/1"
	MeterLearnSchema   = "loudfor/meter-learn/1"
	MeterPlanSchema    = "loudfor/meter-plan/1"
	MeterAddSchema     = "loudfor/meter-add/1"
	MeterRemoveSchema  = "loudfor/meter-remove/1"
)

// MeterReading is one reading as it was taken; what was not measured is left
// out.
type MeterReading struct {
	ID        int64   `json:"id,omitempty"`
	Date      string  `json:"date,omitempty"`
	Vehicle   string  `json:"vehicle"`
	Build     string  `json:"build,omitempty"`
	Quote     int64   `json:"quote,omitempty"`
	Place     string  `json:"place"`
	Openings  string  `json:"openings"`
	Hz        Figure  `json:"hz"`
	DB        Figure  `json:"db"`
	Tolerance *Figure `json:"tolerance_db,omitempty"`
	Volts     *Figure `json:"clamp_volts,omitempty"`
	Amps      *Figure `json:"clamp_amps,omitempty"`
	Supply    *Figure `json:"supply_volts,omitempty"`
	Note      string  `json:"note,omitempty"`
}

// MeterList is the answer of "meter list".
type MeterList struct {
	Schema   string         `json:"schema"`
	Readings []MeterReading `json:"readings"`
}

// MeterAdd is the answer of "meter add".
type MeterAdd struct {
	Schema string  `json:"schema"`
	Book   string  `json:"book"`
	IDs    []int64 `json:"ids"`   // of all readings, in their order
	Known  []int64 `json:"known"` // of these, those that were in the book before
}

// MeterRemove is the answer of "meter remove".
type MeterRemove struct {
	Schema string  `json:"schema"`
	Book   string  `json:"book"`
	IDs    []int64 `json:"ids"`
}

func stated(value float64) *Figure {
	if value == 0 {
		return nil
	}
	f := Number(value)
	return &f
}

func ofReading(r readings.Reading) MeterReading {
	return MeterReading{ID: r.ID, Date: r.Date.String(), Vehicle: r.Vehicle, Build: r.Build, Quote: r.Quote, Place: r.Place, Openings: r.Openings,
		Hz: Number(r.Frequency), DB: Level(r.Level), Tolerance: stated(r.Tolerance), Volts: stated(r.Volts), Amps: stated(r.Amps), Supply: stated(r.Supply), Note: r.Note}
}

// OfReadings is the document of a list.
func OfReadings(list []readings.Reading) MeterList {
	doc := MeterList{Schema: MeterListSchema, Readings: []MeterReading{}}
	for _, r := range list {
		doc.Readings = append(doc.Readings, ofReading(r))
	}
	return doc
}

// MeterCompare is the answer of "meter compare".
type MeterCompare struct {
	Schema  string `json:"schema"`
	Vehicle string `json:"vehicle"`
	Origin
	Builds   []string        `json:"builds"`
	Readings []MeterCompared `json:"readings"`
	Curves   []MeterCurve    `json:"curves"`
	Findings []MeterFinding  `json:"findings"`
	Causes   []MeterCause    `json:"causes"`
}

// MeterCompared is a reading beside its prediction.
type MeterCompared struct {
	MeterReading
	BuildNumber  int     `json:"build_number"`
	PredictedDB  Figure  `json:"predicted_db"`
	OffDB        Figure  `json:"off_db"`
	BandDB       Figure  `json:"band_db"`
	Outside      bool    `json:"outside"`
	PredictedOhm *Figure `json:"predicted_ohm,omitempty"`
	FullVolts    *Figure `json:"full_volts,omitempty"`
	FullVA       *Figure `json:"full_va,omitempty"`
}

// MeterCurve is several tones at one place.
type MeterCurve struct {
	Place       string  `json:"place"`
	Openings    string  `json:"openings"`
	Tones       int     `json:"tones"`
	OffDB       Figure  `json:"off_db"`
	PeakHz      *Figure `json:"peak_hz,omitempty"`
	PredictedHz *Figure `json:"predicted_peak_hz,omitempty"`
}

// MeterFinding is what stands out.
type MeterFinding struct {
	Kind    string `json:"kind"`
	Words   string `json:"words"`
	Figures string `json:"figures"`
	Points  string `json:"points_to"`
}

// MeterCause is an explanation, the likeliest first.
type MeterCause struct {
	Kind  string `json:"kind"`
	Words string `json:"words"`
	Check string `json:"check"`
	// Gain is the logarithm of how much likelier than ordinary errors alone
	// it makes the readings, its penalty paid.
	Gain    Figure   `json:"log_likelihood_gain"`
	Told    bool     `json:"told"`
	Figures []string `json:"figures"`
}

// OfCompare is the document of a comparison.
func OfCompare(vehicle string, from Origin, builds []string, list []readings.Reading, prior *learning.Fit, causes []learning.Cause) MeterCompare {
	doc := MeterCompare{Schema: MeterCompareSchema, Vehicle: vehicle, Origin: from, Builds: orEmpty(builds), Readings: []MeterCompared{}, Curves: []MeterCurve{}, Findings: []MeterFinding{}, Causes: []MeterCause{}}
	for i, c := range prior.Compare() {
		doc.Readings = append(doc.Readings, MeterCompared{MeterReading: ofReading(list[i]), BuildNumber: prior.Study.Readings[i].Case + 1,
			PredictedDB: Level(c.Expected.DB), OffDB: Level(c.OffDB), BandDB: Level(c.Band), Outside: c.Outside,
			PredictedOhm: stated(c.Expected.Ohms), FullVolts: stated(c.FullVolts), FullVA: stated(c.FullWatts)})
	}
	for _, c := range prior.Curves() {
		doc.Curves = append(doc.Curves, MeterCurve{Place: c.Place, Openings: c.Openings, Tones: len(c.Readings), OffDB: Level(c.Off), PeakHz: stated(c.Measured), PredictedHz: stated(c.Predicted)})
	}
	for _, f := range prior.Findings() {
		doc.Findings = append(doc.Findings, MeterFinding{f.Kind.Key(), f.Words, f.Figures, f.Points})
	}
	told := len(learning.Told(causes))
	for i, c := range causes {
		doc.Causes = append(doc.Causes, MeterCause{Kind: c.Kind.Key(), Words: c.Words, Check: c.Check, Gain: Level(c.Gain), Told: i < told, Figures: orEmpty(c.Figures)})
	}
	return doc
}

// MeterLearn is the answer of "meter learn".
type MeterLearn struct {
	Schema  string `json:"schema"`
	Vehicle string `json:"vehicle"`
	Origin
	Readings    int              `json:"readings"`
	Parameters  []MeterParameter `json:"parameters"`
	LeaveOneOut *Figure          `json:"leave_one_out_db,omitempty"`
	Widened     Figure           `json:"widened"`
	Each        []MeterLeft      `json:"each"`
	Bands       []MeterBand      `json:"bands"`
	Written     string           `json:"written,omitempty"`
}

// MeterParameter is one thing that was fitted; spreads are one standard
// deviation.
type MeterParameter struct {
	Name         string `json:"name"`
	Unit         string `json:"unit,omitempty"`
	Before       Figure `json:"before"`
	SpreadBefore Figure `json:"spread_before"`
	Now          Figure `json:"now"`
	Spread       Figure `json:"spread"`
	Left         Figure `json:"left"`
	Verdict      string `json:"verdict"`
	By           string `json:"by,omitempty"`
}

// MeterLeft is a reading foretold by the others.
type MeterLeft struct {
	OffDB    Figure `json:"off_db"`
	Expected Figure `json:"expected_db"`
	Weight   Figure `json:"weight"`
	Outlier  bool   `json:"outlier"`
}

// MeterBand is what is foretold before and after.
type MeterBand struct {
	Place      string `json:"place"`
	Openings   string `json:"openings"`
	Hz         Figure `json:"hz"`
	BeforeDB   Figure `json:"before_db"`
	BeforeBand Figure `json:"before_band_db"`
	NowDB      Figure `json:"now_db"`
	NowBand    Figure `json:"now_band_db"`
}

// OfLearn is the document of what was learned.
func OfLearn(vehicle string, from Origin, f *learning.Fit, targets []learning.Setting, before, after []learning.Estimate, written string) MeterLearn {
	doc := MeterLearn{Schema: MeterLearnSchema, Vehicle: vehicle, Origin: from, Readings: len(f.Study.Readings), Parameters: []MeterParameter{}, Widened: Number(f.Cross.Widened), Each: []MeterLeft{}, Bands: []MeterBand{}, Written: written}
	if f.Cross.RMS > 0 {
		rms := Level(f.Cross.RMS)
		doc.LeaveOneOut = &rms
	}
	for _, p := range f.Parameters() {
		doc.Parameters = append(doc.Parameters, MeterParameter{p.Name, p.Unit, Number(p.Before), Number(p.SpreadBefore), Number(p.After), Number(p.SpreadAfter), Number(p.Left), p.Verdict.String(), p.By})
	}
	outlier := map[int]bool{}
	for _, i := range f.Outliers() {
		outlier[i] = true
	}
	for i, l := range f.Cross.Each {
		doc.Each = append(doc.Each, MeterLeft{Level(l.Error), Level(l.Sigma), Number(l.Weight), outlier[i]})
	}
	for i, t := range targets {
		doc.Bands = append(doc.Bands, MeterBand{t.Place, t.Openings, Number(t.Hz), Level(before[i].DB), Level(before[i].Band()), Level(after[i].DB), Level(after[i].Band())})
	}
	return doc
}

// MeterPlan is the answer of "meter plan".
type MeterPlan struct {
	Schema  string `json:"schema"`
	Vehicle string `json:"vehicle"`
	Origin
	For    string      `json:"for"`
	BandDB Figure      `json:"band_db"`
	Steps  []MeterStep `json:"steps"`
}

// MeterStep is one reading to take.
type MeterStep struct {
	Place    string `json:"place"`
	Openings string `json:"openings"`
	Hz       Figure `json:"hz"`
	BandDB   Figure `json:"band_db"`
}

// OfPlan is the document of a plan.
func OfPlan(vehicle string, from Origin, targets string, before float64, steps []learning.Step) MeterPlan {
	doc := MeterPlan{Schema: MeterPlanSchema, Vehicle: vehicle, Origin: from, For: targets, BandDB: Level(before), Steps: []MeterStep{}}
	for _, s := range steps {
		doc.Steps = append(doc.Steps, MeterStep{s.Setting.Place, s.Setting.Openings, Number(s.Setting.Hz), Level(s.Band)})
	}
	return doc
}

// MeterHelp is the part of Help about readings.
const MeterHelp = `
loudfor meter list --json
  schema        "loudfor/meter-list/1"
  readings      [{id, date, vehicle, build, quote, place, openings, hz, db,
                tolerance_db, clamp_volts, clamp_amps, supply_volts, note}]; what
                was not measured is left out

loudfor meter add --json
  schema        "loudfor/meter-add/1"
  book          the job book
  ids           numbers of the readings in it
  known         those of them that were in it before, and were not added again

loudfor meter remove --json
  schema        "loudfor/meter-remove/1"
  book, ids     the job book, and the readings that it has no more

loudfor meter compare --json
  schema        "loudfor/meter-compare/1"
  vehicle, demo as above
  builds        what was metered, in words
  readings      those of meter list, and build_number from 1, predicted_db, off_db
                (measured less predicted), band_db (half of the 90 % interval of
                off_db), outside; with a clamp predicted_ohm, full_volts and
                full_va at full output
  curves        [{place, openings, tones, off_db, peak_hz, predicted_peak_hz}]
  findings      [{kind, words, figures, points_to}]
  causes        [{kind, words, check, log_likelihood_gain, told, figures}], the
                likeliest first; gain over ordinary errors, penalty paid

loudfor meter learn --json
  schema        "loudfor/meter-learn/1"
  vehicle, demo as above
  readings      how many
  parameters    [{name, unit, before, spread_before, now, spread, left, verdict,
                by}]: spreads are one standard deviation, left is the share of
                it that remains
  leave_one_out_db  rms; not there with too few readings
  widened       factor on all bands in this car
  each          of each reading {off_db, expected_db, weight, outlier}: foretold
                by the others
  bands         [{place, openings, hz, before_db, before_band_db, now_db,
                now_band_db}]
  written       the vehicle file, if one was written

loudfor meter plan --json
  schema        "loudfor/meter-plan/1"
  vehicle, demo as above
  for           what is to be foretold
  band_db       half of the 90 % interval now, mean
  steps         [{place, openings, hz, band_db}]: band_db once it is taken
`

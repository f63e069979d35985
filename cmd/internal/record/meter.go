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
	Readings []MeterReading `json:"readings" doc:"what was not measured is left out"`
}

// MeterAdd is the answer of "meter add".
type MeterAdd struct {
	Schema string  `json:"schema"`
	Book   string  `json:"book" doc:"the job book"`
	IDs    []int64 `json:"ids" doc:"numbers of all readings in it, in their order"`
	Known  []int64 `json:"known" doc:"those of them that were in it before, and were not added again"`
}

// MeterRemove is the answer of "meter remove".
type MeterRemove struct {
	Schema string  `json:"schema"`
	Book   string  `json:"book" doc:"the job book"`
	IDs    []int64 `json:"ids" doc:"the readings that it has no more"`
}

func stated(value float64) *Figure {
	if value == 0 {
		return nil
	}
	return new(Number(value))
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
	Builds   []string        `json:"builds" doc:"what was metered, in words"`
	Readings []MeterCompared `json:"readings" doc:"those of meter list, and"`
	Curves   []MeterCurve    `json:"curves" doc:"several tones at one place"`
	Findings []MeterFinding  `json:"findings" doc:"what stands out"`
	Causes   []MeterCause    `json:"causes" doc:"the likeliest first; the gain over ordinary errors is the logarithm of how much likelier, its penalty paid"`
}

// MeterCompared is a reading beside its prediction.
type MeterCompared struct {
	MeterReading
	BuildNumber  int     `json:"build_number" doc:"from 1"`
	PredictedDB  Figure  `json:"predicted_db" doc:"the prediction"`
	OffDB        Figure  `json:"off_db" doc:"measured less predicted"`
	BandDB       Figure  `json:"band_db" doc:"half of the 90 % interval of off_db"`
	Outside      bool    `json:"outside" doc:"of it"`
	PredictedOhm *Figure `json:"predicted_ohm,omitempty" doc:"with a clamp"`
	FullVolts    *Figure `json:"full_volts,omitempty" doc:"with a clamp, at full output"`
	FullVA       *Figure `json:"full_va,omitempty" doc:"the same"`
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
	Kind    string   `json:"kind"`
	Words   string   `json:"words"`
	Check   string   `json:"check"`
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
	Readings    int              `json:"readings" doc:"how many"`
	Parameters  []MeterParameter `json:"parameters" doc:"what was fitted: spreads are one standard deviation, left is the share of it that remains"`
	LeaveOneOut *Figure          `json:"leave_one_out_db,omitempty" doc:"rms; not there with too few readings"`
	Widened     Figure           `json:"widened" doc:"factor on all bands in this car"`
	Each        []MeterLeft      `json:"each" doc:"of each reading, foretold by the others"`
	Bands       []MeterBand      `json:"bands" doc:"what is foretold before and after"`
	Written     string           `json:"written,omitempty" doc:"the vehicle file, if one was written"`
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
		doc.LeaveOneOut = new(Level(f.Cross.RMS))
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
	For    string      `json:"for" doc:"what is to be foretold"`
	BandDB Figure      `json:"band_db" doc:"half of the 90 % interval now, mean"`
	Steps  []MeterStep `json:"steps" doc:"band_db once it is taken"`
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

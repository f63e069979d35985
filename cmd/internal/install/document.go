package install

import (
	"loudfor/cmd/internal/record"
	"loudfor/cmd/internal/sheet"
	"loudfor/cmd/internal/wiring"
)

// The JSON form of a plan: its figures, then its words. The type names are those
// of the document's parts.

// Schema names the shape.
const Schema = "loudfor/sheet/1"

// Document is the answer of "sheet": its figures, then its words.
type Document struct {
	Schema   string        `json:"schema"`
	Currency string        `json:"currency"`
	Vehicle  string        `json:"vehicle"`
	Demo     bool          `json:"demo,omitempty"`
	Build    record.Build  `json:"build" doc:"as for pick"`
	Wiring   docWiring     `json:"wiring" doc:"the drawn network on one bass amplifier; plus and minus are nodes: what has the same number is connected"`
	Power    docPower      `json:"power" doc:"cable, fuse and alternator; branches only with several amplifiers"`
	Gain     docGain       `json:"gain" doc:"the setting of the level knobs: volts at one output"`
	Filters  docFilters    `json:"filters" doc:"what is not needed, or not in the build, is 0"`
	Expected []docExpected `json:"expected" doc:"for each place and set of openings, at the loudest tone that the filters pass; [] on open ground"`
	Fit      []docFit      `json:"fit" doc:"what has to fit"`
	Sections []docSection  `json:"sections" doc:"as printed; a block is a paragraph, a warning, list, steps, a table (its first row the header), or a drawing with caption, text and svg"`
}

// docWiring is the drawn network of the coils on one bass amplifier: what stands
// on the same node is connected.
type docWiring struct {
	Amplifiers int           `json:"amplifiers"`
	Mode       string        `json:"mode"`
	LoadOhm    record.Figure `json:"load_ohm"`
	Outputs    []docPoles    `json:"outputs"`
	Coils      []docPoles    `json:"coils"`
	Points     []docPoint    `json:"points"`
}

// docPoles is an output or a coil between two nodes.
type docPoles struct {
	Output int `json:"output"`           // from 1
	Driver int `json:"driver,omitempty"` // of a coil, from 1
	Coil   int `json:"coil,omitempty"`   // of a coil, from 1
	Plus   int `json:"plus"`
	Minus  int `json:"minus"`
}

// docPoint is a load to check.
type docPoint struct {
	Where     string        `json:"where"`
	LoadOhm   record.Figure `json:"load_ohm"`
	DirectOhm record.Figure `json:"direct_ohm"`
}

// docPower is cable, fuse and alternator.
type docPower struct {
	DemandA     record.Figure `json:"demand_a"`
	RunM        record.Figure `json:"run_m"`
	AreaMM2     record.Figure `json:"cable_mm2"`
	CopperClad  bool          `json:"copper_clad"`
	AmpacityA   record.Figure `json:"ampacity_a"`
	DropV       record.Figure `json:"drop_v"`
	FuseA       record.Figure `json:"fuse_a"`
	Branches    []docBranch   `json:"branches,omitempty"`
	AlternatorA record.Figure `json:"alternator_a,omitempty"`
	ReserveA    record.Figure `json:"reserve_a"`
	NeededA     record.Figure `json:"alternator_needed_a"`
	Short       bool          `json:"short"`
}

// docBranch is the way to one of several amplifiers.
type docBranch struct {
	SKU     string        `json:"sku"`
	AreaMM2 record.Figure `json:"cable_mm2"`
	FuseA   record.Figure `json:"fuse_a"`
}

// docGain is the setting of the level knobs.
type docGain struct {
	ToneHz       record.Figure `json:"tone_hz"`
	ToneDBFS     record.Figure `json:"tone_dbfs"`
	TargetV      record.Figure `json:"target_v"`
	Loads        []docLoad     `json:"loads"`
	FrontToneHz  record.Figure `json:"front_tone_hz,omitempty"`
	FrontTargetV record.Figure `json:"front_target_v,omitempty"`
}

// docLoad is the clean limit into one load.
type docLoad struct {
	Load  string        `json:"load"`
	Ohm   record.Figure `json:"ohm"`
	Volts record.Figure `json:"volts"`
	Watts record.Figure `json:"watts"`
}

// docFilters are the settings of the crossover; a figure that is left out means
// that none is needed.
type docFilters struct {
	LowPassHz  record.Figure `json:"low_pass_hz"`
	HighPassHz record.Figure `json:"front_high_pass_hz,omitempty"`
	BlockerF   record.Figure `json:"front_blocker_f,omitempty"`
	CornerHz   record.Figure `json:"front_blocker_hz,omitempty"`
	SubsonicHz record.Figure `json:"subsonic_hz,omitempty"`
	ExceedsHz  record.Figure `json:"travel_exceeded_below_hz,omitempty"`
	TuningHz   record.Figure `json:"tuning_hz,omitempty"`
}

// docExpected is what meters will show at a place with openings.
type docExpected struct {
	Place     string        `json:"place"`
	Openings  string        `json:"openings"`
	DB        record.Figure `json:"db"`
	BandDB    record.Figure `json:"band_db"`
	Hz        record.Figure `json:"hz"`
	Volts     record.Figure `json:"volts"`
	VoltsBand record.Figure `json:"volts_band"`
	Amps      record.Figure `json:"amps"`
	AmpsBand  record.Figure `json:"amps_band"`
}

// docFit is one thing that has to fit.
type docFit struct {
	What    string `json:"what"`
	Needs   string `json:"needs"`
	Has     string `json:"has"`
	Verdict string `json:"verdict"`
	Bad     bool   `json:"bad,omitempty"`
}

// docSection is a part of the sheet as it is printed.
type docSection struct {
	Title  string     `json:"title"`
	Blocks []docBlock `json:"blocks"`
}

// docBlock has one of its keys.
type docBlock struct {
	Paragraph string     `json:"paragraph,omitempty"`
	Warning   string     `json:"warning,omitempty"`
	List      []string   `json:"list,omitempty"`
	Steps     []string   `json:"steps,omitempty"`
	Table     [][]string `json:"table,omitempty"` // the first row is the header
	Caption   string     `json:"caption,omitempty"`
	Text      string     `json:"text,omitempty"`
	SVG       string     `json:"svg,omitempty"`
}

// Document is the plan as a document.
func (p *Plan) Document() Document {
	build := record.OfPredict(p.Question.Vehicle, p.Build, nil)
	doc := Document{Schema: Schema, Currency: p.Build.Cost.Currency, Vehicle: p.Question.Vehicle.Name, Demo: p.Question.Invented,
		Build: build.Build, Wiring: ofWiring(p), Power: ofPower(&p.Power), Gain: ofGain(&p.Gain), Filters: ofFilters(p),
		Expected: []docExpected{}, Fit: []docFit{}}
	for _, e := range p.Expected {
		doc.Expected = append(doc.Expected, docExpected{Place: e.Place, Openings: e.Openings, DB: record.Level(e.Level), BandDB: record.Level(e.Band), Hz: record.Number(e.Hz),
			Volts: record.Number(e.Volts), VoltsBand: record.Number(e.VoltsBand), Amps: record.Number(e.Amps), AmpsBand: record.Number(e.AmpsBand)})
	}
	for _, c := range p.Fit {
		doc.Fit = append(doc.Fit, docFit(c))
	}
	for _, s := range p.Sheet().Sections {
		doc.Sections = append(doc.Sections, ofSection(s))
	}
	return doc
}

func ofWiring(p *Plan) docWiring {
	d := p.Coils()
	w := docWiring{Amplifiers: max(p.Build.Bass.Amplifiers, 1), Mode: p.Build.Plan.Mode.String(), LoadOhm: record.Number(p.Build.Plan.Load)}
	// Terminals come in pairs: plus, then minus.
	for i := 0; i+1 < len(d.Terminals); i += 2 {
		t := d.Terminals[i]
		poles := docPoles{Output: t.Output + 1, Plus: t.Net, Minus: d.Terminals[i+1].Net}
		if t.Side == wiring.Left {
			w.Outputs = append(w.Outputs, poles)
		} else {
			poles.Driver, poles.Coil = t.Driver+1, t.Coil+1
			w.Coils = append(w.Coils, poles)
		}
	}
	for _, point := range wiring.Points(p.Build.Plan) {
		w.Points = append(w.Points, docPoint{point.Where, record.Number(point.Load), record.Number(point.Coils * p.Build.Bass.Driver.Re)})
	}
	return w
}

func ofPower(w *Power) docPower {
	doc := docPower{DemandA: record.Number(w.Demand), RunM: record.Number(w.Run), AreaMM2: record.Number(w.Cable.Area * 1e6), CopperClad: w.Cable.CopperClad, AmpacityA: record.Number(w.Cable.Ampacity),
		DropV: record.Number(w.Cable.Drop), FuseA: record.Number(w.Fuse), AlternatorA: nonzero(w.Alternator), ReserveA: record.Number(w.Reserve), NeededA: record.Number(w.Needed), Short: w.Short()}
	for _, b := range w.Branches {
		doc.Branches = append(doc.Branches, docBranch{b.Amplifier, record.Number(b.Choice.Area * 1e6), record.Number(b.Fuse)})
	}
	return doc
}

func ofGain(g *Gain) docGain {
	doc := docGain{ToneHz: record.Number(g.Tone), ToneDBFS: record.Number(g.Level), TargetV: record.Number(g.Target), FrontTargetV: nonzero(g.FrontTarget)}
	if g.FrontTarget > 0 {
		doc.FrontToneHz = record.Number(g.FrontTone)
	}
	for _, r := range g.Rows {
		doc.Loads = append(doc.Loads, docLoad{r.Load, record.Number(r.Ohms), record.Number(r.Volts), record.Number(r.Watts)})
	}
	return doc
}

func ofFilters(p *Plan) docFilters {
	f := &p.Filters
	return docFilters{LowPassHz: record.Number(f.LowPass), HighPassHz: nonzero(f.HighPass), BlockerF: nonzero(f.Blocker), CornerHz: nonzero(f.Corner),
		SubsonicHz: nonzero(f.Subsonic.Corner), ExceedsHz: nonzero(f.Subsonic.Exceeds), TuningHz: nonzero(f.Subsonic.Tuning)}
}

// nonzero leaves out what is not there.
func nonzero(v float64) record.Figure {
	if v == 0 {
		return ""
	}
	return record.Number(v)
}

func ofSection(s sheet.Section) docSection {
	doc := docSection{Title: s.Title, Blocks: []docBlock{}}
	for _, block := range s.Blocks {
		var b docBlock
		switch v := block.(type) {
		case sheet.Paragraph:
			b.Paragraph = string(v)
		case sheet.Warning:
			b.Warning = string(v)
		case sheet.List:
			b.List = v
		case sheet.Steps:
			b.Steps = v
		case sheet.Table:
			header := make([]string, len(v.Columns))
			for i, c := range v.Columns {
				header[i] = c.Title
			}
			b.Table = append([][]string{header}, v.Rows...)
		case sheet.Drawing:
			b.Caption, b.Text, b.SVG = v.Caption, v.Text, v.SVG
		}
		doc.Blocks = append(doc.Blocks, b)
	}
	return doc
}

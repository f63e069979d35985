package record

import (
	"strconv"

	"loudfor/catalog"
	"loudfor/cmd/internal/cutlist"
	"loudfor/model/air"
	"loudfor/optimizer"
	"loudfor/optimizer/workshop"
)

// BoxSchema is the shape of the answer of "box".
const BoxSchema = "loudfor/box/1"

// BoxDocument is the answer of "box": a build, its built box, its curve.
type BoxDocument struct {
	Schema   string `json:"schema"`
	Currency string `json:"currency"`
	Vehicle  string `json:"vehicle"`
	Origin
	Box    Box     `json:"box" doc:"the box to build, as one of built_boxes of pick"`
	Build  Build   `json:"build" doc:"the build with the box, as for pick"`
	Curve  []Point `json:"curve" doc:"as for predict"`
	Search *Shop   `json:"search,omitempty" doc:"of a brief: as box_search of pick"`
}

// Box is a built box.
type Box struct {
	SKU         string     `json:"sku" doc:"the name that a build has for it"`
	Type        string     `json:"type" doc:"how it works"`
	Driver      string     `json:"driver" doc:"what it is cut for"`
	Holes       int        `json:"holes" doc:"for so many of them"`
	OutsideMM   [3]Figure  `json:"outside_mm" doc:"[width, depth, height]; the drivers are in the front"`
	InsideMM    [3]Figure  `json:"inside_mm" doc:"the same"`
	ThicknessMM Figure     `json:"thickness_mm" doc:"of the wood"`
	InsideL     Figure     `json:"inside_l" doc:"volume of the empty inside"`
	NetL        Figure     `json:"net_l" doc:"what is left to the air"`
	DriversL    Figure     `json:"drivers_l" doc:"what the drivers take of it"`
	PortL       Figure     `json:"port_l" doc:"what the port takes"`
	BracingL    Figure     `json:"bracing_l" doc:"what the bracing takes"`
	CutoutMM    Figure     `json:"cutout_mm" doc:"of each driver"`
	FreeDepthMM Figure     `json:"free_depth_mm" doc:"of each driver"`
	Port        *BuiltPort `json:"port,omitempty" doc:"of a vented box: width and height of a slot or diameter of a tube"`
	WeightKG    Figure     `json:"weight_kg,omitempty" doc:"of the wood, where the sheet's density is stated"`
	Sheet       string     `json:"sheet" doc:"what it is built of"`
	Sheets      int        `json:"sheets" doc:"what it takes"`
	WastePct    Figure     `json:"waste_percent" doc:"of them"`
	Workshop    string     `json:"workshop" doc:"who builds it"`
	Hours       Figure     `json:"hours" doc:"what it takes"`
	Material    Amount     `json:"material" doc:"what it costs before tax"`
	Work        Amount     `json:"work" doc:"the same"`
	Panels      []Panel    `json:"panels" doc:"the cut list, and where each panel lies on which sheet: x along its length, from its corner"`
	Assumed     []string   `json:"assumed" doc:"what no card or file states and was assumed"`
}

// Description is what the box follows from: all of it stands in the document, so
// that a booked answer can be predicted and cut again.
func (b *Box) Description() catalog.BuiltBox {
	m := func(mm Figure) float64 {
		n, _ := strconv.ParseFloat(string(mm), 64) // the empty Figure is 0
		return n / 1000
	}
	d := catalog.BuiltBox{SKU: b.SKU, Driver: b.Driver, Holes: b.Holes, Sheet: b.Sheet, Workshop: b.Workshop,
		Outside: catalog.Size3{Width: m(b.OutsideMM[0]), Depth: m(b.OutsideMM[1]), Height: m(b.OutsideMM[2])}}
	if p := b.Port; p != nil {
		d.Tube, d.PortLength = m(p.DiameterMM), m(p.LengthMM)
		if d.Tube == 0 {
			d.Slot = m(p.WidthMM)
		}
	}
	return d
}

// BuiltPort is the port of a built box.
type BuiltPort struct {
	WidthMM    Figure `json:"width_mm,omitempty"`
	HeightMM   Figure `json:"height_mm,omitempty"`
	DiameterMM Figure `json:"diameter_mm,omitempty"`
	LengthMM   Figure `json:"length_mm"`
	EndsMM     Figure `json:"end_corrections_mm"`
	TuningHz   Figure `json:"tuning_hz"`
}

// Panel is one panel with its place on the sheets.
type Panel struct {
	Name     string   `json:"name"`
	Mark     string   `json:"mark"`
	LengthMM Figure   `json:"length_mm"`
	WidthMM  Figure   `json:"width_mm"`
	Openings []string `json:"openings"`
	OnSheet  int      `json:"on_sheet"`
	XMM      Figure   `json:"x_mm"`
	YMM      Figure   `json:"y_mm"`
	AlongMM  Figure   `json:"along_x_mm"`
	AcrossMM Figure   `json:"along_y_mm"`
}

// Shop is how built boxes were searched for.
type Shop struct {
	Considered  int    `json:"considered"`
	Offered     int    `json:"offered"`
	Drivers     int    `json:"drivers"`
	AllDrivers  int    `json:"all_drivers"`
	Rounds      int    `json:"rounds"`
	ToleranceDB Figure `json:"tolerance_db"`
	GridDB      Figure `json:"grid_tolerance_db"`
	Why         string `json:"why,omitempty"`
}

// OfBox is the document of a built box; s may be nil.
func OfBox(v catalog.Vehicle, from Origin, b optimizer.Build, box *workshop.Box, s *workshop.Shop, celsius float64) BoxDocument {
	return BoxDocument{Schema: BoxSchema, Currency: b.Cost.Currency, Vehicle: v.Name, Origin: from,
		Box: ofBuilt(box, air.At(celsius)), Build: ofBuild(b), Curve: OfCurve(b.Curve), Search: ofShop(s)}
}

// OfBuilt are the built boxes of ranked builds, each once, and the search for
// them; both empty where no box was to be built.
func OfBuilt(s *workshop.Shop, builds []optimizer.Build, celsius float64) (boxes []Box, search *Shop) {
	if s == nil {
		return nil, nil
	}
	told := map[string]bool{}
	for i := range builds {
		if b := s.Of(&builds[i]); b != nil && !told[b.Part.SKU] {
			told[b.Part.SKU] = true
			boxes = append(boxes, ofBuilt(b, air.At(celsius)))
		}
	}
	return boxes, ofShop(s)
}

func ofShop(s *workshop.Shop) *Shop {
	if s == nil {
		return nil
	}
	doc := &Shop{Considered: s.Considered, Offered: len(s.Boxes), Drivers: s.Pairs, AllDrivers: s.AllPairs, Rounds: s.Rounds,
		ToleranceDB: Level(workshop.Tolerance), GridDB: Level(workshop.GridTolerance)}
	if s.Why != nil {
		doc.Why = s.Why.Error()
	}
	return doc
}

func ofBuilt(b *workshop.Box, a air.Air) Box {
	j, d := b.Joinery, b.Joinery.Design
	mm := func(m float64) Figure { return Number(1000 * m) }
	litres := mm
	three := func(s [3]float64) [3]Figure { return [3]Figure{mm(s[0]), mm(s[1]), mm(s[2])} }
	doc := Box{
		SKU: b.Part.SKU, Type: j.Enclosure.Kind.String(), Driver: b.Driver.SKU, Holes: d.Drivers,
		OutsideMM: three(d.Outside), InsideMM: three(j.Inside), ThicknessMM: mm(d.Thickness),
		InsideL: litres(j.Gross), NetL: litres(j.Net(j.Displacement())), DriversL: litres(float64(d.Drivers) * j.Displacement()),
		PortL: litres(j.PortAir + j.PortBox), BracingL: litres(j.Bracing),
		CutoutMM: mm(b.Part.Enclosure.Cutout), FreeDepthMM: mm(j.Room),
		Sheet: b.Sheet.SKU, Sheets: b.Nesting.Sheets, WastePct: Number(100 * b.Nesting.Waste()),
		Workshop: b.Workshop.SKU, Hours: Number(b.Hours), Material: money(b.Material), Work: money(b.Work),
		Panels: []Panel{}, Assumed: orEmpty(j.Assumed),
	}
	if b.Weight > 0 {
		doc.WeightKG = Number(b.Weight)
	}
	if d.Vented() {
		p := j.Enclosure.Port
		doc.Port = &BuiltPort{LengthMM: mm(p.Length), EndsMM: mm(p.EndCorrection()), TuningHz: Number(cutlist.Tuning(b, a))}
		if d.Tube > 0 {
			doc.Port.DiameterMM = mm(d.Tube)
		} else {
			doc.Port.WidthMM, doc.Port.HeightMM = mm(p.Width), mm(p.Height)
		}
	}
	marks := cutlist.Marks(b)
	for i, p := range j.Panels {
		openings := []string{}
		for _, o := range p.Openings {
			openings = append(openings, o.String())
		}
		at := b.Nesting.Placed[i]
		doc.Panels = append(doc.Panels, Panel{Name: p.Name, Mark: marks[i], LengthMM: mm(p.Length), WidthMM: mm(p.Width), Openings: openings,
			OnSheet: at.Sheet + 1, XMM: mm(at.X), YMM: mm(at.Y), AlongMM: mm(at.Length), AcrossMM: mm(at.Width)})
	}
	return doc
}

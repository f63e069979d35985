package workshop

import (
	"bytes"
	"context"
	"errors"
	"math"
	"slices"
	"testing"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	"loudfor/catalog"
	"loudfor/catalog/demo"
	"loudfor/model/bass"
	"loudfor/model/joinery"
	"loudfor/optimizer"
	"loudfor/optimizer/setting"
)

// shopProblem is a brief of the demo with boxes built.
func shopProblem(t testing.TB, name string) optimizer.Problem {
	t.Helper()
	parts, report := catalog.LoadFS(demo.FS, []string{demo.Parts})
	if err := report.Err(); err != nil {
		t.Fatal(err)
	}
	cars, report := catalog.LoadVehiclesFS(demo.FS, demo.Vehicles)
	if err := report.Err(); err != nil {
		t.Fatal(err)
	}
	brief, report := catalog.LoadBriefFS(demo.FS, demo.Briefs+"/"+name+".yaml")
	if err := report.Err(); err != nil {
		t.Fatal(err)
	}
	brief.BuildBoxes = true
	car, report := catalog.CheckBrief(brief, parts, cars)
	if err := report.Err(); err != nil {
		t.Fatal(err)
	}
	return optimizer.Problem{Catalogue: parts, Brief: brief, Vehicle: car, Top: 3, Bare: true}
}

func picked(t testing.TB, p optimizer.Problem) optimizer.Result {
	t.Helper()
	r, err := optimizer.Pick(context.Background(), p)
	if err != nil {
		t.Fatal(err)
	}
	return r
}

func stocked(t testing.TB, p optimizer.Problem) *Shop {
	t.Helper()
	s, err := Stock(context.Background(), p)
	if err != nil {
		t.Fatal(err)
	}
	return s
}

// The best build with built boxes is never behind the best without; the search
// proves it, and its box is not beaten by any of a grid that is finer than all
// that the refinement used, in the same space, for no more money: neither with
// the same drive by one of volume and tuning, sealed or ported.
func TestNeverWorse(t *testing.T) {
	for _, name := range []string{"250-reading", "1500-one-shop", "800-music"} {
		p := shopProblem(t, name)
		p.Brief.LowestNote = catalog.AnyNote // under the default some brief buys its box
		without := picked(t, p)
		s := stocked(t, p)
		if s.Why != nil || len(s.Boxes) == 0 {
			t.Fatalf("%s: %v", name, s.Why)
		}
		p.Catalogue = s.Catalogue
		with := picked(t, p)
		if with.Outcome != optimizer.Optimal {
			t.Fatalf("%s: %v", name, with.Outcome)
		}
		best, before := &with.Builds[0], &without.Builds[0]
		if best.Objective < before.Objective || best.Objective == before.Objective && best.Cost.Minor > before.Cost.Minor {
			t.Errorf("%s: %.3f dB for %v with built boxes, %.3f dB for %v without", name, best.Objective, best.Cost, before.Objective, before.Cost)
		}
		box := s.Of(best)
		if box == nil {
			t.Errorf("%s: the best build has no built box, so nothing is tested", name)
			continue
		}
		if !long() {
			continue
		}
		q := shopProblem(t, name)
		q.Brief.LowestNote = catalog.AnyNote
		b, err := newBench(q)
		if err != nil {
			t.Fatal(err)
		}
		j, of, ok := b.job(best)
		if !ok || best.Bass.Boxes != 1 {
			continue // several boxes share the space: no grid of single ones says anything
		}
		levels, err := b.hear(of, box.Joinery, []bass.Drive{j.d})
		if err != nil {
			t.Fatal(err)
		}
		bassLevel := best.Reading.DB
		if p.Brief.Goal == catalog.GoalMusic {
			bassLevel = best.Music.Bass
		}
		if math.Abs(levels[0]-bassLevel) > 1e-6 {
			t.Errorf("%s: the bench hears %.4f dB, the search %.4f dB", name, levels[0], bassLevel)
		}
		if best.Music.FrontLimits && p.Brief.Goal == catalog.GoalMusic {
			continue // more bass is worth nothing there
		}
		all, _ := b.trials(of, []bass.Drive{j.d}, grid{volumes: 24, slots: 8, tunings: 16})
		beaten := 0
		for _, x := range all {
			if x.price() <= box.Part.Price.Minor && x.levels[0] > levels[0]+GridTolerance {
				beaten++
			}
		}
		if beaten > 0 {
			t.Errorf("%s: %d of %d boxes of the grid beat the refined one", name, beaten, len(all))
		}
	}
}

// Every box fits the space, the weight, the stock and the shops, costs what its
// sheets and hours cost, and is made again from its description alone.
func TestBoxesKeepTheRules(t *testing.T) {
	p := shopProblem(t, "250-reading")
	p.Brief.BoxWeight = 9
	p.Brief.Stores = []string{"Dunmarrow Audio"}
	panels := *p.Catalogue.Part("DM-MDF18P")
	panels.Stock = 2
	p.Catalogue = p.Catalogue.With(&panels)
	s := stocked(t, p)
	if len(s.Boxes) == 0 {
		t.Fatal(s.Why)
	}
	for _, b := range s.Boxes {
		out := []float64{b.Description.Outside.Width, b.Description.Outside.Depth, b.Description.Outside.Height}
		if !fitsAnyhow(out, []float64{p.Brief.Space.Width, p.Brief.Space.Depth, p.Brief.Space.Height}) {
			t.Errorf("%s: %v does not fit %v", b.Part.SKU, out, p.Brief.Space)
		}
		if !(b.Weight > 0) || b.Weight > 9 {
			t.Errorf("%s weighs %g kg", b.Part.SKU, b.Weight)
		}
		if b.Sheet.SKU == "DM-MDF18P" && (b.Nesting.Sheets > 2 || b.Part.Stock != 2/b.Nesting.Sheets) {
			t.Errorf("%s takes %d of 2 sheets, and there are %d", b.Part.SKU, b.Nesting.Sheets, b.Part.Stock)
		}
		if b.Part.Store != "Dunmarrow Audio" {
			t.Errorf("%s is sold by %q", b.Part.SKU, b.Part.Store)
		}
		again, err := Make(p.Catalogue, &p.Brief, b.Description)
		if err != nil {
			t.Fatalf("%s: %v", b.Part.SKU, err)
		}
		again.Part.Stock = b.Part.Stock // of the sheet, which Make does not ask
		if diff := cmp.Diff(b.Part, again.Part); diff != "" {
			t.Errorf("%s made again (-first +second):\n%s", b.Part.SKU, diff)
		}
	}
}

// Boxes that are built go through the opening of the boot, and use what it
// leaves: the box of the smaller car is no copy of that of the larger one.
func TestBoxesGoThroughTheBoot(t *testing.T) {
	free := shopProblem(t, "250-reading")
	tight := free
	tight.Vehicle.Boot = [2]float64{0.60, 0.36}
	for _, b := range stocked(t, tight).Boxes {
		out := []float64{b.Description.Outside.Width, b.Description.Outside.Depth, b.Description.Outside.Height}
		slices.Sort(out)
		if out[0] > 0.36+1e-9 || out[1] > 0.60+1e-9 {
			t.Errorf("%s: %v does not go through %v", b.Part.SKU, out, tight.Vehicle.Boot)
		}
	}
	tight.Vehicle.Boot = [2]float64{0.60, 0.05}
	if s := stocked(t, tight); len(s.Boxes) > 0 || s.Why == nil {
		t.Errorf("%d boxes through a slit: %v", len(s.Boxes), s.Why)
	}
	s := stocked(t, free)
	wide := 0
	for _, b := range s.Boxes {
		if !setting.Passes(b.Description.Outside, [2]float64{0.60, 0.36}) {
			wide++
		}
	}
	if len(s.Boxes) == 0 || wide == 0 {
		t.Errorf("%d boxes, of which %d would not go through: the opening takes nothing away", len(s.Boxes), wide)
	}
}

// A box stays within one of the sizes if and only if it fits the position and
// goes through.
func TestThrough(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		side := rapid.Custom(func(t *rapid.T) float64 { return float64(rapid.IntRange(1, 9).Draw(t, "decimetres")) / 10 })
		space := joinery.Size{side.Draw(t, "w"), side.Draw(t, "d"), side.Draw(t, "h")}
		opening := [2]float64{side.Draw(t, "across"), side.Draw(t, "up")}
		box := joinery.Size{side.Draw(t, "box w"), side.Draw(t, "box d"), side.Draw(t, "box h")}
		within := func(b, s joinery.Size) bool { return b[0] <= s[0] && b[1] <= s[1] && b[2] <= s[2] }
		got := slices.ContainsFunc(through(space, opening), func(s joinery.Size) bool { return within(box, s) })
		want := within(box, space) && setting.Passes(catalog.Size3{Width: box[0], Depth: box[1], Height: box[2]}, opening)
		if got != want {
			t.Fatalf("%v in %v through %v: %v, want %v", box, space, opening, got, want)
		}
	})
}

func fitsAnyhow(box, space []float64) bool {
	for _, turn := range [6][3]int{{0, 1, 2}, {0, 2, 1}, {1, 0, 2}, {1, 2, 0}, {2, 0, 1}, {2, 1, 0}} {
		if box[turn[0]] <= space[0] && box[turn[1]] <= space[1] && box[turn[2]] <= space[2] {
			return true
		}
	}
	return false
}

// The boxes are the same whatever the number of cores.
func TestSameOnAnyCores(t *testing.T) {
	text := func(workers int) string {
		p := shopProblem(t, "250-reading")
		p.Workers = workers
		var b bytes.Buffer
		if err := catalog.WriteParts(&b, stocked(t, p).Catalogue); err != nil {
			t.Fatal(err)
		}
		return b.String()
	}
	if one, four := text(1), text(4); one != four {
		t.Errorf("(-one core +four):\n%s", cmp.Diff(one, four))
	}
}

// Where nothing can be built the reason has the number that fails, and the
// catalogue is the one that came in.
func TestWhyNothingIsBuilt(t *testing.T) {
	for _, c := range []struct {
		name   string
		change func(*optimizer.Problem)
		want   string
	}{
		{"a space smaller than the driver", func(p *optimizer.Problem) { p.Brief.Space = catalog.Size3{Width: 0.1, Depth: 0.4, Height: 0.4} }, "space"},
		{"sheets smaller than a panel", func(p *optimizer.Problem) {
			for _, sku := range []string{"DM-MDF18", "DM-MDF18P", "DM-PLY15"} {
				part := *p.Catalogue.Part(sku)
				sheet := *part.Sheet
				sheet.Length, sheet.Width = 0.2, 0.2
				part.Sheet = &sheet
				p.Catalogue = p.Catalogue.With(&part)
			}
		}, "sheet"},
		{"a weight that no box has", func(p *optimizer.Problem) { p.Brief.BoxWeight = 0.5 }, "weight"},
		{"no sheet at the shop", func(p *optimizer.Problem) { p.Brief.Stores = []string{"Pell Street Sound"} }, "sheet material"},
		{"no money", func(p *optimizer.Problem) { p.Brief.Cap.Minor = 100 }, "cap"},
	} {
		p := shopProblem(t, "250-reading")
		c.change(&p)
		before := len(p.Catalogue.Parts)
		s := stocked(t, p)
		if s.Why == nil || len(s.Boxes) > 0 || len(s.Catalogue.Parts) != before {
			t.Errorf("%s: %d boxes, %v", c.name, len(s.Boxes), s.Why)
			continue
		}
		if text := s.Why.Error(); !bytes.Contains([]byte(text), []byte(c.want)) {
			t.Errorf("%s: %v", c.name, text)
		}
	}
}

// A context that has ended gives no answer: some of the boxes are none.
func TestStopped(t *testing.T) {
	ctx, stop := context.WithCancel(context.Background())
	stop()
	if _, err := Stock(ctx, shopProblem(t, "250-reading")); !errors.Is(err, context.Canceled) {
		t.Fatal(err)
	}
}

// Price by hand: 18 mm MDF at 46.00 a sheet and 28.00 an hour. The box of six
// panels, two battens and one driver takes 45 + 8 x 5 + 10 = 95 minutes: 44.33. With a
// slot there are 9 boards and 15 minutes more: 115 minutes, 53.67. The small box needs no
// batten: 85 minutes, 39.67 rounded half up.
func TestPrice(t *testing.T) {
	p := shopProblem(t, "250-reading")
	d := catalog.BuiltBox{SKU: "SHOP-1", Driver: "TM-12V", Holes: 1, Sheet: "DM-MDF18", Workshop: "DM-BENCH",
		Outside: catalog.Size3{Width: 0.6, Depth: 0.4, Height: 0.36}}
	slot := d
	slot.Slot, slot.PortLength = 0.05, 0.3
	own := p.Brief
	own.Owned = append(own.Owned[:len(own.Owned):len(own.Owned)], catalog.Mention{SKU: "DM-MDF18", Count: 1})
	area := d
	area.Sheet, area.Outside = "DM-PLY15", catalog.Size3{Width: 0.53, Depth: 0.33, Height: 0.33}
	for _, c := range []struct {
		name           string
		brief          *catalog.Brief
		box            catalog.BuiltBox
		material, work int64
	}{
		{"sealed", &p.Brief, d, 4600, 4433},
		{"slot", &p.Brief, slot, 4600, 5367},
		{"own sheet", &own, d, 0, 4433},
		// 2 x 53 x 33 + 2 x 53 x 30 + 2 x 30 x 30 cm = 0.8478 m2 of 2.9768 at 78.00: 22.2146 rounded up.
		{"by the area", &p.Brief, area, 2222, 3967},
	} {
		b, err := Make(p.Catalogue, c.brief, c.box)
		if err != nil {
			t.Errorf("%s: %v", c.name, err)
			continue
		}
		if b.Material.Minor != c.material || b.Work.Minor != c.work || b.Part.Price.Minor != c.material+c.work || !b.Part.Priced {
			t.Errorf("%s: material %v, work %v, price %v", c.name, b.Material, b.Work, b.Part.Price)
		}
	}
}

// What cannot be made says under which key the mistake is.
func TestFaults(t *testing.T) {
	p := shopProblem(t, "250-reading")
	good := catalog.BuiltBox{SKU: "SHOP-1", Driver: "TM-12V", Holes: 1, Sheet: "DM-MDF18", Workshop: "DM-BENCH",
		Outside: catalog.Size3{Width: 0.6, Depth: 0.4, Height: 0.36}}
	for _, c := range []struct {
		change func(*catalog.BuiltBox)
		key    string
	}{
		{func(b *catalog.BuiltBox) { b.Driver = "TM-99" }, "driver"},
		{func(b *catalog.BuiltBox) { b.Driver = "DM-BENCH" }, "driver"},
		{func(b *catalog.BuiltBox) { b.Sheet = "TM-12V" }, "sheet"},
		{func(b *catalog.BuiltBox) { b.Workshop = "" }, "workshop"},
		{func(b *catalog.BuiltBox) { b.SKU = "TM-12V" }, "sku"},
		{func(b *catalog.BuiltBox) { b.Outside.Height = 0.2 }, "outside"},
		{func(b *catalog.BuiltBox) { b.Outside.Depth = 0.12 }, "driver"},
		{func(b *catalog.BuiltBox) { b.Slot, b.PortLength = 0.05, 3 }, "port_length"},
		{func(b *catalog.BuiltBox) { b.Slot, b.PortLength = 0.005, 0.3 }, "slot"},
		{func(b *catalog.BuiltBox) { b.Sheet, b.Outside.Width = "DM-MDF18P", 1.3 }, "sheet"},
		{func(b *catalog.BuiltBox) { b.Holes = 3 }, "outside"},
	} {
		b := good
		c.change(&b)
		_, err := Make(p.Catalogue, &p.Brief, b)
		fault, ok := err.(*Fault)
		if !ok || fault.Key != c.key {
			t.Errorf("%+v: %v, want a fault of %s", b, err, c.key)
		}
	}
}

// A box whose volume and tuning the simplex can improve is improved: it is not
// the grid alone that finds it.
func TestSimplexGains(t *testing.T) {
	p := shopProblem(t, "250-reading")
	b, err := newBench(p)
	if err != nil {
		t.Fatal(err)
	}
	var of pair
	for _, x := range b.pairs() {
		if x.part.SKU == "TM-12V" && x.n == 1 {
			of = x
		}
	}
	d := b.drives(of, b.affordable(20_000))
	all, why := b.trials(of, []bass.Drive{d[len(d)-1].drive}, coarse)
	if len(all) == 0 {
		t.Fatal(why)
	}
	from := loudest(all, math.MaxInt64)[0]
	got, ok := b.descend(of, d[len(d)-1].drive, from, math.MaxInt64)
	if !ok || got.levels[0] <= from.levels[0] {
		t.Errorf("%.3f dB after %.3f dB", got.levels[0], from.levels[0])
	}
	if r := got.box.Joinery.Design.Rounded(); r != got.box.Joinery.Design {
		t.Errorf("%v is not in whole millimetres", got.box.Joinery.Design)
	}
}

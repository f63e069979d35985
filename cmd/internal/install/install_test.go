package install

import (
	"encoding/json"
	"errors"
	"math"
	"slices"
	"strings"
	"testing"

	"loudfor/catalog"
	"loudfor/cmd/internal/facts"
	"loudfor/cmd/internal/sheet"
	"loudfor/model/preferred"
	"loudfor/model/supply"
	"loudfor/optimizer"
)

// changed is a demo's job whose kit may be changed without touching others.
func changed(t *testing.T, name string) (Job, *catalog.WiringKit) {
	t.Helper()
	j := job(t, name)
	j.Build.Lines = slices.Clone(j.Build.Lines)
	for i, l := range j.Build.Lines {
		if l.Part.Kind == catalog.KindKit {
			part, kit := *l.Part, *l.Part.Kit
			part.Kit = &kit
			j.Build.Lines[i].Part = &part
			return j, &kit
		}
	}
	t.Fatal("no kit")
	return j, nil
}

// What cannot be installed has no sheet, and the number that fails is named.
func TestRefusals(t *testing.T) {
	for _, c := range []struct {
		name   string
		change func(j *Job, k *catalog.WiringKit)
		want   string
	}{
		{"a run of nothing", func(j *Job, _ *catalog.WiringKit) { j.Question.Vehicle.CableRun = 0 }, "cable run 0 m"},
		{"a cable below every table", func(_ *Job, k *catalog.WiringKit) { k.Area = 0.5e-6 }, "KE-K8: cable of 0.5 mm2: thinner than 18 AWG (0.823 mm2)"},
		{"a cable too thin for the current", func(_ *Job, k *catalog.WiringKit) { k.Area = supply.AreaOfGauge(12) },
			"KE-K8: current 30.38 A: a cable of 3.31 mm2 may carry 25 A, and the largest fuse that protects it is 25 A; 6 AWG would do, with a fuse of at most 80 A"},
		{"a wish for a fuse above the cable", func(j *Job, _ *catalog.WiringKit) { j.Wishes.Fuse = 80 }, "KE-K8: fuse of 80 A: the cable of 8.37 mm2 may carry 65 A: at most a fuse of 60 A protects it"},
		{"a wish for a fuse that melts", func(j *Job, _ *catalog.WiringKit) { j.Wishes.Fuse = 20 }, "fuse of 20 A: it melts at the 30 A"},
		{"more drop than amplifiers stand", func(j *Job, _ *catalog.WiringKit) { j.Wishes.Drop = 6 }, "allowed drop 6 V"},
		{"a space smaller than the driver", func(j *Job, _ *catalog.WiringKit) {
			j.Question.Brief.Space = catalog.Size3{Width: 0.95, Depth: 0.2, Height: 0.25}
		}, "space for boxes of 25 cm: of 95 x 20 x 25 cm the second longest side must take the driver's frame of 30.5 cm"},
		{"no amplifier", func(j *Job, _ *catalog.WiringKit) { j.Build.Bass.Amplifier = nil }, "a sheet needs a build"},
	} {
		j, k := changed(t, "250-reading")
		c.change(&j, k)
		if _, err := Of(j); err == nil || !strings.Contains(err.Error(), c.want) {
			t.Errorf("%s: %v, want %q", c.name, err, c.want)
		}
	}
}

// All refusals come at once.
func TestAllRefusalsAtOnce(t *testing.T) {
	j, k := changed(t, "250-reading")
	k.Area = 0.5e-6
	j.Question.Brief.Space = catalog.Size3{Width: 0.2, Depth: 0.2, Height: 0.2}
	_, err := Of(j)
	var r *supply.Refusal
	if !errors.As(err, &r) || !strings.Contains(err.Error(), "0.823 mm2") || !strings.Contains(err.Error(), "space for boxes") {
		t.Errorf("%v", err)
	}
}

// Whatever the kit says, the fuse on the sheet protects its cable; the words say
// which fuse to put in when it is not the kit's.
func TestFuse(t *testing.T) {
	for _, c := range []struct {
		name       string
		fuse, want float64
		says       string
	}{
		{"its own", 40, 40, ""},
		{"too large for the cable", 100, 60, "The 100 A fuse of KE-K8 is not the one to put in: 60 A is."},
		{"too small for the amplifier", 20, 35, "The 20 A fuse of KE-K8 is not the one to put in: 35 A is."},
		{"none", 0, 60, "KE-K8 has no fuse: buy one of 60 A."},
	} {
		j, k := changed(t, "250-reading")
		k.Fuse = c.fuse
		p, err := Of(j)
		if err != nil {
			t.Fatal(err)
		}
		text := written(t, p, sheet.Markdown)
		if p.Power.Fuse != c.want || c.says != "" && !strings.Contains(text, c.says) {
			t.Errorf("%s: %g A, want %g A and the words %q", c.name, p.Power.Fuse, c.want, c.says)
		}
		if p.Power.Fuse > p.Power.Cable.Ampacity*(1+supply.FuseTolerance) {
			t.Errorf("%s: %g A before a cable for %g A", c.name, p.Power.Fuse, p.Power.Cable.Ampacity)
		}
	}
	j := job(t, "250-reading")
	j.Wishes.Fuse = 50
	if p, err := Of(j); err != nil || p.Power.Fuse != 50 {
		t.Errorf("a wish that is right is refused: %v", err)
	}
}

// A build without a kit is told which cable to buy; one with several
// amplifiers has a branch for each, fused above its own fuses and below what
// its cable carries.
func TestCableToBuyAndBranches(t *testing.T) {
	j := job(t, "250-reading")
	j.Build.Lines = slices.DeleteFunc(slices.Clone(j.Build.Lines), func(l optimizer.Line) bool { return l.Part.Kind == catalog.KindKit })
	p, err := Of(j)
	if err != nil {
		t.Fatal(err)
	}
	if p.Power.Cable.Name != "6 AWG" || p.Power.Cable.Drop > supply.DropAdvised || p.Power.Fuse != 35 {
		t.Errorf("to buy: %+v, fuse %g A", p.Power.Cable, p.Power.Fuse)
	}
	if !strings.Contains(written(t, p, sheet.Markdown), "still to be bought") {
		t.Error("nobody is told to buy it")
	}
	two := plan(t, "800-music")
	if len(two.Power.Branches) != 2 {
		t.Fatalf("%d branches", len(two.Power.Branches))
	}
	for i, b := range two.Power.Branches {
		own := two.amplifiers()[i].part.Amplifier.Spec.Fuse
		if b.Fuse < own || b.Fuse > b.Choice.Ampacity*(1+supply.FuseTolerance) {
			t.Errorf("%s: %g A for a cable of %g A and own fuses of %g A", b.Amplifier, b.Fuse, b.Choice.Ampacity, own)
		}
	}
	if len(p.Power.Branches) != 0 {
		t.Error("one amplifier has branches")
	}
}

// The gain by hand: the voltage that makes the rated power in the rated load,
// and into a measured load the divider of the fitted source.
func TestGain(t *testing.T) {
	j := job(t, "250-reading") // KE-M3: 350 W mono at 2 ohm
	j.Wishes.MeasuredLoad = 3.1
	p, err := Of(j)
	if err != nil {
		t.Fatal(err)
	}
	if want := math.Sqrt(350 * 2); math.Abs(p.Gain.Target-want) > 0.01 || p.Gain.Held {
		t.Errorf("target %g V, want %g V", p.Gain.Target, want)
	}
	s := j.Build.Drive().Source
	last := p.Gain.Rows[len(p.Gain.Rows)-1]
	if want := s.OpenVoltage * 3.1 / (3.1 + s.Resistance); last.Load != "measured" || math.Abs(last.Volts-want) > 1e-9 || math.Abs(last.Watts-want*want/3.1) > 1e-9 {
		t.Errorf("measured: %+v, want %g V", last, want)
	}
	for _, r := range p.Gain.Rows {
		if r.Volts < p.Gain.Target {
			t.Errorf("%s: %g V is clean, below the target of %g V", r.Load, r.Volts, p.Gain.Target)
		}
	}
	if p.Gain.FrontTarget != 0 {
		t.Error("the source's front has a gain")
	}
	music := plan(t, "800-music")
	if music.Gain.Level != musicLevel || music.Gain.FrontTarget <= 0 {
		t.Errorf("%+v", music.Gain)
	}
	f := music.Build.Front
	if most := math.Sqrt(f.Given * music.frontLoad()); music.Gain.FrontTarget > most+1e-9 {
		t.Errorf("front at %g V of at most %g V", music.Gain.FrontTarget, most)
	}
}

// Where the drivers give out before the amplifier, they decide.
func TestGainHeldByTheDrivers(t *testing.T) {
	j := job(t, "250-reading")
	j.Build.Curve = slices.Clone(j.Build.Curve)
	for i := range j.Build.Curve {
		j.Build.Curve[i].Limit, j.Build.Curve[i].Volts = 3, 12 // cone travel
	}
	p, err := Of(j)
	if err != nil {
		t.Fatal(err)
	}
	if p.Gain.Target != 12 || !p.Gain.Held || !strings.Contains(written(t, p, sheet.Terminal), "cone travel") {
		t.Errorf("%+v", p.Gain)
	}
}

func TestFilters(t *testing.T) {
	// No high-pass: none is set, and the capacitor that would do, of the nearest preferred
	// value, is in no figure.
	p := plan(t, "250-reading")
	f := &p.Filters
	if w, ok := facts.BlockerWish(p.Question, p.Build); !ok || w.Least != f.HighPass || f.Blocker != 0 || f.Corner != 0 || f.FrontCut != 0 || f.LowPass != usualLowPass {
		t.Errorf("%+v", f)
	}
	if s := f.Subsonic; s.Tuning < 30 || s.Corner <= 0 || s.Corner >= s.Tuning || s.Exceeds >= s.Tuning {
		t.Errorf("a vented box: %+v", s)
	}
	// A high-pass that is there is set where the cones stand the power, and the
	// bass ends there.
	p = plan(t, "music-hatch")
	f = &p.Filters
	if f.Blocker != 0 || f.FrontCut != p.Build.Front.HighPass || f.LowPass != f.FrontCut {
		t.Errorf("%+v", f)
	}
	// A blocker that is in the build is taken as it is.
	j := job(t, "250-reading")
	blocker := &catalog.Part{SKU: "B", Kind: catalog.KindBlocker, Blocker: &catalog.BassBlocker{Capacitance: 220e-6}}
	j.Build.Lines = append(slices.Clone(j.Build.Lines), optimizer.Line{Part: blocker, Count: 1})
	j.Build.Front.HighPass, j.Build.Front.HighPassBy = preferred.Corner(4, 220e-6), "bass blocker B"
	p, err := Of(j)
	if err != nil {
		t.Fatal(err)
	}
	if p.Filters.BlockerSKU != "B" || math.Abs(p.Filters.Corner-180.86) > 0.01 || !strings.Contains(written(t, p, sheet.Markdown), "220 uF in series, one a side") {
		t.Errorf("%+v", p.Filters)
	}
}

func TestFit(t *testing.T) {
	j := job(t, "250-reading")
	part, box := *j.Build.Bass.Part, *j.Build.Bass.Enclosure
	s, e := *part.Subwoofer, *box.Enclosure
	part.Subwoofer, box.Enclosure = &s, &e
	j.Build.Bass.Part, j.Build.Bass.Enclosure = &part, &box
	verdict := func(what string) string {
		t.Helper()
		p, err := Of(j)
		if err != nil {
			t.Fatal(err)
		}
		for _, c := range p.Fit {
			if c.What == what {
				if bad := strings.ToUpper(c.Verdict) == c.Verdict; bad != c.Bad {
					t.Errorf("%s: %q, bad %t", what, c.Verdict, c.Bad)
				}
				if warns := strings.Contains(written(t, p, sheet.Terminal), "not everything fits"); warns != c.Bad {
					t.Errorf("%s: %q and the warning is %t", what, c.Verdict, warns)
				}
				return c.Verdict
			}
		}
		t.Fatalf("nothing is said of %s", what)
		return ""
	}
	expect := func(what, want string) {
		t.Helper()
		if got := verdict(what); got != want {
			t.Errorf("%s: %q, want %q", what, got, want)
		}
	}
	s.Cutout, e.Cutout = 0.280, 0.281
	expect("hole in the baffle", fits)
	s.Cutout = 0.284
	expect("hole in the baffle", misfits)
	s.Cutout = 0.280
	s.BoltCircle = 0.295
	expect("circle of the screws", "drill it")
	e.BoltCircle = 0.295
	expect("circle of the screws", fits)
	e.BoltCircle = 0.290
	expect("circle of the screws", "drill it anew")
	s.Depth, e.Depth = 0.2, 0
	expect("depth behind the baffle", unknown)
	e.Outside = catalog.Size3{Width: 0.52, Depth: 0.44, Height: 0.38}
	expect("through the opening of the boot", unknown)
	j.Question.Vehicle.Boot = [2]float64{0.9, 0.37}
	expect("through the opening of the boot", "DOES NOT GO THROUGH")
	j.Question.Vehicle.Boot = [2]float64{0.38, 0.44} // the two shortest edges, standing
	expect("through the opening of the boot", "goes through")
	j.Question.Vehicle.Boot = [2]float64{}
	j.Build.Bass.Boxes = 3
	expect("space for boxes", misfits)
}

// The JSON says what the sheet says: the drawn network, the fuse, the target.
func TestDocument(t *testing.T) {
	p := complete(t, "1500-one-shop")
	doc := p.Document()
	if _, err := json.Marshal(doc); err != nil {
		t.Fatal(err)
	}
	if doc.Schema != Schema || doc.Power.FuseA.Float() != p.Power.Fuse || len(doc.Expected) != len(p.Expected) || len(doc.Fit) != len(p.Fit) {
		t.Errorf("%+v", doc)
	}
	if got, want := len(doc.Sections), len(p.Sheet().Sections); got != want {
		t.Errorf("%d sections, want %d", got, want)
	}
	for _, s := range doc.Sections {
		for _, b := range s.Blocks {
			if b.Paragraph == "" && b.Warning == "" && b.List == nil && b.Steps == nil && b.Table == nil && b.Text == "" {
				t.Errorf("%s: an empty block", s.Title)
			}
		}
	}
	// Two drivers of two coils, all in parallel: each coil on the output's nodes.
	out := doc.Wiring.Outputs[0]
	if len(doc.Wiring.Coils) != 4 {
		t.Fatalf("%+v", doc.Wiring)
	}
	for _, c := range doc.Wiring.Coils {
		if c.Plus != out.Plus || c.Minus != out.Minus {
			t.Errorf("%+v is not in parallel with %+v", c, out)
		}
	}
}

// The sheet agrees with itself: it meters where its filters pass, names for the bay what
// its parts list has, and advises an alternator for what music takes.
func TestAgreesWithItself(t *testing.T) {
	for _, name := range demos {
		p := complete(t, name)
		passed := p.Passed()
		for _, e := range p.Expected {
			if e.Hz < passed.From || e.Hz > passed.To {
				t.Errorf("%s: %s, %s is metered at %.1f Hz; the filters pass %.1f to %.1f Hz", name, e.Place, e.Openings, e.Hz, passed.From, passed.To)
			}
		}
		text := strings.Join(strings.Fields(written(t, p, sheet.Markdown)), " ")
		if strings.Contains(text, "to add:") {
			t.Errorf("%s: something is to be added that is in no price", name)
		}
		for _, what := range facts.ToAdd(p.Question, p.Build) {
			if !strings.Contains(text, what) {
				t.Errorf("%s: %s is not on the parts list", name, what)
			}
		}
		if wish, ok := facts.BlockerWish(p.Question, p.Build); ok && strings.Count(text, wish.String()) != 2 {
			t.Errorf("%s: filters and parts list name different capacitors", name)
		}
		w := &p.Power
		if advised := strings.Contains(text, "fit an alternator of"); w.Alternator > 0 && advised != (w.Demand/3 > 0.6*w.Alternator-w.Standby) {
			t.Errorf("%s: music takes %.1f A of %.1f A to spare, another alternator advised: %t", name, w.Demand/3, w.Reserve, advised)
		}
		for _, want := range []string{"customer", "job, date", "Handed over", "signature", "those of the amplifier without its drivers"} {
			if !strings.Contains(text, want) {
				t.Errorf("%s: no %q", name, want)
			}
		}
	}
	// A second amplifier needs a block, a kit without a fuse one.
	j := job(t, "250-reading")
	j.Build.Bass.Amplifiers = 2
	if got := facts.ToAdd(j.Question, j.Build); len(got) != 2 || !strings.Contains(got[0], "2 fuses") {
		t.Errorf("two amplifiers: %v", got)
	}
	j = job(t, "250-reading")
	j.Build.Lines = slices.Clone(j.Build.Lines)
	for i, l := range j.Build.Lines {
		if l.Part.Kind == catalog.KindKit {
			part, kit := *l.Part, *l.Part.Kit
			kit.Fuse, part.Kit = 0, &kit
			j.Build.Lines[i].Part = &part
		}
	}
	if got := facts.ToAdd(j.Question, j.Build); len(got) != 2 || !strings.Contains(got[0], "fuse of") {
		t.Errorf("a kit without a fuse: %v", got)
	}
}

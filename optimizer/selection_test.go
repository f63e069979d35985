package optimizer

import (
	"context"
	"fmt"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"

	"loudfor/catalog"
	"loudfor/optimizer/build"
	"loudfor/optimizer/linear"
	"loudfor/optimizer/program"
	"loudfor/optimizer/setting"
	"loudfor/optimizer/testing/generate"
)

// solverTime bounds one call of one solver, which takes seconds: it ends one that
// hangs.
const solverTime = 10 * time.Minute

// solvers are those that are installed; a missing one fails the test where all
// are required.
func solvers(t *testing.T) (found []linear.Solver) {
	t.Helper()
	for _, s := range linear.Solvers() {
		if _, err := exec.LookPath(s.Name); err == nil {
			found = append(found, s)
			continue
		}
		if os.Getenv("LOUDFOR_REQUIRE_TOOLS") == "1" {
			t.Errorf("%s is not installed, and LOUDFOR_REQUIRE_TOOLS=1", s.Name)
		} else {
			t.Logf("%s is not installed: not compared", s.Name)
		}
	}
	if len(found) == 0 {
		t.Skip("no solver is installed: lp_solve, glpsol or cbc")
	}
	return found
}

// solve asks a solver about a program.
func solve(t *testing.T, s linear.Solver, p *linear.Program) linear.Answer {
	t.Helper()
	folder := t.TempDir()
	program, solution := filepath.Join(folder, "program.lp"), filepath.Join(folder, "solution.txt")
	if err := os.WriteFile(program, []byte(p.Text(s.Dialect)), 0o600); err != nil {
		t.Fatal(err)
	}
	ctx, cancel := context.WithTimeout(t.Context(), solverTime)
	defer cancel()
	out, err := exec.CommandContext(ctx, s.Name, s.Arguments(program, solution, solverTime)...).Output()
	text, _ := os.ReadFile(solution)
	a, bad := s.Read(string(out), string(text))
	if bad != nil {
		t.Fatalf("%s: %v (%v)\n%s", s.Name, bad, err, out)
	}
	if a.Status == linear.Stopped {
		t.Fatalf("%s stopped: %v\n%s\n%s", s.Name, err, out, text)
	}
	return a
}

// audit asks one solver both questions.
func audit(t *testing.T, s linear.Solver, sel *program.Selection) (program.Chosen, bool) {
	t.Helper()
	var c program.Chosen
	p := sel.Loudest()
	for range 2 {
		a := solve(t, s, p)
		if a.Status == linear.Infeasible {
			return program.Chosen{}, false
		}
		values, err := p.Exact(a.Values)
		if err != nil {
			t.Fatalf("%s: %v", s.Name, err)
		}
		c = sel.Read(values)
		p = sel.Cheapest(c)
	}
	return c, true
}

// auditable makes one of the generated problems, of 60 to 600 parts.
func (c *cars) auditable(i int) Problem {
	n := 60 + 540*i/19
	car := i % len(c.vehicles)
	p := Problem{
		Catalogue: generate.Catalogue(n, uint64(100+i), []generate.Tightness{generate.Loose, generate.Tight}[i/2%2]),
		Vehicle:   c.vehicles[car], Top: 1, Workers: 2, Bare: true,
		Brief: catalog.Brief{Celsius: 20, FrontWatts: 10, Place: "dash", Openings: c.openings[car], Goal: catalog.Goal(i / 4 % 2), Front: catalog.FrontRule(i % 3),
			BassLift: 6, TaxPPM: int64(i%3) * 37_500,
			Cap: catalog.Money{Minor: []int64{25_000, 40_000, 80_000}[i%3], Currency: generate.Currency}},
	}
	switch i % 5 {
	case 1:
		p.Brief.Stores = []string{"North Counter", "Yard"}
	case 2:
		p.Brief.Owned = []catalog.Mention{{SKU: "AM-00003", Count: 1}, {SKU: "DR-00002", Count: 1}, {SKU: "HU-00001", Count: 1}}
	case 3:
		p.Brief.Must = []catalog.Mention{{SKU: "AM-00002", Count: 1}}
		p.Brief.Never = []catalog.Mention{{SKU: "BX-00001", Count: 1}}
	case 0:
		haggled(&p)
	case 4:
		p.Brief.Space = catalog.Size3{Width: 0.9, Depth: 0.45, Height: 0.45}
		for k, part := range p.Catalogue.Parts {
			if k%7 == 0 {
				part.Stock = 1
			}
		}
	}
	return p
}

// haggled adds deals of every form to each kind of part that a build has
// several of, taxes by kind, and labour.
func haggled(p *Problem) {
	usd := func(minor int64) catalog.Money { return catalog.Money{Minor: minor, Currency: generate.Currency} }
	one := func(part *catalog.Part) []catalog.Mention { return []catalog.Mention{{SKU: part.SKU, Count: 1}} }
	first := map[catalog.Kind]*catalog.Part{}
	for k, part := range p.Catalogue.Parts { // few deals: what they touch is hard to beat
		if first[part.Kind] == nil {
			first[part.Kind] = part
		}
		d := &catalog.Deal{Name: fmt.Sprintf("deal %d", k), Parts: one(part), Limit: catalog.Unlimited}
		switch {
		case k%29 != 0:
			continue
		case part.Kind == catalog.KindSubwoofer:
			d.Form, d.From, d.All, d.Price = catalog.DealFrom, 2, k%2 == 0, usd(part.Price.Minor*4/5)
		case part.Kind == catalog.KindEnclosure:
			d.Form, d.Every, d.OffPPM = catalog.DealEvery, 2, 500_000
		case part.Kind == catalog.KindAmplifier:
			with := first[catalog.KindSubwoofer]
			d.Form, d.Price, d.Limit = catalog.DealSet, usd((part.Price.Minor+with.Price.Minor)*2/3), 1
			d.Parts = append(d.Parts, one(with)...)
		default:
			continue
		}
		p.Catalogue.Deals = append(p.Catalogue.Deals, d)
	}
	p.Brief.TaxPPM, p.Brief.TaxByKind = 75_000, map[catalog.Kind]int64{catalog.KindAmplifier: 0, catalog.KindKit: 200_000}
	p.Brief.Labour = []catalog.Labour{{Name: "fitting", Price: usd(900), Per: catalog.KindAmplifier, Installed: true}, {Name: "tuning", Price: usd(1_500), Per: catalog.KindCount}}
}

// agrees compares what a solver finds with the search's answer.
func agrees(t *testing.T, s linear.Solver, sel *program.Selection, r *Result) {
	t.Helper()
	got, ok := audit(t, s, sel)
	if ok != (r.Outcome == Optimal) {
		t.Errorf("%s: a solution is %v, the search says %v", s.Name, ok, r.Outcome)
		return
	}
	if !ok {
		return
	}
	want := &r.Builds[0]
	if math.Abs(got.DB-want.Objective) > build.LevelStep/2 || got.Cost != want.Cost {
		t.Errorf("%s: %.3f dB for %v (%v)\nsearch: %.3f dB for %v (%v)", s.Name, got.DB, got.Cost, got.Parts, want.Objective, want.Cost, skus(want))
	}
}

// selected answers a problem and makes its program.
func selected(t *testing.T, p Problem, car *task, floor bool) (*program.Selection, Result) {
	t.Helper()
	r, err := pickIn(t.Context(), p, car)
	if err != nil {
		t.Fatal(err)
	}
	task, err := readyIn(p, setting.Relaxation{}, car)
	if err != nil {
		t.Fatal(err)
	}
	under := 0.0
	if floor && len(r.Builds) > 0 {
		under = r.Builds[0].Objective - 3
	}
	sel, err := program.Formulate(t.Context(), task.rests, under)
	if err != nil {
		t.Fatal(err)
	}
	return sel, r
}

// Three solvers that know nothing of the search find the same optimum at the
// same price.
func TestAudit(t *testing.T) {
	all := solvers(t)
	c := garage(t)
	step := 1
	if !long() {
		step = 9
	}
	solved := 0
	for i := 0; i < 20; i += step {
		p := c.auditable(i)
		t.Run(fmt.Sprintf("%d-parts-%d", i, len(p.Catalogue.Parts)), func(t *testing.T) {
			sel, r := selected(t, p, c.tasks[i%len(c.tasks)], true)
			t.Logf("%v; %d variables, %d rows", r.Outcome, len(sel.Program.Variables), len(sel.Program.Rows))
			for _, s := range all {
				agrees(t, s, sel, &r)
			}
			solved += len(r.Builds)
		})
	}
	if solved == 0 {
		t.Error("no problem had a solution")
	}
}

// Whatever is wrong with the search's answer, the solver's differs: a floor under
// a wrong level hides nothing that matters.
func TestAuditFindsWrongAnswers(t *testing.T) {
	s := solvers(t)[0]
	c := garage(t)
	cases := []int{0, 4} // a reading and music
	if !long() {
		cases = cases[:1]
	}
	for _, i := range cases {
		p, car := c.auditable(i), c.tasks[i%len(c.tasks)]
		_, r := selected(t, p, car, true)
		best := r.Builds[0]
		task, err := readyIn(p, setting.Relaxation{}, car)
		if err != nil {
			t.Fatal(err)
		}
		for _, wrong := range []float64{-2.5, -0.001, 0.001, 2.5, 10} {
			sel, err := program.Formulate(t.Context(), task.rests, best.Objective+wrong-3)
			if err != nil {
				t.Fatal(err)
			}
			got, ok := audit(t, s, sel)
			// The claim is best.Objective + wrong; it must not be confirmed.
			if ok && math.Abs(got.DB-best.Objective-wrong) < build.LevelStep/2 {
				t.Errorf("case %d: a claim of %+g dB is confirmed", i, wrong)
			}
			if known := wrong < 3; ok != known || ok && math.Abs(got.DB-best.Objective) > build.LevelStep/2 {
				t.Errorf("case %d, a claim of %+g dB: %v, %.3f dB; the best is %.3f dB", i, wrong, ok, got.DB, best.Objective)
			}
		}
		// A build that is as loud and dearer is no answer either.
		sel, _ := selected(t, p, car, true)
		if got, _ := audit(t, s, sel); got.Cost.Minor != best.Cost.Minor {
			t.Errorf("case %d: %v, not %v", i, got.Cost, best.Cost)
		}
	}
}

// Small problems with every rule, with deals, labour and taxes, and without a
// floor.
func TestAuditRules(t *testing.T) {
	all := solvers(t)
	c := garage(t)
	n := uint64(120)
	if !long() {
		n = 20
	}
	solved := 0
	for seed := uint64(1); seed <= n; seed++ {
		p, car := c.small(seed)
		p.Top, p.Distinct = 1, DistinctParts
		if seed%2 == 0 {
			dealt(&p, seed)
		}
		sel, r := selected(t, p, car, false)
		// One solver after the other: each has its share of the cases.
		agrees(t, all[int(seed/2)%len(all)], sel, &r)
		solved += len(r.Builds)
		if t.Failed() {
			t.Fatalf("seed %d", seed)
		}
	}
	t.Logf("%d of %d problems had a solution", solved, n)
	if solved < int(n/4) {
		t.Error("too few problems had a solution")
	}
}

// The text of a program does not depend on workers or on the order of parts.
func TestSelectionIsDeterministic(t *testing.T) {
	c := garage(t)
	p := c.auditable(1)
	p.Workers = 1
	a, _ := selected(t, p, c.tasks[1], true)
	p.Workers = 8
	shuffled := *p.Catalogue
	shuffled.Parts = slices.Clone(shuffled.Parts)
	slices.Reverse(shuffled.Parts)
	p.Catalogue = &shuffled
	b, _ := selected(t, p, c.tasks[1], true)
	for _, d := range []linear.Dialect{linear.Sections, linear.Statements} {
		if diff := cmp.Diff(a.Loudest().Text(d), b.Loudest().Text(d)); diff != "" {
			t.Errorf("dialect %d:\n%s", d, diff)
		}
	}
}

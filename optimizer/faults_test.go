package optimizer

import (
	"context"
	"encoding/json"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	every "loudfor/optimizer/audit"
)

// Faults planted in the search, which then finds wrong answers that its own recheck
// lets pass: the audit has to refute each, and no right one. They are planted while a
// second program of these tests is built, in copies that the compiler is handed in the
// place of the files: the program itself has nothing of them.

// fault is one piece of a file in the place of another; $ in it is whether this fault
// is the one at hand.
type fault struct{ what, file, old, new string }

var faults = []fault{
	// Bounds.
	{"the bound of a reading too low", "bound.go", "h.Loudest(m)+boundSlack", "h.Loudest(m)+boundSlack-map[bool]float64{true: 8}[$]"},
	{"the bound of music too low", "bound.go", "h.Bands(m)-t.Brief.BassLift", "h.Bands(m)-map[bool]float64{true: 8}[$]-t.Brief.BassLift"},
	{"an envelope that does not grow", "tree.go", "\t\tf = f.join(p.felt)", "\t\tif !$ {\n\t\t\tf = f.join(p.felt)\n\t\t}"},
	{"branches as dear as their dearest", "tree.go", "b.floor, b.bare, b.felt = min(b.floor, p.floor)", "if $ {\n\t\t\tb.floor = max(b.floor, p.floor)\n\t\t}\n\t\tb.floor, b.bare, b.felt = min(b.floor, map[bool]int64{true: b.floor, false: p.floor}[$])"},
	{"branches as weak as their first", "tree.go", "b.felt.join(p.felt)\n", "map[bool]coilSource{true: b.felt, false: b.felt.join(p.felt)}[$]\n"},
	{"half of what is winnowed", "winnow.go", "w.winnow(r, all[:n], aim) + w.winnow(r, all[n:], aim)", "w.winnow(r, all[:n], aim) + w.winnow(r, all[map[bool]int{true: len(all) - 1, false: n}[$]:], aim)"},
	{"music has to be louder by half a decibel", "song.go", "w.least(incumbent)+w.Brief.BassLift", "w.least(incumbent)+map[bool]float64{true: 0.5}[$]+w.Brief.BassLift"},
	{"a branch has to be louder by half a decibel", "search.go", "Exceeds(lowest(least), d", "Exceeds(lowest(least)+map[bool]float64{true: 0.5}[$], d"},
	{"source and front too dear", "rest_list.go", "\t\tfloor, parts = l[0].price, l[0].parts", "\t\tfloor, parts = l[0].price+map[bool]int64{true: l[0].price / 4}[$], l[0].parts"},
	{"a share of a deal too small", "pricing/deal.go", "max(it.share, share)", "max(it.share, share/map[bool]int64{true: 4, false: 1}[$])"},
	{"the cap a twentieth lower", "pricing/tax.go", "t.Unit-Million), Boundless) - t.Fixed", "t.Unit-Million), Boundless)/20*map[bool]int64{true: 19, false: 20}[$] - t.Fixed"},

	// Dominance.
	{"a wiring without its voltage", "coil_source.go", "f.voltage >= g.voltage", "($ || f.voltage >= g.voltage)"},
	{"a wiring without the channels it leaves", "ways.go", "(v.spare || !w.spare)", "($ || v.spare || !w.spare)"},
	{"a front without its level", "frontier.go", "q.level >= l &&", "($ || q.level >= l) &&"},
	{"a blocker without its frequency", "rest.go", "return it.Part.Blocker.Capacitance", "return it.Part.Blocker.Capacitance * map[bool]float64{false: 1}[$]"},
	{"a source without its high-pass", "pricing/slot.go", "HighPass: s.HighPass", "HighPass: s.HighPass && !$"},
	{"a source without its outputs", "pricing/slot.go", "min(s.PreOuts, 1)", "min(s.PreOuts, map[bool]int{false: 1}[$])"},

	// Wirings, kits, boxes and parts left out.
	{"only one output", "ways.go", "g <= m.outputs; g++", "g <= m.outputs && !($ && g > 1); g++"},
	{"only the first mode", "ways.go", "\t\tm := &power.modes[i]", "\t\tif $ && i > 0 {\n\t\t\tbreak\n\t\t}\n\t\tm := &power.modes[i]"},
	{"only one amplifier", "class.go", "k <= t.Brief.Amplifiers; k++", "k <= t.Brief.Amplifiers && !($ && k > 1); k++"},
	{"current of one amplifier more", "class.go", "demand: float64(k) * power.demand", "demand: float64(k+map[bool]int{true: 1}[$]) * power.demand"},
	{"a kit of the shelf forgotten", "kits.go", "t.kits[it].capacity >= 0", "t.kits[it].capacity >= 0 && !($ && it.ID%3 == 0)"},
	{"a box of the shelf forgotten", "group.go", "\t\te := it.Part.Enclosure\n", "\t\tif $ && it.ID%4 == 0 {\n\t\t\tcontinue\n\t\t}\n\t\te := it.Part.Enclosure\n"},
	{"only one box", "group.go", "case t.fitsRoom(e.Outside, m+1):", "case t.fitsRoom(e.Outside, m+1) && !($ && m > 0):"},
	{"loaded boxes forgotten", "group.go", "case m > it.Most ||", "case $ || m > it.Most ||"},
	{"channels left over forgotten", "settle.go", "if !w.probing && spare &&", "if !$ && !w.probing && spare &&"},
	{"the last piece of a stock forgotten", "pricing/shelf.go", "n = min(n, max(p.Stock, 0))", "n = min(n, max(p.Stock-map[bool]int{true: 1}[$], 0))"},
	{"the last of so many a customer forgotten", "pricing/shelf.go", "n = min(n, max(p.Limit, 0))", "n = min(n, max(p.Limit-map[bool]int{true: 1}[$], 0))"},
	{"a shop's own blocker forgotten", "pricing/slot.go", "it.Offered() && (len(must)", "it.Offered() && !($ && kind == catalog.KindBlocker) && (len(must)"},
	{"what was bought in another shop forgotten", "tour.go", "o.Stock != 0 {\n", "o.Stock != 0 && !($ && len(out) > 0) {\n"},

	// Prices and order.
	{"an owned part charged", "pricing/shelf.go", "\tif n > it.Owned {\n\t\tsum += int64(n-it.Owned) * it.price", "\tif owned := it.Owned * map[bool]int{false: 1}[$]; n > owned {\n\t\tsum += int64(n-owned) * it.price"},
	{"labour for a piece forgotten", "pricing/tax.go", "\t\t\tt.bought[l.Per] += price", "\t\t\tt.bought[l.Per] += price * map[bool]int64{false: 1}[$]"},
	{"labour for the build forgotten", "pricing/tax.go", "\t\t\tt.Fixed += price", "\t\t\tt.Fixed += price * map[bool]int64{false: 1}[$]"},
	{"one tax for all kinds", "pricing/tax.go", "weighted(it.Part.Price.Minor, t.Tax.weight[k])", "weighted(it.Part.Price.Minor, t.Tax.weight[map[bool]catalog.Kind{true: catalog.KindAmplifier, false: k}[$]])"},
	{"a deal for so many once at most", "pricing/deal.go", "times = n / d.Every", "times = min(n/d.Every, map[bool]int{true: 1, false: n}[$])"},
	{"a set once at most", "pricing/deal.go", "times = n / o.Uses[0].Count", "times = min(n/o.Uses[0].Count, map[bool]int{true: 1, false: n}[$])"},
	{"the trip to a shop twice", "tour.go", "Price: trip, Per", "Price: catalog.Money{Minor: trip.Minor * map[bool]int64{true: 2, false: 1}[$], Currency: trip.Currency}, Per"},
	{"of equal ones the dearer", "order.go", "return c.price < o.price", "return (c.price < o.price) != $"},
	{"of equal ones that of more pieces", "order.go", "return c.pieces < o.pieces", "return (c.pieces < o.pieces) != $"},
	{"of equal ones the last", "order.go", "return c.parts.CompareSKUs(o.parts) < 0", "return (c.parts.CompareSKUs(o.parts) < 0) != $"},
	{"what is as loud and cheaper is left", "order.go", "l == c.level && price <= c.price", "l == c.level && price <= c.price && !$"},
}

// plant chooses a fault, 0 for none. It is nil in a program without any.
var plant func(number int)

// TestAuditOfFaults builds the second program, and runs itself in it.
func TestAuditOfFaults(t *testing.T) {
	if plant != nil {
		plantedFaults(t)
		return
	}
	if !long() || testing.Short() {
		t.Skip("it builds these tests once more")
	}
	here, err := os.Getwd()
	if err != nil {
		t.Fatal(err)
	}
	folder, replace, texts := t.TempDir(), map[string]string{}, map[string]string{}
	put := func(name, text string) {
		copied := filepath.Join(folder, strings.ReplaceAll(name, "/", "-"))
		replace[filepath.Join(here, name)] = copied
		if err := os.WriteFile(copied, []byte(text), 0o600); err != nil {
			t.Fatal(err)
		}
	}
	for k, f := range faults {
		if texts[f.file] == "" {
			text, err := os.ReadFile(f.file)
			if err != nil {
				t.Fatal(err)
			}
			texts[f.file] = string(text)
		}
		if n := strings.Count(texts[f.file], f.old); n != 1 {
			t.Errorf("%s: %q is %d times in %s: plant it where that is done now", f.what, f.old, n, f.file)
		}
		texts[f.file] = strings.Replace(texts[f.file], f.old, strings.ReplaceAll(f.new, "$", fmt.Sprintf("(Planted == %d)", k+1)), 1)
	}
	if t.Failed() {
		return
	}
	for name, text := range texts {
		put(name, text)
	}
	put("pricing/planted.go", "package pricing\n\n// Planted is the fault at hand.\nvar Planted int\n")
	put("planted_test.go", "package optimizer\n\nimport \"loudfor/optimizer/pricing\"\n\n// Planted is the fault at hand.\nvar Planted int\n\nfunc init() { plant = func(k int) { Planted, pricing.Planted = k, k } }\n")
	overlay, err := json.Marshal(map[string]any{"Replace": replace})
	if err != nil {
		t.Fatal(err)
	}
	put("overlay.json", string(overlay))
	cmd := exec.Command("go", "test", "-overlay", filepath.Join(folder, "overlay.json"), "-vet=off", "-timeout=0", "-count=1", "-v", "-run", "^TestAuditOfFaults$", ".")
	out, err := cmd.CombinedOutput()
	t.Logf("%s", out)
	if err != nil {
		t.Error(err)
	}
}

// fewWrong is how many wrong answers a short run meets at least.
const fewWrong = 20

func plantedFaults(t *testing.T) {
	c := garage(t)
	right, distinct, refused, wrong := 0, 0, make([]int, len(faults)), make([]int, len(faults))
	for seed := firstSeed(t); seed < firstSeed(t)+caseCount(t, 4); seed++ {
		for kind, draw := range []func(uint64) (Problem, *task){c.small, c.fronts, c.mixed} {
			plant(0)
			p, car := draw(seed)
			p.Top, p.Known = 1, nil
			truth, err := pickIn(context.Background(), p, car)
			if err != nil {
				t.Fatal(err)
			}
			audit := func(r *Result) every.Report {
				plant(0)
				if len(r.Builds) == 0 {
					return auditOf(t, p, car, nil)
				}
				return auditOf(t, p, car, &r.Builds[0])
			}
			if got := audit(&truth); got.Verdict != every.Confirmed {
				t.Errorf("LOUDFOR_ORACLE_SEED=%d, %d: right, but %+v", seed, kind, got)
			}
			right++
			seen := map[string]bool{said(&truth): true}
			for k := range faults {
				plant(k + 1)
				r, err := pickIn(context.Background(), p, car)
				switch {
				case err != nil:
					refused[k]++ // by the recheck
				case said(&r) == said(&truth):
				default:
					if wrong[k]++; seen[said(&r)] {
						continue
					}
					seen[said(&r)] = true
					distinct++
					if got := audit(&r); got.Verdict != every.Refuted {
						t.Errorf("LOUDFOR_ORACLE_SEED=%d, %d: %s: %s, right is %s: %+v", seed, kind, faults[k].what, said(&r), said(&truth), got)
					}
				}
			}
		}
	}
	all, kinds := 0, 0
	for k, f := range faults {
		if all += wrong[k]; wrong[k] > 0 {
			kinds++
		}
		t.Logf("%s: %d wrong, %d caught by the recheck", f.what, wrong[k], refused[k])
	}
	t.Logf("%d wrong answers of %d faults, %d of them different; %d right ones", all, kinds, distinct, right)
	if all < fewWrong {
		t.Errorf("only %d wrong answers", all)
	}
}

// said is an answer in words: level, price and parts.
func said(r *Result) string {
	if len(r.Builds) == 0 {
		return "none"
	}
	b := &r.Builds[0]
	return fmt.Sprintf("%.3f dB, %v, %v", b.Objective, b.Cost, slices.Clone(skus(b)))
}

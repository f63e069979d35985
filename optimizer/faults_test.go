package optimizer

import (
	"context"
	"encoding/json"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"loudfor/catalog"
	every "loudfor/optimizer/audit"
)

// Faults planted in the search, which then finds wrong answers that its own recheck
// lets pass: the audit has to refute each, and no right one. They are planted while a
// second program of these tests is built, in copies that the compiler is handed in the
// place of the files: the program itself has nothing of them.

// fault is one piece of a file in the place of another, however that is indented and
// broken into lines; $ in it is whether this fault is the one at hand.
type fault struct{ what, file, old, new string }

var faults = []fault{
	// Bounds.
	{"the bound of a reading too low", "bound.go", "h.Loudest(m)+build.BoundSlack", "h.Loudest(m)+build.BoundSlack-map[bool]float64{true: 8}[$]"},
	{"the bound of music too low", "bound.go", "h.Bands(m)-t.Brief.BassLift", "h.Bands(m)-map[bool]float64{true: 8}[$]-t.Brief.BassLift"},
	{"an envelope that does not grow", "drive/tree.go", "f = f.Join(p.AtCoil)", "if !$ {\n\t\t\tf = f.Join(p.AtCoil)\n\t\t}"},
	{"branches as dear as their dearest", "drive/tree.go", "b.Floor, b.Bare, b.AtCoil = min(b.Floor, p.Floor)", "if $ {\n\t\t\tb.Floor = max(b.Floor, p.Floor)\n\t\t}\n\t\tb.Floor, b.Bare, b.AtCoil = min(b.Floor, map[bool]int64{true: b.Floor, false: p.Floor}[$])"},
	{"branches as weak as their first", "drive/tree.go", "b.AtCoil.Join(p.AtCoil)", "map[bool]CoilSource{true: b.AtCoil, false: b.AtCoil.Join(p.AtCoil)}[$]"},
	{"half of what is winnowed", "winnow.go", "w.winnow(r, all[:n], aim) + w.winnow(r, all[n:], aim)", "w.winnow(r, all[:n], aim) + w.winnow(r, all[map[bool]int{true: len(all) - 1, false: n}[$]:], aim)"},
	{"music has to be louder by half a decibel", "song.go", "w.least(incumbent)+w.Brief.BassLift", "w.least(incumbent)+map[bool]float64{true: 0.5}[$]+w.Brief.BassLift"},
	{"a branch has to be louder by half a decibel", "search.go", "Exceeds(lowest(least), d", "Exceeds(lowest(least)+map[bool]float64{true: 0.5}[$], d"},
	{"source and front too dear", "completion/list.go", "floor, parts = l[0].Price, l[0].Parts", "floor, parts = l[0].Price+map[bool]int64{true: l[0].Price / 4}[$], l[0].Parts"},
	{"a share of a deal too small", "pricing/deal.go", "max(it.share, share)", "max(it.share, share/map[bool]int64{true: 4, false: 1}[$])"},
	{"the cap a twentieth lower", "pricing/tax.go", "t.Unit-Million), Boundless) - t.Fixed", "t.Unit-Million), Boundless)/20*map[bool]int64{true: 19, false: 20}[$] - t.Fixed"},

	{"the bound of a ladder's tread too low", "ladder_bound.go", "l := s.beyond(h, widest)", "l := s.beyond(h, widest) - map[bool]build.Level{true: 5000}[$]"},
	{"between two steps of a ladder a level too high", "ladder_span.go", "now.least = held[i].level + 1", "now.least = held[i].level + 1 + map[bool]build.Level{true: 2000}[$]"},
	{"a step has to be louder by half a decibel", "ladder_climb.go", "Exceeds(lowest(incumbent.toBeat(floor))", "Exceeds(lowest(incumbent.toBeat(floor))+map[bool]float64{true: 0.5}[$]"},

	// Dominance.
	{"on a ladder a wiring without anything but its voltage", "drive/feed.go", "y.Covers(&sources[k], &f, 1)", "($ || y.Covers(&sources[k], &f, 1))"},
	{"a wiring without its voltage", "drive/coil_source.go", "f.Voltage >= g.Voltage", "($ || f.Voltage >= g.Voltage)"},
	{"a wiring without the channels it leaves", "drive/wiring.go", "(v.Spare || !w.Spare)", "($ || v.Spare || !w.Spare)"},
	{"a front without its level", "completion/list_filter.go", "q.Level >= l &&", "($ || q.Level >= l) &&"},
	{"a blocker without its frequency", "completion/completion.go", "return it.Part.Blocker.Capacitance", "return it.Part.Blocker.Capacitance * map[bool]float64{false: 1}[$]"},
	{"a source without its high-pass", "pricing/slot.go", "HighPass: s.HighPass", "HighPass: s.HighPass && !$"},
	{"a source without its outputs", "pricing/slot.go", "min(s.PreOuts, 1)", "min(s.PreOuts, map[bool]int{false: 1}[$])"},

	// Wirings, kits, boxes and parts left out.
	{"only one output", "drive/wiring.go", "g <= m.Outputs; g++", "g <= m.Outputs && !($ && g > 1); g++"},
	{"only the first mode", "drive/wiring.go", "m := &power.Modes[i]", "if $ && i > 0 {\n\t\t\tbreak\n\t\t}\n\t\tm := &power.Modes[i]"},
	{"only one amplifier", "drive/coil_load.go", "k <= t.Brief.Amplifiers; k++ { if k > amp.Most", "k <= t.Brief.Amplifiers && !($ && k > 1); k++ {\n\t\t\tif k > amp.Most"},
	{"current of one amplifier more", "drive/coil_load.go", "Demand: float64(k) * power.Demand", "Demand: float64(k+map[bool]int{true: 1}[$]) * power.Demand"},
	{"a kit of the shelf forgotten", "drive/kits.go", "t.Kits[it].Capacity >= 0", "t.Kits[it].Capacity >= 0 && !($ && it.ID%3 == 0)"},
	{"a box of the shelf forgotten", "group.go", "e := it.Part.Enclosure", "if $ && it.ID%4 == 0 {\n\t\t\tcontinue\n\t\t}\n\t\te := it.Part.Enclosure"},
	{"only one box", "group.go", "case t.FitsRoom(e.Outside, m+1):", "case t.FitsRoom(e.Outside, m+1) && !($ && m > 0):"},
	{"loaded boxes forgotten", "group.go", "case m > it.Most ||", "case $ || m > it.Most ||"},
	{"channels left over forgotten", "settle.go", "if !w.probing && spare &&", "if !$ && !w.probing && spare &&"},
	{"the last piece of a stock forgotten", "pricing/shelf.go", "n = min(n, max(p.Stock, 0))", "n = min(n, max(p.Stock-map[bool]int{true: 1}[$], 0))"},
	{"the last of so many a customer forgotten", "pricing/shelf.go", "n = min(n, max(p.Limit, 0))", "n = min(n, max(p.Limit-map[bool]int{true: 1}[$], 0))"},
	{"a shop's own blocker forgotten", "pricing/slot.go", "it.Offered() && (len(must)", "it.Offered() && !($ && kind == catalog.KindBlocker) && (len(must)"},
	{"what was bought in another shop forgotten", "tour.go", "o.Stock != 0 {", "o.Stock != 0 && !($ && len(out) > 0) {"},

	// Prices and order.
	{"an owned part charged", "pricing/shelf.go", "if n > it.Owned {\n\t\tsum += int64(n-it.Owned) * it.price", "if owned := it.Owned * map[bool]int{false: 1}[$]; n > owned {\n\t\tsum += int64(n-owned) * it.price"},
	{"labour for a piece forgotten", "pricing/tax.go", "t.bought[l.Per] += price", "t.bought[l.Per] += price * map[bool]int64{false: 1}[$]"},
	{"labour for the build forgotten", "pricing/tax.go", "t.Fixed += price", "t.Fixed += price * map[bool]int64{false: 1}[$]"},
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

// planted are the files with all faults in them. Where one no longer says what a
// fault stands in the place of, it is named: the fault belongs where that is done now.
func planted(t *testing.T) (texts map[string]string) {
	texts = map[string]string{}
	for k, f := range faults {
		if texts[f.file] == "" {
			text, err := os.ReadFile(f.file)
			if err != nil {
				t.Errorf("%s: %v: plant it in the file in which that is done now", f.what, err)
				continue
			}
			texts[f.file] = string(text)
		}
		words := strings.Fields(f.old)
		for i := range words {
			words[i] = regexp.QuoteMeta(words[i])
		}
		found := regexp.MustCompile(strings.Join(words, `\s+`)).FindAllStringIndex(texts[f.file], -1)
		if len(found) != 1 {
			t.Errorf("%s: %q is %d times in %s: change the line of this fault in faults to what does that now, or delete it with what is no longer done", f.what, f.old, len(found), f.file)
			continue
		}
		from, to := found[0][0], found[0][1]
		texts[f.file] = texts[f.file][:from] + strings.ReplaceAll(f.new, "$", fmt.Sprintf("(Planted == %d)", k+1)) + texts[f.file][to:]
	}
	return texts
}

// TestAuditOfFaults builds the second program, and runs itself in it.
func TestAuditOfFaults(t *testing.T) {
	if plant != nil {
		plantedFaults(t)
		return
	}
	texts := planted(t)
	if t.Failed() {
		return
	}
	if !long() || testing.Short() {
		t.Skip("it builds these tests once more")
	}
	t.Logf("cases %d to %d", firstSeed(t), firstSeed(t)+caseCount(t, fewCases)-1) // asked here as well, or an old result counts
	here, err := os.Getwd()
	if err != nil {
		t.Fatal(err)
	}
	folder, replace := t.TempDir(), map[string]string{}
	put := func(name, text string) {
		copied := filepath.Join(folder, strings.ReplaceAll(name, "/", "-"))
		replace[filepath.Join(here, name)] = copied
		if err := os.WriteFile(copied, []byte(text), 0o600); err != nil {
			t.Fatal(err)
		}
	}
	for name, text := range texts {
		put(name, text)
	}
	imports, packages := "", ""
	for _, pkg := range []string{"completion", "drive", "pricing"} {
		put(pkg+"/planted.go", "package "+pkg+"\n\n// Planted is the fault at hand.\nvar Planted int\n")
		imports += "\t\"loudfor/optimizer/" + pkg + "\"\n"
		packages += ", " + pkg + ".Planted"
	}
	put("planted_test.go", "package optimizer\n\nimport (\n"+imports+")\n\n// Planted is the fault at hand.\nvar Planted int\n\nfunc init() { plant = func(k int) { Planted"+packages+" = k, k, k, k } }\n")
	overlay, err := json.Marshal(map[string]any{"Replace": replace})
	if err != nil {
		t.Fatal(err)
	}
	put("overlay.json", string(overlay))
	cmd := exec.Command("go", "test", "-overlay", filepath.Join(folder, "overlay.json"), "-vet=off", "-timeout=0", "-count=1", "-v", "-run", "^TestAuditOfFaults$", ".")
	out, err := cmd.CombinedOutput()
	t.Logf("%s", out)
	if err != nil {
		t.Errorf("%v: what the compiler names above is a line of faults that no longer fits its place", err)
	}
}

// A short run has fewCases, and meets at least fewWrong wrong answers.
const fewCases, fewWrong = 4, 20

func plantedFaults(t *testing.T) {
	c := garage(t)
	right, distinct, refused, wrong := 0, 0, make([]int, len(faults)), make([]int, len(faults))
	for seed := firstSeed(t); seed < firstSeed(t)+caseCount(t, fewCases); seed++ {
		for kind, draw := range []func(uint64) (Problem, *task){c.small, c.fronts, c.mixed, c.small} {
			plant(0)
			p, car := draw(seed)
			p.Top, p.Known = 1, nil
			ask := picked
			if kind == 3 { // a ladder
				p.Distinct, ask = DistinctParts, stepped
			}
			caps, truths, err := ask(p, car, nil)
			if err != nil {
				t.Fatal(err)
			}
			audit := func(n int, claim *Build) every.Report {
				plant(0)
				q := p
				q.Brief.Cap = caps[n]
				return auditOf(t, q, car, claim)
			}
			seen := map[string]bool{}
			for n, b := range truths {
				if got := audit(n, b); got.Verdict != every.Confirmed {
					t.Errorf("LOUDFOR_ORACLE_SEED=%d, %d: %v: right, but %+v", seed, kind, caps[n], got)
				}
				right++
			}
			for k := range faults {
				plant(k + 1)
				_, got, err := ask(p, car, caps)
				if err != nil {
					refused[k]++ // by the recheck
					continue
				}
				for n, b := range got {
					if said(b) == said(truths[n]) {
						continue
					}
					wrong[k]++
					if key := fmt.Sprint(n, said(b)); !seen[key] {
						seen[key] = true
						distinct++
						if r := audit(n, b); r.Verdict != every.Refuted {
							t.Errorf("LOUDFOR_ORACLE_SEED=%d, %d: %s: %v: %s, right is %s: %+v", seed, kind, faults[k].what, caps[n], said(b), said(truths[n]), r)
						}
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

// picked is the best build, nil if there is none, under the one cap.
func picked(p Problem, car *task, _ []catalog.Money) ([]catalog.Money, []*Build, error) {
	r, err := pickIn(context.Background(), p, car)
	if err != nil || len(r.Builds) == 0 {
		return []catalog.Money{p.Brief.Cap}, []*Build{nil}, err
	}
	return []catalog.Money{p.Brief.Cap}, []*Build{&r.Builds[0]}, nil
}

// mostSteps of a ladder are audited.
const mostSteps = 4

// stepped is what a ladder says is best under some caps: where none are given, under
// the prices of some of its steps.
func stepped(p Problem, car *task, caps []catalog.Money) ([]catalog.Money, []*Build, error) {
	r, err := ladderIn(context.Background(), p, car)
	if err != nil {
		return nil, nil, err
	}
	if caps == nil {
		for i := 0; i < len(r.Steps); i += 1 + len(r.Steps)/mostSteps {
			caps = append(caps, r.Steps[i].Build.Cost)
		}
	}
	best := make([]*Build, len(caps))
	for n, limit := range caps {
		for i := range r.Steps {
			if b := &r.Steps[i].Build; b.Cost.Minor <= limit.Minor {
				best[n] = b
			}
		}
	}
	return caps, best, nil
}

// said is a build in words: level, price and parts.
func said(b *Build) string {
	if b == nil {
		return "none"
	}
	return fmt.Sprintf("%.3f dB, %v, %v", b.Objective, b.Cost, skus(b))
}

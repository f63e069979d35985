package main

import (
	"cmp"
	"encoding/json"
	"fmt"
	"math"
	"os"
	"slices"
	"strconv"
	"strings"
	"testing"
)

// The search held against enumeration from outside: files in, JSON out. What a valid
// build is and what it costs is written down here once more, from README and the
// file formats; levels come from predict, asked for each build by itself. Nothing of
// the project is called but the program.
//
// LOUDFOR_OUTSIDE_CASES=1000 tries as many; LOUDFOR_OUTSIDE_SEED=7 one of them.

// How many an ordinary run tries, and one with LOUDFOR_LONG: of three or four one has
// a build.
const outsideCases, outsideLong = 24, 120

func TestOutsideOracle(t *testing.T) {
	count, first := uint64(outsideCases), uint64(1)
	if os.Getenv("LOUDFOR_LONG") != "" {
		count = outsideLong
	}
	if n, err := strconv.ParseUint(os.Getenv("LOUDFOR_OUTSIDE_CASES"), 10, 64); err == nil {
		count = n
	}
	if n, err := strconv.ParseUint(os.Getenv("LOUDFOR_OUTSIDE_SEED"), 10, 64); err == nil {
		first, count = n, 1
	}
	var sum outTally
	for seed := first; seed < first+count; seed++ {
		t.Run(fmt.Sprint(seed), func(t *testing.T) {
			o := outAnswers{c: outDraw(t, seed), levels: map[string]outLevel{}, tally: &sum}
			o.enumerate(t)
			o.pick(t)
			o.ladder(t)
			if t.Failed() {
				t.Logf("LOUDFOR_OUTSIDE_SEED=%d\n%s\n%s\n%s", seed, o.c.shopFile(), o.c.keys(true), o.c.carFile())
			}
		})
	}
	t.Logf("%d cases, %d with builds; %d sets valid, %d perhaps, %d predicted; %d builds and %d steps compared, %d rankings to the last SKU",
		sum.cases, sum.solved, sum.valid, sum.perhaps, sum.predicted, sum.builds, sum.steps, sum.whole)
	if sum.cases >= outsideCases && (sum.builds == 0 || sum.steps == 0 || sum.whole == 0) {
		t.Error("the cases say nothing")
	}
}

type outTally struct{ cases, solved, valid, perhaps, predicted, builds, steps, whole int }

// outDocument is what is read of an answer of pick, ladder or predict.
type outDocument struct {
	Outcome string
	Builds  []outBuild
	Steps   []struct {
		Price json.Number
		DB    float64
		Build outBuild
	}
	Conflicts []any
	Problems  []any // of a brief that cannot be, such as a must that nobody sells
	outBuild
}

type outBuild struct {
	Cost    json.Number
	Reading struct {
		DB     float64
		BandDB float64 `json:"band_db"`
		Hz     float64
	}
	Music    struct{ DB float64 }
	Limit    string
	Clamp    struct{ Volts, Amps, Ohms, Watts float64 }
	Hookup   string
	LoadOhm  float64 `json:"load_ohm"`
	Warnings []string
	Parts    []struct {
		SKU   string
		Count int
		Price json.Number
		Owned bool
	}
	Deals []struct {
		Name   string
		Times  int
		Saving json.Number
	}
	Labour []struct {
		Name  string
		Count int
		Price json.Number
	}
	Taxes []struct{ Sum, Tax json.Number }
}

func (b *outBuild) list() (list []outCount) {
	for _, p := range b.Parts {
		list = append(list, outCount{p.SKU, p.Count})
	}
	list = merged(list)
	slices.SortFunc(list, func(a, b outCount) int { return strings.Compare(a.sku, b.sku) })
	return list
}

// objective is what is ranked by.
func (o *outAnswers) objective(b *outBuild) float64 {
	if o.c.music {
		return b.Music.DB
	}
	return b.Reading.DB
}

// outLevel is a valid set, with its price and level.
type outLevel struct {
	set       *outSet
	cents     int64
	exact     int64
	db        float64
	verdict   outVerdict
	certainDB bool // db is the level; else it is at least db
}

type outAnswers struct {
	c      *outCase
	levels map[string]outLevel // those that can be paid, by the parts
	tally  *outTally
}

// ask runs a command and reads its document.
func (o *outAnswers) ask(t *testing.T, stdin string, args ...string) (d outDocument, status int) {
	t.Helper()
	got := callWith(stdin, append(args, "--json", "--quiet", "--catalog", o.c.shop, "--vehicles", o.c.garage)...)
	if err := json.Unmarshal([]byte(got.stdout), &d); err != nil {
		t.Fatalf("%v: %v\n%s\n%s", args, err, got.stdout, got.stderr)
	}
	if got.status != statusDone && got.status != statusNoBuild && (args[0] == "predict" || len(d.Problems) == 0) {
		t.Fatalf("%v ends with %d: %s\n%s", args, got.status, got.stderr, stdin)
	}
	return d, got.status
}

// enumerate looks at every set of parts that can be paid.
func (o *outAnswers) enumerate(t *testing.T) {
	o.tally.cases++
	sets := o.c.sets()
	keys := make([]string, 0, len(sets))
	for key := range sets {
		keys = append(keys, key)
	}
	slices.Sort(keys)
	for _, key := range keys {
		s := sets[key]
		l := outLevel{set: s, verdict: s.verdict()}
		var ok bool
		if l.verdict == outNo {
			continue
		}
		if l.cents, l.exact, ok = o.c.costs(s.list); !ok || l.cents > o.c.limit {
			continue
		}
		o.level(t, &l)
		if l.verdict == outYes {
			o.tally.valid++
		} else if l.verdict == outPerhaps {
			o.tally.perhaps++
		}
		if l.verdict != outNo {
			o.levels[key] = l
		}
	}
	if len(o.levels) > 0 {
		o.tally.solved++
	}
}

// level asks predict. It is free to put a set together in any way, valid or not, so
// that where some ways are not valid, the others are asked for by mode and load.
func (o *outAnswers) level(t *testing.T, l *outLevel) {
	type hookup struct {
		mode string
		load float64
	}
	valid, all := map[hookup]outVerdict{}, map[hookup]bool{} // the best way; whether all are valid
	same := true
	for _, w := range l.set.ways {
		h := hookup{w.mode, w.load}
		if _, seen := all[h]; !seen {
			all[h] = true
		}
		valid[h] = max(valid[h], w.verdict)
		all[h] = all[h] && w.verdict == outYes
		same = same && w.verdict == outYes
	}
	l.db, l.certainDB = math.Inf(-1), true
	take := func(mode string, load float64) {
		d, _ := o.ask(t, o.c.buildFile(l.set.list, mode, load), "predict", "-")
		o.tally.predicted++
		l.db = max(l.db, o.objective(&d.outBuild))
		if cents(t, d.Cost) != l.cents {
			t.Errorf("%s: predict says %s, by hand %s", l.set.key(), d.Cost, dollars(l.cents))
		}
		for _, w := range d.Warnings {
			for _, fault := range []string{"is more than the", "no standard fuse carries", "fuse melts at", "does not protect"} {
				if strings.HasPrefix(w, "KT") && strings.Contains(w, fault) {
					l.verdict = outNo // the current is physics
				}
			}
		}
	}
	if same {
		take("", 0)
		return
	}
	for h, v := range valid {
		if all[h] {
			take(h.mode, h.load)
		} else if v != outNo {
			l.certainDB = false
		}
	}
	if math.IsInf(l.db, -1) { // at least the price and the kit have to be asked about
		take("", 0)
		l.db = math.Inf(-1)
	}
}

// cents reads an exact sum.
func cents(t *testing.T, n json.Number) int64 {
	t.Helper()
	whole, part, _ := strings.Cut(n.String(), ".")
	v, err := strconv.ParseInt(whole+(part + "00")[:2], 10, 64)
	if err != nil || len(part) > 2 {
		t.Fatalf("%q is no sum of money", n)
	}
	return v
}

// ranked lists the certain builds, best first, as pick ranks them.
func (o *outAnswers) ranked() (list []outLevel, certain bool) {
	certain = true
	for _, l := range o.levels {
		certain = certain && l.verdict == outYes && l.certainDB
		if l.verdict == outYes {
			list = append(list, l)
		}
	}
	slices.SortFunc(list, func(a, b outLevel) int {
		count := func(s *outSet) (n int) {
			for _, m := range s.list {
				n += m.n
			}
			return n
		}
		return cmp.Or(cmp.Compare(b.db, a.db), cmp.Compare(a.exact, b.exact), cmp.Compare(count(a.set), count(b.set)), strings.Compare(a.set.key(), b.set.key()))
	})
	return list, certain
}

// pick holds the ranking.
func (o *outAnswers) pick(t *testing.T) {
	args := []string{"pick", o.c.brief, "--top", fmt.Sprint(o.c.top)}
	if o.c.alike {
		args = append(args, "--alike")
	}
	d, status := o.ask(t, "", args...)
	want, certain := o.ranked()
	if status == statusBadInput {
		if len(want) > 0 {
			t.Errorf("the brief is refused, and there is %s", want[0].set.key())
		}
		return
	}
	if (status == statusNoBuild) != (len(d.Builds) == 0) || (d.Outcome == "infeasible") != (len(d.Builds) == 0) {
		t.Errorf("status %d, outcome %s, %d builds", status, d.Outcome, len(d.Builds))
	}
	if len(d.Builds) == 0 {
		if len(want) > 0 {
			t.Errorf("no build, and there is %s for %s", want[0].set.key(), dollars(want[0].cents))
		}
		if len(d.Conflicts) == 0 {
			t.Error("no build, and nothing that blocks")
		}
		return
	}
	for i := range d.Builds {
		o.build(t, &d.Builds[i])
		o.tally.builds++
	}
	if best := o.objective(&d.Builds[0]); len(want) > 0 && (want[0].db > best+0.0005 || want[0].db > best-0.0005 && want[0].cents < cents(t, d.Builds[0].Cost)) {
		t.Errorf("%.3f dB for %s is found, but %s reads %.3f dB for %s", best, d.Builds[0].Cost, want[0].set.key(), want[0].db, dollars(want[0].cents))
	}
	if !certain {
		return
	}
	if !o.c.alike { // the best of each pair of driver and amplifier
		seen := map[string]bool{}
		want = slices.DeleteFunc(want, func(l outLevel) bool {
			pair := ""
			for _, w := range l.set.ways {
				if next := l.set.driver + " " + w.amp; w.verdict == outYes {
					certain = certain && (pair == "" || pair == next) // else which one drives the bass is the level's to say
					pair = next
				}
			}
			again := seen[pair]
			seen[pair] = true
			return again
		})
		if !certain {
			return
		}
	}
	for i := range d.Builds {
		s := outSet{list: d.Builds[i].list()}
		if i >= len(want) || want[i].set.key() != s.key() {
			t.Errorf("rank %d is %s, by enumeration it is number %d of %d: %+v", i+1, s.key(), i+1, len(want), want[min(i, len(want)-1)])
			return
		}
	}
	if len(d.Builds) != min(o.c.top, len(want)) {
		t.Errorf("%d builds of %d", len(d.Builds), len(want))
	}
	o.tally.whole++
}

// build holds one build of an answer: it is valid, costs what it says, adds up, and
// predict gives the same figures.
func (o *outAnswers) build(t *testing.T, b *outBuild) {
	t.Helper()
	s := outSet{list: b.list()}
	known, ok := o.levels[s.key()]
	if !ok {
		price, _, buys := o.c.costs(s.list)
		t.Errorf("%s is no valid build within the cap: %s (%v)", s.key(), dollars(price), buys)
		return
	}
	if got := cents(t, b.Cost); got != known.cents {
		t.Errorf("%s costs %s, by hand %s", s.key(), b.Cost, dollars(known.cents))
	}
	if db := o.objective(b); db < known.db-0.0005 || known.certainDB && db > known.db+0.0005 {
		t.Errorf("%s reads %.3f dB, by predict %.3f (%v)", s.key(), db, known.db, known.certainDB)
	}
	sum, total := int64(0), int64(0)
	for _, p := range b.Parts {
		if !p.Owned {
			sum += int64(p.Count) * cents(t, p.Price)
		}
	}
	for _, x := range b.Labour {
		sum += int64(x.Count) * cents(t, x.Price)
	}
	for _, x := range b.Deals {
		sum -= cents(t, x.Saving)
	}
	for _, x := range b.Taxes {
		sum -= cents(t, x.Sum)
		total += cents(t, x.Sum) + cents(t, x.Tax)
	}
	if total != cents(t, b.Cost) || sum != 0 {
		t.Errorf("%s: sums and taxes are %s, the cost %s; %d cents of lines in no sum", s.key(), dollars(total), b.Cost, sum)
	}
	mode := "stereo" // on channels
	for _, m := range []string{"mono", "bridged"} {
		if strings.Contains(b.Hookup, m+" output") {
			mode = m
		}
	}
	again, _ := o.ask(t, o.c.buildFile(s.list, mode, b.LoadOhm), "predict", "-")
	same := again.Reading == b.Reading && again.Clamp == b.Clamp && again.Limit == b.Limit && again.Hookup == b.Hookup && again.Music == b.Music
	// Where some way of putting these parts together is not allowed, or another of
	// their amplifiers may drive the bass as loudly, predict may have gone that way.
	settled := known.certainDB && !slices.ContainsFunc(known.set.ways, func(w outWay) bool { return w.amp != known.set.ways[0].amp })
	if again.Cost != b.Cost || settled && !same {
		t.Errorf("%s: predict gives\n%+v %+v %s %q %v %s, not\n%+v %+v %s %q %v %s", s.key(), again.Reading, again.Clamp, again.Limit, again.Hookup, again.Music, again.Cost,
			b.Reading, b.Clamp, b.Limit, b.Hookup, b.Music, b.Cost)
	}
}

// ladder holds the steps: each is a valid build, louder than the one before and no
// cheaper in whole cents, and none is missing between them.
func (o *outAnswers) ladder(t *testing.T) {
	d, status := o.ask(t, "", "ladder", o.c.brief)
	if status == statusBadInput {
		return // as pick
	}
	if (status == statusNoBuild) != (len(d.Steps) == 0) {
		t.Errorf("the ladder has %d steps and ends with %d", len(d.Steps), status)
	}
	for i := range d.Steps {
		step := &d.Steps[i]
		o.build(t, &step.Build)
		o.tally.steps++
		if step.Price != step.Build.Cost || step.DB != o.objective(&step.Build) {
			t.Errorf("step %d: %s and %g dB; its build %s and %g dB", i+1, step.Price, step.DB, step.Build.Cost, o.objective(&step.Build))
		}
		if i > 0 && (step.DB <= d.Steps[i-1].DB || cents(t, step.Price) < cents(t, d.Steps[i-1].Price)) {
			t.Errorf("step %d is %s and %g dB, after %s and %g dB", i+1, step.Price, step.DB, d.Steps[i-1].Price, d.Steps[i-1].DB)
		}
	}
	for key, l := range o.levels {
		best := math.Inf(-1)
		for i := range d.Steps {
			if cents(t, d.Steps[i].Price) <= l.cents {
				best = max(best, d.Steps[i].DB)
			}
		}
		if l.verdict == outYes && l.db > best+0.0005 {
			t.Errorf("%s reads %.3f dB for %s, and the ladder has %.3f dB there", key, l.db, dollars(l.cents), best)
		}
	}
}

package optimizer

import (
	"context"
	"fmt"
	"slices"

	"loudfor/catalog"
	"loudfor/optimizer/internal/halt"
	"loudfor/optimizer/setting"
)

// Why nothing can be built. A conflict is a set of requirements that block by
// themselves, with all other requirements set aside, and of which none can be
// spared: with any one of them dropped as well, something can be built. It is
// found by deletion: set the requirements aside one after the other, and take
// back only those without which it would suddenly work.
//
// There can be several conflicts, and then one requirement of each has to give
// way; Requirement.Alone marks those that belong to all, so that dropping one
// of them is enough.

// mostConflicts is how many are worth reading.
const mostConflicts = 4

// blockers are the conflicts of a problem that has no solution, all of them or
// none: a set that was shrunk in haste may name what does not block. The stop
// says why there are none.
func blockers(ctx context.Context, p Problem, car *task) ([][]Requirement, Stop) {
	if p.Shared == nil {
		p.Shared = new(Shared) // the drivers are the same in all questions
	}
	c := &conflictSearch{ctx: ctx, p: p, rules: rulesOf(&p), car: car, known: make(map[string]verdict)}
	sets := c.conflicts()
	if stop := max(halt.By(ctx), c.stop); stop != StopComplete {
		return nil, stop
	}
	return sets, StopComplete
}

// conflictSearch answers whether a problem can be solved without some of its rules.
type conflictSearch struct {
	ctx   context.Context // of the one search among the questions
	p     Problem
	rules []rule
	car   *task // for its cabin, computed once
	known map[string]verdict
	stop  Stop // why some question has no answer
}

type verdict struct {
	price int64 // of the cheapest build, everything included
	ok    bool  // within the cap, unless that is dropped
	any   bool  // a build exists, whatever it costs
}

// conflicts lists what blocks a problem that has no solution.
func (c *conflictSearch) conflicts() [][]Requirement {
	if all := c.without(c.all()); !all.ok {
		return [][]Requirement{c.shelfGaps()}
	}
	var found [][]int
	for queue := [][]int{nil}; len(queue) > 0 && len(found) < mostConflicts && c.stop == StopComplete; queue = queue[1:] {
		set := c.shrink(queue[0])
		if set == nil || slices.ContainsFunc(found, func(f []int) bool { return slices.Equal(f, set) }) {
			continue
		}
		found = append(found, set)
		for _, r := range set {
			if !c.without([]int{r}).ok {
				queue = append(queue, append(slices.Clone(queue[0]), r))
			}
		}
	}
	slices.SortStableFunc(found, func(a, b []int) int { return len(a) - len(b) })
	var sets [][]Requirement
	for _, f := range found {
		sets = append(sets, c.put(f))
	}
	return sets
}

func (c *conflictSearch) all() []int {
	var all []int
	for i := range c.rules {
		all = append(all, i)
	}
	return all
}

// shrink finds a conflict among the rules that are not dropped; nil if the
// problem can be solved without those that are.
func (c *conflictSearch) shrink(dropped []int) []int {
	if c.without(dropped).ok {
		return nil
	}
	out := slices.Clone(dropped)
	var set []int
	for i := range c.rules {
		if slices.Contains(dropped, i) {
			continue
		}
		if c.without(append(slices.Clone(out), i)).ok {
			set = append(set, i)
		} else {
			out = append(out, i)
		}
	}
	return set
}

// without judges the problem with some rules dropped.
func (c *conflictSearch) without(dropped []int) verdict {
	dropped = slices.Clone(dropped)
	slices.Sort(dropped)
	key := fmt.Sprint(dropped)
	if v, known := c.known[key]; known {
		return v
	}
	p, r := c.eased(dropped)
	v := c.judge(p, r)
	c.known[key] = v
	return v
}

// eased is the problem with some rules dropped.
func (c *conflictSearch) eased(dropped []int) (Problem, setting.Relaxation) {
	p, r := c.p, setting.Relaxation{}
	p.Brief.Never, p.Brief.Must = slices.Clone(p.Brief.Never), slices.Clone(p.Brief.Must)
	for _, i := range dropped {
		c.rules[i].drop(&p, &r)
	}
	named := func(m catalog.Mention) bool { return m.SKU == "" }
	p.Brief.Never, p.Brief.Must = slices.DeleteFunc(p.Brief.Never, named), slices.DeleteFunc(p.Brief.Must, named)
	return p, r
}

// judge looks for the cheapest build of a problem; where shops have to be chosen,
// for any that will do.
func (c *conflictSearch) judge(p Problem, r setting.Relaxation) verdict {
	if touring(&p) {
		return c.judgeTours(p, r, false)
	}
	return c.judgeOne(p, r)
}

// judgeOne looks for the cheapest build where no shops have to be chosen.
func (c *conflictSearch) judgeOne(p Problem, r setting.Relaxation) (v verdict) {
	limit := p.Brief.Cap
	p.Brief.Cap = catalog.Money{}
	p.Top = 1
	if c.stop = max(c.stop, halt.By(c.ctx)); c.stop != StopComplete {
		return v // nobody asks any more
	}
	if t, err := readyIn(p, r, c.car); err == nil {
		t.Until(c.ctx)
		sum, any := t.cheapest()
		c.stop = max(c.stop, t.Stop())
		v = verdict{price: t.Tax.Figure(sum), any: any, ok: any && sum <= t.Tax.Limit(limit)}
	}
	return v
}

// put makes requirements of rules, with what exactly would help.
func (c *conflictSearch) put(set []int) []Requirement {
	var all []Requirement
	for _, i := range set {
		q := c.rules[i].Requirement
		q.Alone = c.without([]int{i}).ok
		var dropped []int
		if !q.Alone {
			for k := range c.rules {
				if !slices.Contains(set, k) {
					dropped = append(dropped, k)
				}
			}
		}
		c.mend(&q, dropped)
		all = append(all, q)
	}
	slices.Reverse(all) // the customer's own words first
	return all
}

// shelfGaps says what the catalogue lacks when no rule is to blame.
func (c *conflictSearch) shelfGaps() []Requirement {
	var has [catalog.KindCount]bool
	for _, p := range c.p.Catalogue.Parts {
		owned := slices.ContainsFunc(c.p.Brief.Owned, func(m catalog.Mention) bool { return m.SKU == p.SKU })
		has[p.Kind] = has[p.Kind] || p.Priced || owned
	}
	var all []Requirement
	lack := func(missing bool, what string) {
		if missing {
			all = append(all, Requirement{Kind: RequireKinds, Subject: what, Words: "a build needs " + what, Remedy: "add " + what + " to the catalogue, or to what is owned", Alone: true})
		}
	}
	lack(!has[catalog.KindLoaded] && !has[catalog.KindSubwoofer], "a subwoofer or a loaded enclosure")
	lack(!has[catalog.KindLoaded] && has[catalog.KindSubwoofer] && !has[catalog.KindEnclosure], "an enclosure")
	lack(!has[catalog.KindAmplifier], "an amplifier")
	lack(!has[catalog.KindSource], "a source")
	lack(!has[catalog.KindKit], "a wiring kit")
	for i := range all {
		if all[i].Subject == "a source" {
			all[i].Remedy = "own the radio that is in the car: --own and its SKU, or owned in the brief"
		}
		all[i].Alone = len(all) == 1
	}
	if len(all) == 0 {
		all = append(all, Requirement{Kind: RequireKinds, Subject: "parts that go together", Words: "parts that go together: a driver of the size of a box's hole, and an amplifier with a mode for its coils",
			Remedy: "add such parts to the catalogue"})
	}
	return all
}

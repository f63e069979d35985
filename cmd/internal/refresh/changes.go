package refresh

import (
	"cmp"
	"fmt"
	"maps"
	"slices"

	"loudfor/catalog"
	"loudfor/cmd/library"
)

// Summary is what somebody should know of a refresh, besides its rows.
type Summary struct {
	Jobs, Computed int
	Results        string
	New            int // jobs that were not asked the last time
	Changed        int // another build, or another price of it
	Nothing        int // no build exists
	Failed         int
	Dearer         []Dearer // what costs more than the last time, the steepest first
	Wins           []Win    // parts by how many answers hold them, most first
	Empty          []Count  // shops by how many of their jobs have no build, most first
	Errors         []Count  // messages of failed jobs, by how many there are
}

// Dearer is an answer that costs more than the last time.
type Dearer struct {
	Row
	Was catalog.Money
	By  int64 // minor units
}

// Win says how many answers hold a part.
type Win = Count

// Count says how often something is.
type Count struct {
	What string
	N    int
}

// listed is how many things a summary lists of a kind.
const listed = 10

// finish writes the results, finds out what is new, and makes this refresh the last.
func (r *Refresh) finish() (*Summary, error) {
	sum := &Summary{Jobs: r.jobs.count(), Results: r.plan.Results}
	wins, empty, faults := map[string]int{}, map[string]int{}, map[string]int{}
	each := func(do func(g *Group, i int) error) error {
		for n := range r.jobs.groups() {
			g := r.jobs.group(n)
			for i := range g.Keys {
				if err := do(g, i); err != nil {
					return err
				}
			}
		}
		return nil
	}
	aside := map[string]bool{}
	err := writeRows(r.plan.Results, func(write func(Row) error) error {
		return each(func(g *Group, i int) error {
			a, err := r.store.answer(g.Keys[i])
			if err != nil {
				return err
			}
			row := g.row(i, a)
			before, _, err := r.store.last(g.slot(g.Questions[i]))
			if err != nil {
				return err
			}
			sum.compare(row, a, before)
			for _, m := range a.Parts {
				wins[m.SKU]++
			}
			switch {
			case a.Outcome == failed:
				faults[a.Error]++
				aside[g.Keys[i]] = true
			case len(a.Parts) == 0:
				empty[g.Shop.Name]++
			}
			return write(row)
		})
	})
	if err != nil {
		return nil, fmt.Errorf("the results cannot be written: %w; see that %s may be written, and that its disk has room", err, r.plan.Results)
	}
	sum.Wins, sum.Empty, sum.Errors = most(wins), most(empty), most(faults)
	err = r.store.settle(func(settle func(settled) error) error {
		return each(func(g *Group, i int) error {
			if g.Centre.Hash != none && g.Shop.Name == r.jobs.shops[0].Name { // each car and question once
				key := g.rankingKey(g.Questions[i])
				if err := settle(settled{"ranking " + key, key, g.Centre.Hash}); err != nil {
					return err
				}
			}
			one := settled{g.slot(g.Questions[i]), g.Keys[i], g.Shop.Hash}
			if aside[one.key] { // the next refresh tries again, and knows what was before
				one.key = ""
			}
			return settle(one)
		})
	}, func(hash string) ([]byte, error) { return pack(r.jobs.roots[hash], hash) })
	return sum, err
}

// compare counts a job, and what has become of it since the last time.
func (s *Summary) compare(row Row, a, before *library.Answer) {
	switch {
	case a.Outcome == failed:
		s.Failed++
		return
	case len(a.Parts) == 0:
		s.Nothing++
	}
	if before == nil {
		s.New++
		return
	}
	same := a.Price == before.Price && slices.EqualFunc(a.Parts, before.Parts, func(m, n catalog.Mention) bool { return m.SKU == n.SKU && m.Count == n.Count })
	if !same {
		s.Changed++
	}
	if by := a.Price.Minor - before.Price.Minor; by > 0 && len(a.Parts) > 0 && len(before.Parts) > 0 {
		s.Dearer = append(s.Dearer, Dearer{row, before.Price, by})
		slices.SortStableFunc(s.Dearer, func(x, y Dearer) int { return cmp.Compare(y.By, x.By) })
		s.Dearer = s.Dearer[:min(len(s.Dearer), listed)]
	}
}

// most are the first few by their count, then by name.
func most(counts map[string]int) (all []Count) {
	for what := range maps.Keys(counts) {
		all = append(all, Count{what, counts[what]})
	}
	slices.SortFunc(all, func(a, b Count) int { return cmp.Or(cmp.Compare(b.N, a.N), cmp.Compare(a.What, b.What)) })
	return all[:min(len(all), listed)]
}

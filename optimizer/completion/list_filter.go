package completion

import (
	"cmp"
	"math"
	"slices"

	"loudfor/optimizer/build"
	"loudfor/optimizer/internal/halt"
	"loudfor/optimizer/pricing"
)

// Which completions are behind so many others that they need not be added.

// listFilter keeps completions and tells which need not be added: those that come, by price,
// pieces and SKUs, after depth others that are as loud and draw no more.
type listFilter struct {
	depth    int
	least    build.Level // quieter ones are not asked for
	most     int64       // nor dearer ones
	heedless bool        // of the current, and of who else may need the amplifier
	all      []Completion
	sharp    []Completion // those that stand against others, cheapest without deals first
}

// figure is what a completion counts when it stands against others: for a ranking
// what it costs at most, for a bound on prices what it costs at least.
func (f *listFilter) figure(r *Completion) int64 {
	if f.heedless {
		return r.Price
	}
	return r.full
}

// covers says whether a completion that costs price at least, without which a build is
// cheaper by worth, at least, and that holds some parts need not be added.
//
// One that stands against it has, put in its place, a build that costs less; or
// as much, and then has fewer pieces or an earlier list of SKUs (pricing.Set.Compare).
func (f *listFilter) covers(worth, price int64, parts singles, l build.Level, demand float64) bool {
	if f.heedless {
		worth = price
	}
	var ahead standing
	for i := range f.sharp {
		q := &f.sharp[i]
		if figure := f.figure(q); figure > worth || figure == worth && q.tie.compare(&parts) >= 0 {
			return false
		}
		if q.Level >= l && (f.heedless || q.Demand <= demand) {
			if ahead.add(q.Own, f.heedless || q.free) >= f.depth {
				return true
			}
		}
	}
	return false
}

func (f *listFilter) add(r Completion, t *Lists) {
	r.free = t.free(r.Own)
	f.all = append(f.all, r)
	t.Hold(halt.CompletionBytes)
	at, _ := slices.BinarySearchFunc(f.sharp, r, func(a, b Completion) int {
		return cmp.Or(cmp.Compare(f.figure(&a), f.figure(&b)), a.tie.compare(&b.tie))
	})
	f.sharp = slices.Insert(f.sharp, at, r)
}

// singles are parts of which there is one piece each, by their numbers on the shelf:
// how many, then the numbers, rising, and what is more than all of them. They stand in
// the order of pricing.Set.Compare.
type singles [6]int32

func singlesOf(items ...*pricing.Item) (s singles) {
	for i := range s[1:] {
		s[1+i] = math.MaxInt32
	}
	for _, it := range items {
		s.add(it)
	}
	return s
}

// add adds a part, or none.
func (s *singles) add(it *pricing.Item) {
	if it == nil {
		return
	}
	s[0]++
	at, id := int(s[0]), int32(it.ID)
	for ; at > 1 && s[at-1] > id; at-- {
		s[at] = s[at-1]
	}
	s[at] = id
}

func (s *singles) compare(o *singles) int { return slices.Compare(s[:], o[:]) }

// standing counts what stands against something. The bass may take the pieces of an
// amplifier that are owned, or the last that there are, from a front that would
// have it: what has that amplifier is then no cheaper, or cannot be had. But there
// is one bass amplifier in a build; so of all that stand against something with such
// amplifiers, those with one of them may fail, and the others do not.
type standing struct {
	sure, most int
	unsure     []unsureOwn
}

type unsureOwn struct {
	own *pricing.Item
	n   int
}

// add counts one more, and says how many there are in any build.
func (s *standing) add(own *pricing.Item, free bool) int {
	if s.sure++; !free {
		at := slices.IndexFunc(s.unsure, func(u unsureOwn) bool { return u.own == own })
		if at < 0 {
			at, s.unsure = len(s.unsure), append(s.unsure, unsureOwn{own: own})
		}
		s.unsure[at].n++
		s.most = max(s.most, s.unsure[at].n)
	}
	return s.sure - s.most
}

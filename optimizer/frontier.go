package optimizer

import (
	"cmp"
	"slices"
)

// Which rests are behind so many others that they need not be added.

// frontier keeps rests and tells which need not be added: those that are more
// expensive than depth others that are as loud and draw no more.
type frontier struct {
	depth    int
	least    level // quieter ones are not asked for
	heedless bool  // of the current, and of who else may need the amplifier
	all      []rest
	sharp    []rest // those that may stand against others, cheapest without deals first
}

// covers says whether a rest without which a build is cheaper by worth, at
// least, need not be added.
func (f *frontier) covers(worth int64, l level, demand float64) bool {
	ahead := 0
	for i := range f.sharp {
		q := &f.sharp[i]
		if q.full >= worth {
			return false
		}
		if q.level >= l && (f.heedless || q.demand <= demand) {
			if ahead++; ahead == f.depth {
				return true
			}
		}
	}
	return false
}

func (f *frontier) add(r rest, t *task) {
	f.all = append(f.all, r)
	if !f.heedless && !t.free(r.own) {
		return
	}
	at, _ := slices.BinarySearchFunc(f.sharp, r, func(a, b rest) int { return cmp.Compare(a.full, b.full) })
	f.sharp = slices.Insert(f.sharp, at, r)
}

package optimizer

import (
	"math"
	"math/bits"

	"loudfor/optimizer/build"
	"loudfor/optimizer/pricing"
)

// Lists of rests: each is made when it is asked for first, and kept.

// restList is the rests of one key, cheapest first, with their staircase.
type restList struct {
	all    []rest
	stairs stairs
	cut    bool // there may be more: see halt.go
}

var noRests = new(restList)

// list is every rest of a key that can enter a ranking and costs no more than a
// sum, cheapest first; there may be some that cost a little more. With an amplifier
// in the key, it lists only those that use its spare channels.
func (r *rests) list(k restKey, most int64) *restList {
	if k.amp != nil && k.forced != nil {
		return noRests
	}
	r.mutex.Lock()
	defer r.mutex.Unlock()
	return r.listed(listKey{k, min(ample(most), r.Limit)})
}

// ample rounds a sum up, by a quarter at most, so that one list does for many.
func ample(sum int64) int64 {
	if sum <= 0 {
		return 0
	}
	unit := int64(1) << max(0, bits.Len64(uint64(sum))-3)
	return (sum + unit - 1) / unit * unit
}

func (r *rests) listed(k listKey) *restList {
	if l, known := r.lists[k]; known {
		return l
	}
	f := frontier{depth: r.Depth, least: k.least, most: k.most}
	made := r.compose(&f, k.restKey)
	if k.amp != nil {
		base := r.keysOf(listKey{restKey{speaker: k.speaker, least: k.least}, k.most})
		for i := range made.all {
			made.all[i].twin = base[made.all[i].parts.Key()]
		}
	}
	r.lists[k] = made
	return made
}

// keysOf are the keys of a list of rests.
func (r *rests) keysOf(k listKey) map[string]bool {
	if m, known := r.keys[k]; known {
		return m
	}
	m := make(map[string]bool)
	for _, b := range r.listed(k).all {
		m[b.parts.Key()] = true
	}
	r.keys[k] = m
	return m
}

// quick is the cheapest rest for every level, whatever current it draws: for
// bounds on the price, and for first finds.
func (r *rests) quick(k restKey) *restList {
	r.mutex.Lock()
	defer r.mutex.Unlock()
	if l, known := r.quicks[k]; known {
		return l
	}
	f := frontier{depth: 1, least: build.Silent, most: r.Limit, heedless: true}
	r.quicks[k] = r.compose(&f, k)
	return r.quicks[k]
}

// floor is a lower bound on the price of any rest beside amp, with the first parts
// for that; ok is false when there is none.
func (r *rests) floor(amp, forced *pricing.Item, spare bool) (floor int64, parts pricing.Set, ok bool) {
	speaker := amp.Part.Amplifier.SpeakerInput
	floor = math.MaxInt64
	if l := r.quick(restKey{speaker: speaker, forced: forced}).all; len(l) > 0 {
		floor, parts = l[0].price, l[0].parts
	}
	if spare && forced == nil && (r.spareFloor < floor || r.spareFloor == floor && r.spareParts.Compare(parts) < 0) {
		floor, parts = r.spareFloor, r.spareParts
	}
	return floor, parts, floor < math.MaxInt64
}

// floorOnSpare is that bound when spare channels drive the front, whether they
// can or not.
func (r *rests) floorOnSpare() (int64, pricing.Set) {
	if len(r.choices) == 0 || len(r.sources) == 0 {
		return math.MaxInt64, nil
	}
	source, c := r.sources[0], r.choices[0]
	return source.Lower(1) + c.Lower(1), pricing.Collect(pricing.One(source), pricing.One(c.item))
}

// longest is how long the longest list is that was asked for.
func (r *rests) longest() (n int) {
	for _, l := range r.lists {
		n = max(n, len(l.all))
	}
	return n
}

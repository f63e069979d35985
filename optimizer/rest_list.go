package optimizer

import "math"

// Lists of rests: each is made when it is asked for first, and kept.

// restList is the rests of one key, cheapest first, with their staircase.
type restList struct {
	all    []rest
	stairs stairs
}

var noRests = new(restList)

// list is every rest of a key that can enter a ranking, cheapest first. With
// an amplifier in the key, it lists only those that use its spare channels.
func (r *rests) list(k restKey) *restList {
	if k.amp != nil && k.forced != nil {
		return noRests
	}
	r.mutex.Lock()
	defer r.mutex.Unlock()
	return r.listed(k)
}

func (r *rests) listed(k restKey) *restList {
	if l, known := r.lists[k]; known {
		return l
	}
	f := frontier{depth: r.t.top, least: k.least}
	made := r.compose(&f, k)
	if k.amp != nil {
		base := r.keysOf(restKey{speaker: k.speaker, least: k.least})
		for i := range made.all {
			made.all[i].twin = base[made.all[i].parts.key()]
		}
	}
	r.lists[k] = made
	return made
}

// keysOf are the keys of a list of rests.
func (r *rests) keysOf(k restKey) map[string]bool {
	if m, known := r.keys[k]; known {
		return m
	}
	m := make(map[string]bool)
	for _, b := range r.listed(k).all {
		m[b.parts.key()] = true
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
	f := frontier{depth: 1, least: silent, heedless: true}
	r.quicks[k] = r.compose(&f, k)
	return r.quicks[k]
}

// restFloor is a lower bound on the price of any rest beside amp; ok is false
// when there is none.
func (t *task) restFloor(amp, forced *item, spare bool) (floor int64, ok bool) {
	r := t.rests
	speaker := amp.part.Amplifier.SpeakerInput
	floor = math.MaxInt64
	if l := r.quick(restKey{speaker: speaker, forced: forced}).all; len(l) > 0 {
		floor = l[0].price
	}
	if spare && forced == nil {
		floor = min(floor, r.spareFloor())
	}
	return floor, floor < math.MaxInt64
}

// spareFloor is that bound when spare channels drive the front, whether they
// can or not.
func (r *rests) spareFloor() int64 {
	if len(r.choices) == 0 || len(r.sources) == 0 {
		return math.MaxInt64
	}
	pair := int64(math.MaxInt64)
	for _, c := range r.choices {
		pair = min(pair, c.cost(1))
	}
	return r.sources[0].cost(1) + pair
}

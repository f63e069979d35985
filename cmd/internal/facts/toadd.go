package facts

import (
	"fmt"
	"math"
	"slices"

	"loudfor/catalog"
	"loudfor/model/preferred"
	"loudfor/model/supply"
	"loudfor/optimizer"
	"loudfor/optimizer/drive"
)

// ToAdd is what an installation needs that is no part of its build and in no price: a
// cable and its fuse where there is no kit, another fuse than the kit's, and fuses where
// the cable branches; and the capacitor that may be wished for.
func ToAdd(q Question, b optimizer.Build) (all []string) {
	var kit *catalog.Part
	for _, l := range b.Lines {
		if l.Part.Kind == catalog.KindKit {
			kit = l.Part
		}
	}
	if kit == nil {
		all = append(all, "power cable with its fuse, as under Power")
	} else if fuse, err := (supply.Kit{Area: kit.Kit.Area, Length: q.Vehicle.CableRun, CopperClad: kit.Kit.CopperClad, Fuse: kit.Kit.Fuse}).FuseFor(b.Demand); err == nil && fuse != kit.Kit.Fuse {
		all = append(all, fmt.Sprintf("fuse of %s A, near the battery", Plain(fuse)))
	}
	if branches := Branches(b); len(branches) > 1 {
		all = append(all, fmt.Sprintf("distribution block with %d fuses, as under Power", len(branches)))
	}
	if w, ok := BlockerWish(q, b); ok {
		price := "not priced: ask"
		if w.Part != nil {
			price = w.Part.Price.String() + " before tax"
		}
		all = append(all, fmt.Sprintf("if wished, %s, for the front's full %s W a side (%s; not predicted)", w, Three(b.Front.Given), price))
	}
	return all
}

// Wish is a capacitor in series with each front speaker that would let the cones stand
// their power where the build has no high-pass.
type Wish struct {
	Part      *catalog.Part // of the catalogue; nil: it has none
	Farads    float64
	Hz, Least float64 // the corner that it makes, and from which on the cones stand it
}

func (w Wish) String() string {
	what := Three(w.Farads*1e6) + " uF in series with each speaker"
	if w.Part != nil {
		what = Name(w.Part)
	}
	return what + ", high-pass at " + Hertz(w.Hz)
}

// BlockerWish is the part of the catalogue that keeps enough bass away and the least
// above it, of equal ones the cheapest; where there is none, the largest capacitor of
// the usual series. ok is false where none is needed, or would do.
func BlockerWish(q Question, b optimizer.Build) (w Wish, ok bool) {
	f := b.Front
	if f.Power == optimizer.FromNothing || f.HighPass > 0 {
		return w, false
	}
	f.Stage.Order = 1
	hz, enough := f.Stage.HighPassFor(f.Given)
	if !enough || hz == 0 {
		return w, false
	}
	load := f.Stage.Load
	w.Least = hz
	for _, p := range q.Shelf {
		if p.Kind != catalog.KindBlocker || !offered(q.Brief, p) {
			continue
		}
		c := p.Blocker.Capacitance
		if preferred.Corner(load, c) >= hz && (c > w.Farads || c == w.Farads && p.Price.Minor < w.Part.Price.Minor) {
			w.Part, w.Farads = p, c
		}
	}
	if w.Part == nil {
		if w.Farads = preferred.Blocker(load, hz); preferred.Corner(load, w.Farads) < hz {
			w.Farads = preferred.Nearest(w.Farads/1.5, preferred.BlockerSeries) // the nearest lets too much through
		}
	}
	w.Hz = preferred.Corner(load, w.Farads)
	return w, true
}

// offered says whether a customer of the brief can have a part.
func offered(brief catalog.Brief, p *catalog.Part) bool {
	never := slices.ContainsFunc(brief.Never, func(m catalog.Mention) bool { return m.SKU == p.SKU })
	return p.Priced && p.InStock() != 0 && !never && (p.Store == "" || brief.Sells(p.Store))
}

// Branches are the steady currents, A, of the amplifiers of a build, each what it draws
// or its own fuses stand, whichever is more; bass first.
func Branches(b optimizer.Build) (amps []float64) {
	add := func(part *catalog.Part, count int) {
		for range count {
			amps = append(amps, math.Max(drive.Draw(part.Amplifier.Spec), part.Amplifier.Spec.Fuse))
		}
	}
	if b.Bass.Amplifier != nil {
		add(b.Bass.Amplifier, max(b.Bass.Amplifiers, 1))
	}
	if b.Front.Power == optimizer.FromOwn && b.Front.Amplifier != nil {
		add(b.Front.Amplifier, 1)
	}
	return amps
}

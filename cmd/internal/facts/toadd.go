package facts

import (
	"fmt"
	"math"
	"slices"

	"loudfor/catalog"
	"loudfor/model/preferred"
	"loudfor/model/supply"
	"loudfor/optimizer"
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
	if farads, hz := Capacitor(b); farads > 0 {
		what, price := blocker(q, b, farads, hz)
		all = append(all, fmt.Sprintf("if wished, %s for the front's full %s W a side (%s; not predicted)", what, Three(b.Front.Given), price))
	}
	return all
}

// Capacitor is what in series with each front speaker would let the cones stand their
// power where the build has no high-pass, F, and the corner that it takes, Hz; 0: none is
// needed, or would do.
func Capacitor(b optimizer.Build) (farads, hz float64) {
	f := b.Front
	if f.Power == optimizer.FromNothing || f.HighPass > 0 {
		return 0, 0
	}
	f.Stage.Order = 1
	hz, enough := f.Stage.HighPassFor(f.Given)
	if !enough || hz == 0 {
		return 0, 0
	}
	return preferred.Blocker(f.Stage.Load, hz), hz
}

// blocker is the cheapest of the catalogue that keeps as much bass away, and its price;
// where there is none, the capacitor by itself.
func blocker(q Question, b optimizer.Build, farads, hz float64) (what, price string) {
	var best *catalog.Part
	for _, p := range q.Shelf {
		never := slices.ContainsFunc(q.Brief.Never, func(m catalog.Mention) bool { return m.SKU == p.SKU })
		if p.Kind == catalog.KindBlocker && p.Priced && p.Stock != 0 && !never && preferred.Corner(b.Front.Stage.Load, p.Blocker.Capacitance) >= hz &&
			(best == nil || p.Price.Minor < best.Price.Minor) {
			best = p
		}
	}
	if best == nil {
		return fmt.Sprintf("%s uF in series with each front speaker", Three(farads*1e6)), "not priced: ask"
	}
	return Name(best), best.Price.String() + " before tax"
}

// Branches are the steady currents, A, of the amplifiers of a build, each what it draws
// or its own fuses stand, whichever is more; bass first.
func Branches(b optimizer.Build) (amps []float64) {
	add := func(part *catalog.Part, count int) {
		for range count {
			amps = append(amps, math.Max(optimizer.Draw(part.Amplifier.Spec), part.Amplifier.Spec.Fuse))
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

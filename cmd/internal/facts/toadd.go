package facts

import (
	"fmt"
	"math"

	"loudfor/catalog"
	"loudfor/model/supply"
	"loudfor/optimizer"
)

// ToAdd is what an installation needs that is no part of its build and in no price: a
// cable and its fuse where there is no kit, another fuse than the kit's, and fuses where
// the cable branches.
func ToAdd(v catalog.Vehicle, b optimizer.Build) (all []string) {
	var kit *catalog.Part
	for _, l := range b.Lines {
		if l.Part.Kind == catalog.KindKit {
			kit = l.Part
		}
	}
	if kit == nil {
		all = append(all, "power cable with its fuse, as under Power")
	} else if fuse, err := (supply.Kit{Area: kit.Kit.Area, Length: v.CableRun, CopperClad: kit.Kit.CopperClad, Fuse: kit.Kit.Fuse}).FuseFor(b.Demand); err == nil && fuse != kit.Kit.Fuse {
		all = append(all, fmt.Sprintf("fuse of %s A, near the battery", Plain(fuse)))
	}
	if branches := Branches(b); len(branches) > 1 {
		all = append(all, fmt.Sprintf("distribution block with %d fuses, as under Power", len(branches)))
	}
	return all
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

package amplifier_test

import (
	"fmt"

	"loudfor/model/amplifier"
)

func ExampleSpec_Source() {
	spec := amplifier.Spec{
		Channels: 2, Class: amplifier.ClassAB, Fuse: 40,
		Ratings: []amplifier.Rating{
			{Mode: amplifier.Bridged, Load: 4, Watts: 200, Basis: amplifier.Standard},
			{Mode: amplifier.Bridged, Load: 8, Watts: 120, Basis: amplifier.Standard},
		},
	}
	src, minimum, notes, ok := spec.Source(amplifier.Bridged)
	fmt.Printf("%.1f V behind %.2f ohm, at most %.1f A; minimum %g ohm; %d notes; %v\n",
		src.OpenVoltage, src.Resistance, src.Current, minimum, len(notes), ok)
	// Output: 31.9 V behind 0.12 ohm, at most 7.1 A; minimum 4 ohm; 0 notes; true
}

// A claim that the fuse cannot carry is cut, and the note says why.
func ExampleSpec_Source_claim() {
	spec := amplifier.Spec{
		Channels: 1, Class: amplifier.ClassD, Fuse: 50,
		Ratings: []amplifier.Rating{{Mode: amplifier.Mono, Load: 1, Watts: 3000}},
	}
	_, _, notes, _ := spec.Source(amplifier.Mono)
	fmt.Printf("%.0f W instead of %.0f W: %s\n", notes[0].CutTo, notes[0].Claimed, notes[0].Reason)
	// Output: 576 W instead of 3000 W: a fuse of 50 A passes 720 W at 14.4 V, of which at most 576 W become sound (efficiency 0.80)
}

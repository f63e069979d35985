package cabin

import "testing"

// BenchmarkRespond is one full response at one place: 63 frequencies, 3 x 3
// and 6 x 6 tiles.
func BenchmarkRespond(b *testing.B) {
	car, _ := BodyNamed("small sedan")
	hz := sweep()
	for _, set := range car.OpeningNames() {
		b.Run(set, func(b *testing.B) {
			for b.Loop() {
				if _, err := car.Respond(hz, "dash", set, 20); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}

// BenchmarkEnsemble is 64 cars, as a band takes, the exact response included.
func BenchmarkEnsemble(b *testing.B) {
	car, _ := BodyNamed("small sedan")
	hz := sweep()
	for _, set := range []string{"shut", "doors open"} {
		b.Run(set, func(b *testing.B) {
			for b.Loop() {
				if _, err := car.Ensemble(hz, "dash", set, 20, 64, 1); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}

package optimizer

import (
	"loudfor/model/amplifier"
	"loudfor/model/hookup"
	"loudfor/optimizer/pricing"
	"loudfor/optimizer/setting"
	"reflect"
	"testing"
)

// What a class remembers of wirings is what the task works out, whatever was asked
// before.
func TestPlansThatAClassRemembers(t *testing.T) {
	full := &gear{Book: &pricing.Book{Setting: &setting.Setting{}}, wirings: &wirings{known: make(map[planKey][]hookup.Plan)}}
	f := filler{gear: full, class: &class{drivers: 4, coils: 2, load: 4}}
	for range 2 {
		for _, mode := range []amplifier.Mode{amplifier.Mono, amplifier.Stereo, amplifier.Bridged, amplifier.Paralleled} {
			for _, minimum := range []float64{1, 2, 4} {
				for outputs := 1; outputs <= 4; outputs++ {
					for k := 1; k <= 2; k++ {
						m := modePower{mode: mode, minimum: minimum, outputs: 4}
						got, want := f.plansOf(k, &m, outputs), full.plans(4/k, 2, 4, m, outputs)
						if !reflect.DeepEqual(got, want) {
							t.Errorf("%v, %d amplifiers, %d outputs from %g ohm: %v, want %v", mode, k, outputs, minimum, got, want)
						}
					}
				}
			}
		}
	}
}

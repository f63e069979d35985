package drive

import (
	"reflect"
	"testing"

	"loudfor/model/amplifier"
	"loudfor/model/hookup"
	"loudfor/optimizer/pricing"
	"loudfor/optimizer/setting"
)

// What a class remembers of wirings is what the task works out, whatever was asked
// before.
func TestPlansThatAClassRemembers(t *testing.T) {
	full := &Gear{Book: &pricing.Book{Setting: &setting.Setting{}}, planMemo: &planMemo{known: make(map[planKey][]hookup.Plan)}}
	f := filler{Gear: full, load: &CoilLoad{Drivers: 4, Coils: 2, Ohm: 4}}
	for range 2 {
		for _, mode := range []amplifier.Mode{amplifier.Mono, amplifier.Stereo, amplifier.Bridged, amplifier.Paralleled} {
			for _, minimum := range []float64{1, 2, 4} {
				for outputs := 1; outputs <= 4; outputs++ {
					for k := 1; k <= 2; k++ {
						m := ModePower{Mode: mode, Minimum: minimum, Outputs: 4}
						got, want := f.plansOf(k, &m, outputs), full.Plans(4/k, 2, 4, m, outputs)
						if !reflect.DeepEqual(got, want) {
							t.Errorf("%v, %d amplifiers, %d outputs from %g ohm: %v, want %v", mode, k, outputs, minimum, got, want)
						}
					}
				}
			}
		}
	}
}

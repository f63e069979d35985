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

// A cable that may be any carries what is asked of it, and more than any amplifier draws
// where nothing is.
func TestCapacityOfARelaxedCable(t *testing.T) {
	it := &pricing.Item{}
	for _, c := range []struct {
		relaxed setting.Relaxation
		least   float64
		exactly bool
	}{{setting.Relaxation{}, 60, true}, {setting.Relaxation{Cable: true, Amps: 40}, 60, true}, {setting.Relaxation{Cable: true, Amps: 90}, 90, true}, {setting.Relaxation{Cable: true}, 1e6, false}} {
		gear := &Gear{Book: &pricing.Book{Setting: &setting.Setting{Relaxed: c.relaxed}}, Kits: map[*pricing.Item]*Cable{it: {Capacity: 60}}}
		if got := gear.CapacityOf(it); got < c.least || c.exactly && got > c.least {
			t.Errorf("%+v: %g A, want %g", c.relaxed, got, c.least)
		}
	}
}

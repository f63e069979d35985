package setting_test

import (
	"testing"

	"loudfor/catalog"
	"loudfor/model/bass"
	"loudfor/model/supply"
	"loudfor/optimizer/build"
	"loudfor/optimizer/setting"
)

// TestFilledIn: what a brief states holds, and where it says nothing, the defaults do.
func TestFilledIn(t *testing.T) {
	plain, usual := setting.New(build.Problem{}, setting.Relaxation{}), catalog.DefaultBrief()
	if b := plain.Brief; b.Boxes != usual.Boxes || b.Drivers != usual.Drivers || b.Amplifiers != usual.Amplifiers || b.Place != usual.Place || b.Openings != usual.Openings {
		t.Errorf("%+v", b)
	}
	if plain.Reading != bass.Reading() {
		t.Errorf("%+v, want %+v", plain.Reading, bass.Reading())
	}
	stated := catalog.Brief{Boxes: 3, Drivers: 4, Amplifiers: 2, Place: "headrest", Openings: "doors open", Overdrive: 1.4, Burst: 7, Space: catalog.Size3{Width: 1, Depth: 1, Height: 1}}
	s := setting.New(build.Problem{Brief: stated, Vehicle: catalog.Vehicle{Alternator: 100, Standby: 20, Space: catalog.Size3{Width: 2, Depth: 2, Height: 2}}}, setting.Relaxation{})
	if b := s.Brief; b.Boxes != 3 || b.Drivers != 4 || b.Amplifiers != 2 || b.Place != "headrest" || b.Openings != "doors open" || s.Space != stated.Space {
		t.Errorf("%+v", b)
	}
	if s.Reading.Overdrive != 1.4 || s.Reading.Burst != 7 {
		t.Errorf("%+v", s.Reading)
	}
	// At idle 0.6 of 100 A, less the car's own 20.
	if s.Feed.Reserve != 40 || s.Feed.Volts != supply.RunningVolts {
		t.Errorf("%+v", s.Feed)
	}
	car := setting.New(build.Problem{Vehicle: catalog.Vehicle{Space: catalog.Size3{Width: 2, Depth: 2, Height: 2}}}, setting.Relaxation{})
	if car.Space.Width != 2 {
		t.Errorf("%+v", car.Space)
	}
	p := build.Problem{Catalogue: &catalog.Catalogue{Currency: "EUR"}}
	if got := setting.New(p, setting.Relaxation{}).Money(123); got != (catalog.Money{Minor: 123, Currency: "EUR"}) {
		t.Errorf("%v", got)
	}
}

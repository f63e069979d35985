package memo

import (
	"testing"

	"loudfor/model/air"
	"loudfor/model/cabin"
	"loudfor/model/driver"
)

// What is remembered is what would be worked out, and of a car that stands in another
// way nothing is.
func TestRememberedIsTheSame(t *testing.T) {
	card, bad := &driver.Card{Size: 0.3048, Coils: 1, CoilLoad: 4, Fs: 30, Qts: 0.5, Vas: 0.058, Xmax: 0.01, Power: 250}, &driver.Card{Size: 0.3, Fs: -1}
	want, err := driver.Estimate(*card, air.At(20))
	if err != nil {
		t.Fatal(err)
	}
	var s Shared
	for range 2 {
		for _, from := range []*Shared{&s, nil} {
			if got, err := from.Complete(card, air.At(20)); err != nil || got != want {
				t.Errorf("%+v, %v", got, err)
			}
			if _, err := from.Complete(bad, air.At(20)); err == nil {
				t.Error("an impossible card is possible the second time")
			}
		}
	}
	at := Spot{Body: cabin.Bodies()[0], Place: "dash", Openings: "shut", Celsius: 20}
	first := s.Room(at)
	if second := s.Room(at); second != first {
		t.Error("one spot twice")
	}
	for _, change := range []func(*Spot){func(s *Spot) { s.Place = "kick panel" }, func(s *Spot) { s.Openings = "doors open" }, func(s *Spot) { s.Celsius = 30 }, func(s *Spot) { s.Body = cabin.Bodies()[1] }} {
		other := at
		if change(&other); s.Room(other) == s.Room(at) {
			t.Errorf("%+v is taken for another spot", other)
		}
	}
	lost := at
	lost.Place = "nowhere"
	if all, err := s.Room(lost).Draw(3, 1); err == nil || all != nil {
		t.Error("draws of no place")
	}
	if all, err := s.Room(at).Draw(3, 1); err != nil || len(all) != 3 {
		t.Errorf("%d draws, %v", len(all), err)
	}
}

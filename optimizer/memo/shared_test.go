package memo

import (
	"reflect"
	"testing"

	"loudfor/model/air"
	"loudfor/model/bass"
	"loudfor/model/cabin"
	"loudfor/model/driver"
	"loudfor/model/parallel"
)

// TestKnownIsTheSame: what is asked a second time is what was worked out the first
// time, and that is what there is without any memory.
func TestKnownIsTheSame(t *testing.T) {
	body, _ := cabin.BodyNamed("small hatch")
	at := Spot{Body: body, Place: "dash", Openings: "shut", Celsius: 20}
	var none *Shared
	s := new(Shared)
	card := driver.Card{Size: 0.254, Fs: 32, Qts: 0.5, Vas: 0.04}
	want, err := driver.Estimate(card, air.At(20))
	if err != nil {
		t.Fatal(err)
	}
	for range 2 {
		for _, shared := range []*Shared{none, s} {
			if got, err := shared.Complete(&card, air.At(20)); err != nil || !reflect.DeepEqual(got, want) {
				t.Errorf("%+v, %v, want %+v", got, err, want)
			}
			if _, err := shared.Complete(&driver.Card{Size: -1}, air.At(20)); err == nil {
				t.Error("a driver of less than no size is completed")
			}
		}
	}
	room := s.Room(at)
	if s.Room(at) != room || none.Room(at) == room {
		t.Error("one spot is two, or two are one")
	}
	if own := s.Cars(); own.Room(at) != room || own.Cars().Room(at) != room || len(own.cones) > 0 {
		t.Error("a car is not remembered for other cards")
	}
	other := at
	if other.Celsius = 30; s.Room(other) == room {
		t.Error("a warmer car is taken for this one")
	}
	response, err := body.Respond(bass.Grid(), "dash", "shut", 20)
	if err != nil {
		t.Fatal(err)
	}
	near, err := body.NearbyKnown(response, "dash", "shut", 20)
	if err != nil {
		t.Fatal(err)
	}
	for n := 2; n <= 3; n++ {
		list, err := near.Ensemble(n, 5)
		if err != nil {
			t.Fatal(err)
		}
		for range 2 {
			if got, err := room.Respond(); err != nil || !reflect.DeepEqual(got, response) {
				t.Errorf("the response is another, %v", err)
			}
			if got, err := room.Draw(n, 5); err != nil || !reflect.DeepEqual(got, list) {
				t.Errorf("%d draws of %d are others, %v", len(got), n, err)
			}
		}
	}
	other.Place = "the moon"
	if _, err := s.Room(other).Draw(2, 5); err == nil {
		t.Error("draws of a place that is none")
	}
}

// Of many spots the latest are kept, and one that was forgotten is found anew.
func TestSpotsAreForgotten(t *testing.T) {
	s := new(Shared)
	at := func(i int) Spot { return Spot{Place: "dash", Celsius: float64(i)} }
	first := s.Room(at(0))
	for i := range mostRooms {
		if s.Room(at(0)) != first {
			t.Fatalf("forgotten for %d others", i)
		}
		s.Room(at(i + 1))
	}
	if len(s.rooms) != mostRooms || s.Room(at(0)) == first {
		t.Errorf("%d spots are kept, want %d", len(s.rooms), mostRooms)
	}
}

// What a panic cut short is never taken for an answer by those who come later.
func TestBrokenIsNoAnswer(t *testing.T) {
	s := new(Shared)
	var nowhere *driver.Card
	for range 2 {
		var err error
		if fault := parallel.Caught(func() { _, err = s.Complete(nowhere, air.At(20)) }); fault == nil && err == nil {
			t.Error("no card at all is completed")
		}
	}
}

// What is made of a key is kept for it and no other one, and nowhere without a memory.
func TestOf(t *testing.T) {
	type key struct{ n int }
	s, made := new(Shared), 0
	square := func(s *Shared, n int) int {
		return Of(s, key{n}, func() int { made++; return n * n })
	}
	for range 2 {
		if a, b := square(s, 3), square(s, 4); a != 9 || b != 16 {
			t.Errorf("%d and %d", a, b)
		}
		if got := Of(s, 3, func() string { return "three" }); got != "three" {
			t.Errorf("%q", got)
		}
	}
	if made != 2 {
		t.Errorf("made %d times, want twice", made)
	}
	if square(nil, 5); made != 3 {
		t.Error("nothing remembers")
	}
}

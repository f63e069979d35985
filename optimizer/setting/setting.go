package setting

import (
	"fmt"
	"strings"

	"loudfor/catalog"
	"loudfor/model/air"
	"loudfor/model/bass"
	"loudfor/model/cabin"
	"loudfor/model/front"
	"loudfor/model/parallel"
	"loudfor/model/supply"
	"loudfor/optimizer/build"
	"loudfor/optimizer/memo"
)

// openFieldDistance is how far the meter is from a box on open ground, m.
const openFieldDistance = 1.0

// Setting is one car, one place of the meter and one brief, with everything
// that they fix for all builds: what the brief leaves out filled in, and the
// cabin's response.
type Setting struct {
	Problem build.Problem // as it was asked
	Brief   catalog.Brief
	Vehicle catalog.Vehicle
	Relaxed Relaxation

	Air     air.Air
	Car     *memo.Room // what gave the room, and gives the draws around it; nil in the open
	Room    *cabin.Response
	Cabin   front.Room
	Reading bass.Limits // how far a reading pushes the equipment
	Feed    supply.Feed // without the cable
	Space   catalog.Size3
	Open    bool // open field: no car around
}

// New fills in what a problem leaves out. The car is entered apart, since its
// response costs more than all else.
func New(p build.Problem, r Relaxation) *Setting {
	t := &Setting{Problem: p, Brief: p.Brief, Vehicle: p.Vehicle, Relaxed: r}
	t.fillIn()
	t.Reading = bass.Reading()
	if t.Brief.Overdrive > 0 {
		t.Reading.Overdrive = t.Brief.Overdrive
	}
	if t.Brief.Burst > 0 {
		t.Reading.Burst = t.Brief.Burst
	}
	t.Feed = supply.Feed{
		Volts: supply.RunningVolts, BatteryVolts: supply.RestedVolts, BatteryResistance: supply.TypicalBatteryResistance,
		Reserve: supply.Reserve(t.Alternator(), t.Vehicle.Standby),
	}
	return t
}

// Entered is a setting with its car.
func Entered(p build.Problem) (*Setting, error) {
	t := New(p, Relaxation{})
	return t, t.Enter(nil)
}

// fillIn puts the defaults where the brief says nothing.
func (t *Setting) fillIn() {
	b, d := &t.Brief, catalog.DefaultBrief()
	whole := func(v *int, d int) {
		if *v <= 0 {
			*v = d
		}
	}
	whole(&b.Boxes, d.Boxes)
	whole(&b.Drivers, d.Drivers)
	whole(&b.Amplifiers, d.Amplifiers)
	if b.Place == "" {
		b.Place = d.Place
	}
	if b.Openings == "" {
		b.Openings = d.Openings
	}
	t.Space = b.Space
	if t.Space == (catalog.Size3{}) {
		t.Space = t.Vehicle.Space
	}
	t.Open = strings.EqualFold(t.Vehicle.Name, catalog.OpenFieldName) || strings.EqualFold(b.Vehicle, catalog.OpenFieldName)
}

// Alternator is the rated current, A: the brief's if stated, else the vehicle's.
func (t *Setting) Alternator() float64 {
	if t.Brief.Alternator > 0 {
		return t.Brief.Alternator
	}
	return t.Vehicle.Alternator
}

// Enter puts the setting into its car; same, if not nil, is another one of the
// same car and place, whose response is taken over.
func (t *Setting) Enter(same *Setting) error {
	if same != nil {
		t.Air, t.Car, t.Room, t.Cabin = same.Air, same.Car, same.Room, same.Cabin
		return nil
	}
	t.Air = air.At(t.Brief.Celsius)
	if t.Open {
		r := cabin.OpenField(bass.Grid(), openFieldDistance, t.Air)
		t.Room = &r
		return nil
	}
	t.Car = t.Problem.Shared.Room(memo.Spot{Body: t.Vehicle.Body, Place: t.Brief.Place, Openings: t.Brief.Openings, Celsius: t.Brief.Celsius})
	r, err := t.Car.Respond()
	if err != nil {
		return err
	}
	t.Room = &r
	c := t.Vehicle.Body.Cavity
	t.Cabin = front.Room{Length: c.Length, Width: c.Width, Height: c.Height}
	return nil
}

// Music says that the goal is the level with music.
func (t *Setting) Music() bool { return t.Brief.Goal == catalog.GoalMusic }

// Workers is how many goroutines to use.
func (t *Setting) Workers() int { return parallel.Workers(t.Problem.Workers) }

// Currency is that of all sums.
func (t *Setting) Currency() string {
	if t.Problem.Catalogue.Currency != "" {
		return t.Problem.Catalogue.Currency
	}
	return t.Brief.Cap.Currency
}

// Money is a sum of minor units.
func (t *Setting) Money(minor int64) catalog.Money {
	return catalog.Money{Minor: minor, Currency: t.Currency()}
}

// Place says where the meter is.
func (t *Setting) Place() string {
	if t.Open {
		return fmt.Sprintf("%g m", openFieldDistance)
	}
	return t.Brief.Place
}

// Openings says which of the car's stand open.
func (t *Setting) Openings() string {
	if t.Open {
		return catalog.OpenFieldName
	}
	return t.Brief.Openings
}

package optimizer

import (
	"fmt"
	"strings"

	"loudfor/catalog"
	"loudfor/model/air"
	"loudfor/model/bass"
	"loudfor/model/cabin"
	"loudfor/model/front"
	"loudfor/model/supply"
	"loudfor/optimizer/internal/parallel"
	"loudfor/optimizer/memo"
)

// openFieldDistance is how far the meter is from a box on open ground, m.
const openFieldDistance = 1.0

// setting is one car, one place of the meter and one brief, with everything
// that they fix for all builds: what the brief leaves out filled in, and the
// cabin's response.
type setting struct {
	p       Problem // as it was asked
	brief   catalog.Brief
	vehicle catalog.Vehicle
	relaxed relaxed

	air     air.Air
	car     *memo.Room // what gave the room, and gives the draws around it; nil in the open
	room    *cabin.Response
	cabin   front.Room
	reading bass.Limits // how far a reading pushes the equipment
	feed    supply.Feed // without the cable
	space   catalog.Size3
	open    bool // open field: no car around
}

// newSetting fills in what a problem leaves out. The car is entered apart, since its
// response costs more than all else.
func newSetting(p Problem, r relaxed) *setting {
	t := &setting{p: p, brief: p.Brief, vehicle: p.Vehicle, relaxed: r}
	t.fillIn()
	t.reading = bass.Reading()
	if t.brief.Overdrive > 0 {
		t.reading.Overdrive = t.brief.Overdrive
	}
	if t.brief.Burst > 0 {
		t.reading.Burst = t.brief.Burst
	}
	t.feed = supply.Feed{
		Volts: supply.RunningVolts, BatteryVolts: supply.RestedVolts, BatteryResistance: supply.TypicalBatteryResistance,
		Reserve: supply.Reserve(t.alternator(), t.vehicle.Standby),
	}
	return t
}

// settingOf is a setting with its car.
func settingOf(p Problem) (*setting, error) {
	t := newSetting(p, relaxed{})
	return t, t.enter(nil)
}

// fillIn puts the defaults where the brief says nothing.
func (t *setting) fillIn() {
	b, d := &t.brief, catalog.DefaultBrief()
	whole := func(v *int, d int) {
		if *v <= 0 {
			*v = d
		}
	}
	whole(&b.Boxes, d.Boxes)
	whole(&b.Drivers, d.Drivers)
	whole(&b.Amplifiers, d.Amplifiers)
	if b.FrontWatts == 0 {
		b.FrontWatts = d.FrontWatts
	}
	if b.Celsius == 0 {
		b.Celsius = d.Celsius
	}
	if b.Place == "" {
		b.Place = d.Place
	}
	if b.Openings == "" {
		b.Openings = d.Openings
	}
	t.space = b.Space
	if t.space == (catalog.Size3{}) {
		t.space = t.vehicle.Space
	}
	t.open = strings.EqualFold(t.vehicle.Name, catalog.OpenFieldName) || strings.EqualFold(b.Vehicle, catalog.OpenFieldName)
}

// alternator is the rated current, A: the brief's if stated, else the vehicle's.
func (t *setting) alternator() float64 {
	if t.brief.Alternator > 0 {
		return t.brief.Alternator
	}
	return t.vehicle.Alternator
}

// enter puts the setting into its car; same, if not nil, is another one of the
// same car and place, whose response is taken over.
func (t *setting) enter(same *setting) error {
	if same != nil {
		t.air, t.car, t.room, t.cabin = same.air, same.car, same.room, same.cabin
		return nil
	}
	t.air = air.At(t.brief.Celsius)
	if t.open {
		r := cabin.OpenField(bass.Grid(), openFieldDistance, t.air)
		t.room = &r
		return nil
	}
	t.car = t.p.Shared.Room(memo.Spot{Body: t.vehicle.Body, Place: t.brief.Place, Openings: t.brief.Openings, Celsius: t.brief.Celsius})
	r, err := t.car.Respond()
	if err != nil {
		return err
	}
	t.room = &r
	c := t.vehicle.Body.Cavity
	t.cabin = front.Room{Length: c.Length, Width: c.Width, Height: c.Height}
	return nil
}

// music says that the goal is the level with music.
func (t *setting) music() bool { return t.brief.Goal == catalog.GoalMusic }

// workers is how many goroutines to use.
func (t *setting) workers() int { return parallel.Workers(t.p.Workers) }

// currency is that of all sums.
func (t *setting) currency() string {
	if t.p.Catalogue.Currency != "" {
		return t.p.Catalogue.Currency
	}
	return t.brief.Cap.Currency
}

// money is a sum of minor units.
func (t *setting) money(minor int64) catalog.Money {
	return catalog.Money{Minor: minor, Currency: t.currency()}
}

// place says where the meter is.
func (t *setting) place() string {
	if t.open {
		return fmt.Sprintf("%g m", openFieldDistance)
	}
	return t.brief.Place
}

// openings says which of the car's stand open.
func (t *setting) openings() string {
	if t.open {
		return catalog.OpenFieldName
	}
	return t.brief.Openings
}

package learning

import (
	"math"
	"slices"

	"gonum.org/v1/gonum/mat"

	"loudfor/model/bass"
	"loudfor/model/cabin"
)

// The prediction of all readings for a vector of unknowns, and its slopes.
//
// The car is the slow part: a few milliseconds with the doors open. So all
// readings of one place and openings are computed together at their own
// frequencies only, each slope moves one unknown of the car in the coarse
// tiling alone (cabin.Nearby), the smooth error's slopes are known in closed
// form, and those of driver, box and amplifier need no car at all.

// quantity is what one observation is of.
type quantity int

const (
	ofLevel quantity = iota // dB
	ofOhms                  // logarithm of the impedance
	ofVolts                 // logarithm of the voltage at full output
)

// observation is one number that was measured.
type observation struct {
	reading int
	of      quantity
	value   float64
	sigma   float64
}

// deliberate is the share of the amplifier's open voltage under which the gain
// was turned down on purpose: such a voltage says nothing of the amplifier.
const deliberate = 0.5

func (s *Study) observations(readings []Reading) []observation {
	var all []observation
	for i, r := range readings {
		all = append(all, observation{i, ofLevel, r.DB, r.Tolerance})
		if r.Volts > 0 && r.Amps > 0 {
			all = append(all, observation{i, ofOhms, math.Log(r.Volts / r.Amps), ohmsTolerance})
		}
		if r.Volts > deliberate*s.Cases[r.Case].Drive.Source.OpenVoltage {
			all = append(all, observation{i, ofVolts, math.Log(r.Volts), voltsTolerance})
		}
	}
	return all
}

// group is the readings of one place with one set of openings.
type group struct {
	near     *cabin.Nearby
	hz       []float64 // rising
	place    int       // number of the place in the body; -1: not one of its own
	readings []int
	at       []int // number in hz of each reading
}

// view computes readings (or would-be readings) of a study.
type view struct {
	s        *Study
	readings []Reading
	seen     []observation
	of       [][]int // observations of each reading
	groups   []group
	prepared bass.Prepared
}

func (s *Study) view(readings []Reading) (*view, error) {
	v := &view{s: s, readings: readings, seen: s.observations(readings), of: make([][]int, len(readings))}
	for i, o := range v.seen {
		v.of[o.reading] = append(v.of[o.reading], i)
	}
	type key struct{ place, openings string }
	at := map[key]int{}
	for i, r := range readings {
		k := key{r.Place, r.Openings}
		if _, ok := at[k]; !ok {
			at[k] = len(v.groups)
			v.groups = append(v.groups, group{})
		}
		g := &v.groups[at[k]]
		g.readings = append(g.readings, i)
		g.hz = append(g.hz, r.Hz)
	}
	body := s.Body
	body.Learned = nil
	for i := range v.groups {
		g := &v.groups[i]
		slices.Sort(g.hz)
		g.hz = slices.Compact(g.hz)
		first := readings[g.readings[0]]
		var err error
		if g.near, err = body.Nearby(g.hz, first.Place, first.Openings, s.Celsius); err != nil {
			return nil, err
		}
		g.place = body.PlaceNumber(first.Place)
		for _, n := range g.readings {
			j, _ := slices.BinarySearch(g.hz, readings[n].Hz)
			g.at = append(g.at, j)
		}
	}
	return v, nil
}

// car is the unknowns of the car as a deviation.
func (v *view) car(x []float64) cabin.Deviation { return cabin.DeviationOf(x[:v.s.cabins]) }

// predict gives all observations for the unknowns x.
func (v *view) predict(x []float64) []float64 {
	out := make([]float64, len(v.seen))
	for i := range v.groups {
		g := &v.groups[i]
		room := g.near.At(v.car(x))
		for c := range v.s.Cases {
			v.fill(out, g, c, &room, x)
		}
	}
	return out
}

// fill computes the observations of one group and one case.
func (v *view) fill(out []float64, g *group, c int, room *cabin.Response, x []float64) {
	if !slices.ContainsFunc(g.readings, func(n int) bool { return v.readings[n].Case == c }) {
		return
	}
	k := &v.s.Cases[c]
	setup, drive := k.varied(v.s.part(x, c))
	if bass.PrepareInto(&v.prepared, setup, room) != nil {
		// A box so small that its driver no longer fits: as it was stated.
		setup.Box.Volume, setup.Box.FrontVolume, setup.Driver = k.Setup.Box.Volume, k.Setup.Box.FrontVolume, k.Setup.Driver
		if bass.PrepareInto(&v.prepared, setup, room) != nil {
			return
		}
	}
	for n, i := range g.readings {
		r := &v.readings[i]
		if r.Case != c {
			continue
		}
		full := r.full(drive)
		at := bass.Operation{}
		if r.Volts > 0 {
			at = v.prepared.At(g.at[n], clamped(drive, r.Volts), unlimited(k.Limits))
		} else {
			at = v.prepared.At(g.at[n], full, k.Limits)
		}
		for _, o := range v.of[i] {
			switch v.seen[o].of {
			case ofLevel:
				out[o] = at.Level
			case ofOhms:
				out[o] = math.Log(at.Load)
			case ofVolts:
				out[o] = math.Log(max(leastVolts, v.prepared.At(g.at[n], full, k.Limits).Volts))
			}
		}
	}
}

// leastVolts keeps the logarithm of a silent amplifier finite.
const leastVolts = 1e-3

// step is how far an unknown is moved for a slope, standard deviations: far
// enough from the grain of the search for the loudest, near enough to be
// straight.
const step = 0.1

// slopes gives the prediction at x and its slopes, one row an observation.
func (v *view) slopes(x []float64) ([]float64, *mat.Dense) {
	base := make([]float64, len(v.seen))
	moved := make([]float64, len(v.seen))
	j := mat.NewDense(max(1, len(v.seen)), v.s.unknowns, nil)
	y := slices.Clone(x)
	column := func(g *group, k int, cases func(out []float64, y []float64)) {
		y[k] = x[k] + step
		cases(moved, y)
		y[k] = x[k]
		for _, i := range g.readings {
			for _, o := range v.of[i] {
				j.Set(o, k, (moved[o]-base[o])/step)
			}
		}
	}
	for i := range v.groups {
		g := &v.groups[i]
		room := g.near.At(v.car(x))
		for c := range v.s.Cases {
			v.fill(base, g, c, &room, x)
		}
		for k := range v.s.cabins {
			if !v.matters(g, k) {
				continue
			}
			column(g, k, func(out, y []float64) {
				near := g.near.At(v.car(y))
				for c := range v.s.Cases {
					v.fill(out, g, c, &near, y)
				}
			})
		}
		v.smooth(j, g)
		for c := range v.s.Cases {
			from := v.s.cabins + c*caseUnknowns
			for k := from; k < from+caseUnknowns; k++ {
				column(g, k, func(out, y []float64) {
					copy(out, base)
					v.fill(out, g, c, &room, y)
				})
			}
		}
	}
	return base, j
}

// matters says whether an unknown of the car moves a group's readings in a way
// that has to be computed.
func (v *view) matters(g *group, k int) bool {
	switch {
	case k < cabin.ShapeFrom:
		return g.near.Moves(k)
	case k < cabin.PlacesFrom:
		return false
	}
	place, one := (k-cabin.PlacesFrom)/cabin.PerPlace, (k-cabin.PlacesFrom)%cabin.PerPlace
	return place == max(g.place, 0) && one < cabin.PerPlace-1
}

// smooth sets the slopes of the smooth error and of what the inside does at the
// place, which only move levels, and by as much whatever else is so.
func (v *view) smooth(j *mat.Dense, g *group) {
	unit := make([]float64, v.s.cabins)
	set := func(k int) {
		if k >= len(unit) {
			return
		}
		unit[k] = 1
		d := cabin.DeviationOf(unit)
		for _, i := range g.readings {
			for _, o := range v.of[i] {
				if v.seen[o].of == ofLevel {
					j.Set(o, k, g.near.Gain(d, v.readings[i].Hz))
				}
			}
		}
		unit[k] = 0
	}
	for term := range cabin.ShapeTerms {
		set(cabin.ShapeFrom + term)
	}
	set(cabin.PlacesFrom + max(g.place, 0)*cabin.PerPlace + cabin.PerPlace - 1)
}

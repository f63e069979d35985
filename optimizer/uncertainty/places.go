package uncertainty

import (
	"context"
	"errors"
	"fmt"

	"loudfor/catalog"
	"loudfor/model/bass"
	"loudfor/model/parallel"
	"loudfor/optimizer/build"
	"loudfor/optimizer/setting"
)

// What a build will show elsewhere in its car: at every place and with every
// set of openings, on the meter and on the clamp. An installation that shows
// these figures is done as planned, so they are its acceptance test. The parts
// are drawn as for the bands of a ranking, so that a figure here and there for
// the same place is one figure.

// Spot is a place of the vehicle with a set of its openings.
type Spot struct{ Place, Openings string }

// Passed is what filters let through, Hz; the zero Passed lets all of it.
type Passed struct{ From, To float64 }

// loudest is the loudest tone that is let through; of all, where none is.
func (f Passed) loudest(p *bass.Prepared, d bass.Drive, l bass.Limits) (best bass.Operation) {
	found := false
	if f.To > 0 {
		for i, hz := range p.Hz() {
			if hz < f.From || hz > f.To {
				continue
			}
			if o := p.At(i, d, l); !found || o.Level > best.Level {
				best, found = o, true
			}
		}
	}
	if !found {
		return p.Loudest(d, l)
	}
	return best
}

// Expected is what meters will show at a spot while the loudest tone plays.
type Expected struct {
	Spot
	bass.Operation         // at the frequency of the reading
	Band           float64 // of the level, dB: half the width of its 90 % interval
	VoltsBand      float64 // of the voltage at one output, at that frequency
	AmpsBand       float64
}

// Spots lists every place with every set of openings of a vehicle, in its
// order; nil on open ground, where there is neither.
func Spots(v catalog.Vehicle) []Spot {
	if v.OpenField {
		return nil
	}
	var all []Spot
	for _, openings := range v.Body.OpeningNames() {
		for _, place := range v.Body.PlaceNames() {
			all = append(all, Spot{place, openings})
		}
	}
	return all
}

// Elsewhere predicts a build of a problem's car at other spots of it, with the loudest
// tone that its filters pass: at all of them, or the error is the context's.
func Elsewhere(ctx context.Context, p build.Problem, b *build.Build, spots []Spot, f Passed) ([]Expected, error) {
	if b.Bass.Amplifier == nil || b.Bass.Part == nil {
		return nil, errors.New("a build without an amplifier or a driver shows nothing")
	}
	all := make([]Expected, len(spots))
	faults := make([]error, len(spots))
	parallel.Each(parallel.Workers(p.Workers), len(spots), func(i int) {
		if ctx.Err() == nil {
			all[i], faults[i] = at(p, b, spots[i], f)
		}
	})
	return all, errors.Join(append(faults, ctx.Err())...)
}

// at is one spot.
func at(p build.Problem, b *build.Build, s Spot, f Passed) (Expected, error) {
	p.Brief.Place, p.Brief.Openings = s.Place, s.Openings
	e := Expected{Spot: s}
	t, err := setting.Entered(p)
	if err != nil {
		return e, fmt.Errorf("%s, %s: %w", s.Place, s.Openings, err)
	}
	prepared, err := bass.Prepare(b.Setup(t.Air), t.Room)
	if err != nil {
		return e, err
	}
	drive := b.Drive()
	e.Operation = f.loudest(prepared, drive, t.Reading)
	rooms, err := Rooms(t)
	if err != nil {
		return e, err
	}
	peak := frequency(prepared, e.Hz)
	var levels, volts, amps []float64
	Redraw(t, b, rooms, func(p *bass.Prepared, drive bass.Drive) {
		o, same := e.Operation, e.Operation
		if p != nil {
			o, same = f.loudest(p, drive, t.Reading), p.At(peak, drive, t.Reading)
		}
		levels, volts, amps = append(levels, o.Level), append(volts, same.Volts), append(amps, same.Amps)
	})
	e.Band, e.VoltsBand, e.AmpsBand = HalfWidth(levels), HalfWidth(volts), HalfWidth(amps)
	return e, nil
}

// frequency is the number of a frequency of a prediction.
func frequency(p *bass.Prepared, hz float64) int {
	for i, f := range p.Hz() {
		if f == hz {
			return i
		}
	}
	return 0
}

package optimizer

import (
	"context"
	"errors"
	"fmt"

	"loudfor/catalog"
	"loudfor/model/air"
	"loudfor/model/amplifier"
	"loudfor/model/bass"
)

// What a build will show elsewhere in its car: at every place and with every
// set of openings, on the meter and on the clamp. An installation that shows
// these figures is done as planned, so they are its acceptance test. The parts
// are drawn as for the bands of a ranking, so that a figure here and there for
// the same place is one figure.

// Spot is a place of the vehicle with a set of its openings.
type Spot struct{ Place, Openings string }

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

// Setup is the build's box with its drivers, at an air.
func (b *Build) Setup(a air.Air) bass.Setup {
	s := bass.Setup{Driver: b.Bass.Driver, Box: b.Bass.Box, Boxes: b.Bass.Boxes, Air: a}
	if b.Bass.Part.Kind == catalog.KindSubwoofer {
		s.Displacement = b.Bass.Part.Subwoofer.Displacement
	}
	return s
}

// Drive is what drives them.
func (b *Build) Drive() bass.Drive {
	source, _, _, _ := b.Bass.Amplifier.Amplifier.Spec.Source(b.Plan.Mode)
	return bass.Drive{Outputs: b.Bass.Amplifiers * b.Plan.Outputs, Series: b.Plan.Series, Parallel: b.Plan.Parallel, Source: source, Feed: b.Feed}
}

// Elsewhere predicts a build of a problem's car at other spots of it: at all of
// them, or the error is the context's.
func Elsewhere(ctx context.Context, p Problem, b *Build, spots []Spot) ([]Expected, error) {
	if b.Bass.Amplifier == nil || b.Bass.Part == nil {
		return nil, errors.New("a build without an amplifier or a driver shows nothing")
	}
	all := make([]Expected, len(spots))
	faults := make([]error, len(spots))
	workers := (&task{p: p}).workers()
	each(workers, len(spots), func(i int) {
		if ctx.Err() == nil {
			all[i], faults[i] = at(p, b, spots[i])
		}
	})
	return all, errors.Join(append(faults, ctx.Err())...)
}

// at is one spot.
func at(p Problem, b *Build, s Spot) (Expected, error) {
	t := &task{p: p, brief: p.Brief, vehicle: p.Vehicle}
	t.brief.Place, t.brief.Openings = s.Place, s.Openings
	t.fillIn()
	t.pushed()
	e := Expected{Spot: s}
	if err := t.enter(); err != nil {
		return e, fmt.Errorf("%s, %s: %w", s.Place, s.Openings, err)
	}
	prepared, err := bass.Prepare(b.Setup(t.air), t.room)
	if err != nil {
		return e, err
	}
	drive := b.Drive()
	e.Operation = prepared.Loudest(drive, t.reading)
	rooms, err := t.cars()
	if err != nil {
		return e, err
	}
	peak := frequency(prepared, e.Hz)
	var levels, volts, amps []float64
	t.redraw(b, rooms, func(p *bass.Prepared, drive bass.Drive) {
		o, same := e.Operation, e.Operation
		if p != nil {
			o, same = p.Loudest(drive, t.reading), p.At(peak, drive, t.reading)
		}
		levels, volts, amps = append(levels, o.Level), append(volts, same.Volts), append(amps, same.Amps)
	})
	e.Band, e.VoltsBand, e.AmpsBand = halfWidth(levels), halfWidth(volts), halfWidth(amps)
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

// Draw is the current, A, that an amplifier can draw with all its channels at
// their ratings, honestly counted: what its cable and fuse have to stand.
func Draw(s amplifier.Spec) float64 { return ratePower(s).demand }

// FitsSpace says whether so many equal boxes fit a space, by the rule of the
// search.
func FitsSpace(box, space catalog.Size3, boxes int) bool { return fitsSpace(box, space, boxes) }

// Passes says whether a box goes through the opening of a boot, by the same.
func Passes(box catalog.Size3, opening [2]float64) bool { return passes(box, opening) }

package advice

import (
	"context"
	"math"
	"slices"
	"sort"

	"loudfor/catalog"
	"loudfor/model/bass"
	"loudfor/model/cabin"
	"loudfor/model/supply"
	"loudfor/optimizer"
	"loudfor/optimizer/setting"
	"loudfor/optimizer/uncertainty"
)

// What every customer asks about a build besides its level: will my lights dim,
// what room is left, how low does it play, how loud is it with the windows up,
// and what did my car do before. Each is a figure of the model, worked out here
// once; terminal, page, quote and JSON only word it.

// Asked are the answers. What is not known, or has no meaning on open ground, is
// nil or empty.
type Asked struct {
	Lights  *Lights
	Room    *setting.Left
	Low     *Low
	Windows []uncertainty.Expected // the reading shut, windows open, doors open
	Before  *optimizer.Front       // what plays today; see optimizer.Answers
}

// Lights is what the bass does to the voltage at the battery, the engine idling.
type Lights struct {
	Idle  float64 // V at the battery while nothing plays
	Note  Sag     // a sustained note at full level
	Music Sag     // the heaviest bass note of balanced music, as loud as that gets
	// Quieter is by how much the note has to be turned down for lamps not to dim, dB;
	// Alternator the rating, A, with which they would not as it is. Zero: not
	// needed, or no alternator would do.
	Quieter, Alternator float64
	// Mend is the cheapest change of amplifier or cable after which they do not
	// and the build is at most Noticed quieter; nil: not needed, or there is none.
	Mend *Mended
}

// Sag is a state of the supply.
type Sag struct {
	Volts, Amps float64 // at the battery
	Dip         float64 // V below idle
	Band        float64 // of the dip: half the width of its 90 % interval
}

// Dims tells whether lamps visibly dim.
func (s Sag) Dims() bool { return s.Dip >= supply.VisibleDip }

// Mended is a build without the fault.
type Mended struct {
	Build optimizer.Build
	Cost  catalog.Money // more than the build costs; negative: less
	Dip   float64       // V that is left
}

// Low is how low a build plays.
type Low struct {
	Hz    float64 // lowest frequency within LowFall of the middle of the bass
	Band  float64 // half the width of its 90 % interval, Hz
	Place string  // of the listener's head
	Ends  bool    // the prediction ends there, not the bass
	// Tuning of the port, Hz, below which the box holds no cone, so that it plays
	// there quietly alone; 0: none.
	Tuning float64
}

const (
	// LowFall is by how much the bass may have fallen where it counts as its lower
	// end, dB below LowMiddle.
	LowFall = 6.0

	// LowMiddle, Hz, is the middle of the bands from 31.5 to 80 Hz that music is
	// weighed by: the exact centre of the 50 Hz band (IEC 61260-1, base-ten system).
	LowMiddle = 50.1187234

	listening = "headrest" // where ears are, if the car knows the place
)

// asOpened are the sets of openings that a customer asks about.
var asOpened = []string{"shut", "windows open", "doors open"}

// AskedOf answers for a build of a problem. The error is ErrStopped where the context
// ended it.
func AskedOf(ctx context.Context, p optimizer.Problem, b *optimizer.Build) (*Asked, error) {
	p.Known, p.With, p.Progress = nil, "", nil
	if p.Shared == nil {
		p.Shared = new(optimizer.Shared)
	}
	t, err := setting.Entered(p)
	if err != nil {
		return nil, err
	}
	a := &Asked{}
	if t.Open {
		return a, nil // there is no car
	}
	if a.Lights, err = lightsOf(t, b); err != nil {
		return nil, err
	}
	if a.Lights.Note.Dims() {
		if a.Lights.Mend, err = mend(ctx, p, b); err != nil {
			return nil, err
		}
	}
	if left, ok := setting.LeftOf(outside(b), t.Space, b.Bass.Boxes); ok {
		a.Room = &left
	}
	if a.Low, err = lowOf(p, b); err != nil {
		return nil, err
	}
	var spots []uncertainty.Spot
	known := p.Vehicle.Body.OpeningNames()
	for _, o := range asOpened {
		if slices.Contains(known, o) {
			spots = append(spots, uncertainty.Spot{Place: t.Brief.Place, Openings: o})
		}
	}
	a.Windows, err = uncertainty.Elsewhere(ctx, p, b, spots, uncertainty.Passed{})
	if ctx.Err() != nil {
		err = ErrStopped
	}
	if err != nil {
		return nil, err
	}
	series, err := optimizer.NewSeries(among(p, func(string) bool { return false }))
	if err != nil {
		return nil, err
	}
	a.Before, err = series.Today(p)
	return a, err
}

// outside is the size of each box; zero: not stated.
func outside(b *optimizer.Build) catalog.Size3 {
	if b.Bass.Enclosure != nil {
		return b.Bass.Enclosure.Enclosure.Outside
	}
	return b.Bass.Part.Loaded.Outside
}

// lightsOf asks the supply. The peak of a bass note outlasts any capacitor, so that
// a note of music is as steady to it as the meter's tone. What the front takes at
// the same time is little, and left out as it is from the levels.
func lightsOf(t *setting.Setting, b *optimizer.Build) (*Lights, error) {
	prepared, err := bass.Prepare(b.Setup(t.Air), t.Room)
	if err != nil {
		return nil, err
	}
	rooms, err := uncertainty.Rooms(t)
	if err != nil {
		return nil, err
	}
	feed, down := b.Feed, turnedDown(t, b)
	l := &Lights{Idle: feed.Idle()}
	drive := b.Drive()
	note, music := prepared.Loudest(drive, t.Reading).Watts, heaviest(prepared, drive, down)
	l.Note, l.Music = sag(feed, note, drive.Source.Efficiency), sag(feed, music, drive.Source.Efficiency)
	var notes, songs []float64
	uncertainty.Redraw(t, b, rooms, func(p *bass.Prepared, drive bass.Drive) {
		n, m := note, music
		if p != nil {
			n, m = p.Loudest(drive, t.Reading).Watts, heaviest(p, drive, down)
		}
		notes = append(notes, sag(feed, n, drive.Source.Efficiency).Dip)
		songs = append(songs, sag(feed, m, drive.Source.Efficiency).Dip)
	})
	l.Note.Band, l.Music.Band = uncertainty.HalfWidth(notes), uncertainty.HalfWidth(songs)
	if l.Note.Dims() {
		l.Quieter = 10 * math.Log10(note/feed.WattsAt(supply.VisibleDip, drive.Source.Efficiency))
		if reserve, ok := feed.ReserveAt(supply.VisibleDip, note, drive.Source.Efficiency); ok {
			l.Alternator = supply.AlternatorFor(reserve, t.Vehicle.Standby)
		}
	}
	return l, nil
}

func sag(f supply.Feed, watts, efficiency float64) Sag {
	volts, amps, _ := f.Battery(watts, efficiency)
	return Sag{Volts: volts, Amps: amps, Dip: f.Idle() - volts}
}

// turnedDown is by how much the bass is turned down in balanced music, dB: where the
// front is the weaker side.
func turnedDown(t *setting.Setting, b *optimizer.Build) float64 {
	return max(0, b.Music.Bass-t.Brief.BassLift-b.Music.DB)
}

// heaviest is the most audio power that a note of music takes, W. Turned down, a
// system strains less, so that this is no less than it is.
func heaviest(p *bass.Prepared, d bass.Drive, down float64) float64 {
	most := 0.0
	for i, hz := range p.Hz() {
		if hz >= lowestNote && hz <= highestNote {
			most = max(most, p.At(i, d, bass.Music()).Watts)
		}
	}
	return most * math.Pow(10, -down/10)
}

// lowestNote and highestNote, Hz, are the edges of the bands that music is
// weighed by.
const lowestNote, highestNote = 31.6227766, 79.4328235

// lowOf looks for the end of the bass at the listener's head, everything shut: in
// the response at a volume that strains nothing, which is that of every volume below.
func lowOf(p optimizer.Problem, b *optimizer.Build) (*Low, error) {
	if slices.Contains(p.Vehicle.Body.PlaceNames(), listening) {
		p.Brief.Place = listening
	}
	if slices.Contains(p.Vehicle.Body.OpeningNames(), asOpened[0]) {
		p.Brief.Openings = asOpened[0]
	}
	t, err := setting.Entered(p)
	if err != nil {
		return nil, err
	}
	prepared, err := bass.Prepare(b.Setup(t.Air), t.Room)
	if err != nil {
		return nil, err
	}
	var rooms []cabin.Response
	if rooms, err = uncertainty.Rooms(t); err != nil {
		return nil, err
	}
	l := &Low{Place: t.Brief.Place, Tuning: prepared.Circuit().Tuning}
	l.Hz, l.Ends = lowest(prepared, b.Drive())
	var ends []float64
	uncertainty.Redraw(t, b, rooms, func(p *bass.Prepared, drive bass.Drive) {
		hz := l.Hz
		if p != nil {
			hz, _ = lowest(p, drive)
		}
		ends = append(ends, hz)
	})
	l.Band = uncertainty.HalfWidth(ends)
	return l, nil
}

// lowest goes down from the middle to where the level has fallen by LowFall; over
// a step of the grid, decibels over log frequency are straight.
func lowest(p *bass.Prepared, d bass.Drive) (hz float64, ends bool) {
	grid := p.Hz()
	level := func(i int) float64 { return p.SmallSignal(i, d, 1).Level }
	i := min(max(1, sort.SearchFloat64s(grid, LowMiddle)), len(grid)-1)
	part := math.Log(LowMiddle/grid[i-1]) / math.Log(grid[i]/grid[i-1])
	least := level(i-1) + part*(level(i)-level(i-1)) - LowFall
	above := LowMiddle
	at := least + LowFall
	for i--; i >= 0; i-- {
		now := level(i)
		if now < least {
			return above * math.Pow(grid[i]/above, (at-least)/(at-now)), false
		}
		above, at = grid[i], now
	}
	return above, true
}

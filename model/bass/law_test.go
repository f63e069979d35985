package bass

import (
	"math"
	"reflect"
	"testing"

	"pgregory.net/rapid"

	"loudfor/model/supply"
)

const (
	// lawTolerance, dB, is what rounding may do to a law that holds exactly
	// in real numbers.
	lawTolerance = 1e-9
	// travelAccuracy is relative, of the travel at which a limit is reached
	// on a smooth supply; cellAccuracy where it may bend or give way.
	travelAccuracy = 2e-6
	cellAccuracy   = 1.01 / 1024
)

// improve makes one or several things about a drive better.
func improve(t *rapid.T, d Drive) Drive {
	better := func(name string, v *float64, factor float64) {
		if rapid.Bool().Draw(t, name) {
			*v *= factor
		}
	}
	more := func(name string, v *float64) { better(name, v, draw(t, name+" by", 1, 3)) }
	less := func(name string, v *float64) { better(name, v, rapid.Float64Range(0, 1).Draw(t, name+" by")) }
	more("more voltage", &d.Source.OpenVoltage)
	more("more current", &d.Source.Current)
	less("less resistance", &d.Source.Resistance)
	more("more efficient", &d.Source.Efficiency)
	less("thicker cable", &d.Feed.CableResistance)
	less("better battery", &d.Feed.BatteryResistance)
	return d
}

// A better drive never gives less: at any frequency, at the peak, in music.
func TestBetterDriveNeverReadsLower(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := drawPrepared(t)
		d, l := drawDrive(t, p), drawLimits(t)
		b := improve(t, d)
		for i := range p.hz {
			if was, is := p.At(i, d, l), p.At(i, b, l); is.Level < was.Level-lawTolerance {
				t.Fatalf("point %d fell from %v to %v", i, was, is)
			}
		}
		if was, is := p.Loudest(d, l).Level, p.Loudest(b, l).Level; is < was-lawTolerance {
			t.Fatalf("peak fell from %v to %v", was, is)
		}
		if was, is := MusicLevel(p, d), MusicLevel(p, b); is < was-lawTolerance {
			t.Fatalf("music fell from %v to %v", was, is)
		}
	})
}

// So does a relaxed limit.
func TestRelaxedLimitNeverReadsLower(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := drawPrepared(t)
		d, l := drawDrive(t, p), drawLimits(t)
		r := l
		r.Overdrive *= draw(t, "overdrive by", 1, 3)
		r.CoilRise *= draw(t, "rise by", 1, 3)
		r.PortSpeed *= draw(t, "port speed by", 1, 3)
		r.Burst /= draw(t, "burst by", 1, 100)
		if was, is := p.Loudest(d, l).Level, p.Loudest(d, r).Level; is < was-lawTolerance {
			t.Fatalf("peak fell from %v to %v", was, is)
		}
	})
}

// Loudest is the best of all frequencies, the lowest of equal ones, and its
// short cuts change nothing. The ceiling is above it.
func TestLoudestIsTheBestOfTheCurve(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := drawPrepared(t)
		d, l := drawDrive(t, p), drawLimits(t)
		got, best := p.Loudest(d, l), Operation{Level: math.Inf(-1)}
		for _, o := range p.Curve(d, l) {
			if o.Level > best.Level {
				best = o
			}
		}
		if math.Abs(got.Level-best.Level) > lawTolerance {
			t.Fatalf("loudest %v, best of the curve %v", got, best)
		}
		if ceiling := p.Ceiling(l); got.Level > ceiling+lawTolerance {
			t.Fatalf("%v dB above the ceiling of %v", got.Level, ceiling)
		}
	})
}

// A level to be beaten changes nothing but the time that it takes.
func TestLoudestAbove(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := drawPrepared(t)
		d, l := drawDrive(t, p), drawLimits(t)
		want := p.Loudest(d, l)
		by := rapid.Float64Range(0.001, 20).Draw(t, "by")
		if got, ok := p.LoudestAbove(want.Level-by, d, l); !ok || math.Abs(got.Level-want.Level) > lawTolerance {
			t.Fatalf("above %g less: %v %v, want %v", by, ok, got, want)
		}
		if got, ok := p.LoudestAbove(want.Level+by, d, l); ok {
			t.Fatalf("above %g more: %v", by, got)
		}
	})
}

// A tie goes to the lowest frequency.
func TestTieGoesToTheLowestFrequency(t *testing.T) {
	p := prepare(t, setup(sealedBox()), car([]float64{50, 51, 52}))
	for i := range p.points {
		p.points[i] = p.points[1]
	}
	for first := range p.points {
		p.best.Store(int32(first))
		if o := p.Loudest(modestDrive(), Reading()); o.Hz != 50 {
			t.Errorf("beginning at point %d: %g Hz", first, o.Hz)
		}
	}
}

// A strong enough amplifier reaches the ceiling.
func TestCeilingIsReached(t *testing.T) {
	for name, b := range boxes() {
		p := prepare(t, setup(b), car(Grid()))
		d := modestDrive()
		d.Source.OpenVoltage, d.Source.Current, d.Source.Efficiency = 1e4, 1e5, 1
		d.Feed.Reserve, d.Feed.CableResistance = 1e6, 0
		o, ceiling := p.Loudest(d, Reading()), p.Ceiling(Reading())
		if math.Abs(o.Level-ceiling) > lawTolerance {
			t.Errorf("%s: %.6f dB, ceiling %.6f", name, o.Level, ceiling)
		}
		if o.Limit != LimitTravel && o.Limit != LimitHeat && o.Limit != LimitPort {
			t.Errorf("%s: limit %v of an amplifier without limits", name, o.Limit)
		}
	}
}

// At the level found one limit is just reached and none is passed.
func TestOneLimitIsReached(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := drawPrepared(t)
		d, l := drawDrive(t, p), drawLimits(t)
		stiff := rapid.Bool().Draw(t, "stiff")
		if stiff {
			d.Feed = supply.Stiff()
		}
		var b bounds
		p.bind(d, l, &b)
		for j := range p.points {
			top, _ := p.crossing(j, &b, rival{ties: true})
			u, refused := top.u, top.refused
			var s state
			p.at(j, u, &b, &s)
			if strain, _ := b.strain(u, &s); stiff && math.Abs(strain-1) > travelAccuracy {
				t.Fatalf("point %d, u = %g: strain %.8f", j, u, strain)
			}
			below := u * (1 - cellAccuracy)
			p.at(j, below, &b, &s)
			if strain, _ := b.strain(below, &s); strain > 1 {
				t.Fatalf("point %d, just below u = %g: a limit is passed, %.8f", j, u, strain)
			}
			p.at(j, refused, &b, &s)
			if strain, _ := b.strain(refused, &s); strain <= 1 || refused > u*(1+cellAccuracy) {
				t.Fatalf("point %d, u = %g: refused only at %g, strain %.8f", j, u, refused, strain)
			}
		}
	})
}

// No number out of any function is ever not a number, or infinite.
func TestAlwaysFinite(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := drawPrepared(t)
		d := drawDrive(t, p)
		switch rapid.IntRange(0, 5).Draw(t, "odd drive") {
		case 1:
			d.Source.OpenVoltage = 0
		case 2:
			d.Source.Current = 0
		case 3:
			d.Source.Efficiency = 0
		case 4:
			d.Source.OpenVoltage, d.Source.Current = 1e9, 1e9
		case 5:
			d = Drive{}
		}
		l := drawLimits(t)
		switch rapid.IntRange(0, 5).Draw(t, "odd limits") {
		case 1:
			l.Overdrive = 0
		case 2:
			l.CoilRise = 0
		case 3:
			l.CoilRise, l.PortSpeed = math.Inf(1), math.Inf(1)
		case 4:
			l.Burst, l.Crest = 0, 40
		case 5:
			l = Limits{}
		}
		ops := append(p.Curve(d, l), p.Loudest(d, l), p.SmallSignal(0, d, 2.83))
		for _, o := range ops {
			finiteOperation(t, o)
		}
		for _, v := range []float64{p.Ceiling(l), MusicLevel(p, d), p.Bands(d, l)} {
			if math.IsNaN(v) || math.IsInf(v, 0) {
				t.Fatalf("level %g", v)
			}
		}
	})
}

func finiteOperation(t *rapid.T, o Operation) {
	t.Helper()
	v := reflect.ValueOf(o)
	for i := range v.NumField() {
		if f := v.Field(i); f.CanFloat() && (math.IsNaN(f.Float()) || math.IsInf(f.Float(), 0)) {
			t.Fatalf("%s is %g in %+v", v.Type().Field(i).Name, f.Float(), o)
		}
	}
}

// Nothing is allocated where a search spends its time.
func TestNoAllocation(t *testing.T) {
	room := car(Grid())
	for name, b := range boxes() {
		s, d, l := setup(b), modestDrive(), Reading()
		p := prepare(t, s, room)
		n := testing.AllocsPerRun(20, func() {
			if err := PrepareInto(p, s, room); err != nil {
				t.Fatal(err)
			}
			p.Loudest(d, l)
			p.Ceiling(l)
			MusicLevel(p, d)
		})
		if n != 0 {
			t.Errorf("%s: %g allocations", name, n)
		}
	}
}

// Memory that was used before gives the same as fresh memory.
func TestPrepareIntoUsedMemory(t *testing.T) {
	room := car(Grid())
	var p Prepared
	for range 2 {
		for name, b := range boxes() {
			if err := PrepareInto(&p, setup(b), room); err != nil {
				t.Fatal(err)
			}
			if got, want := p.Loudest(modestDrive(), Reading()), prepare(t, setup(b), room).Loudest(modestDrive(), Reading()); got != want {
				t.Errorf("%s: %+v from used memory, %+v from fresh", name, got, want)
			}
		}
	}
}

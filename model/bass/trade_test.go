package bass

import (
	"math"
	"testing"
)

// Facts of the trade (common practice, no source): not fitted, only watched.

// Doubling the power brings 2 to 3 dB: 3.01 by arithmetic, less what heat,
// travel and losses take near the limits.
func TestDoublingThePower(t *testing.T) {
	for name, b := range boxes() {
		p := prepare(t, setup(b), car(Grid()))
		d := modestDrive()
		d.Source.Current = 60
		d.Source.OpenVoltage = 20
		last := p.Loudest(d, Reading()).Level
		for range 2 {
			d.Source.OpenVoltage *= math.Sqrt2
			o := p.Loudest(d, Reading())
			if gain := o.Level - last; gain < 2 || gain > 3.02 {
				t.Errorf("%s, %.0f V: doubling the power brings %.2f dB", name, d.Source.OpenVoltage, gain)
			}
			last = o.Level
		}
		// Past the travel, more power brings next to nothing.
		d.Source.OpenVoltage *= 8
		before := p.Loudest(d, Reading()).Level
		d.Source.OpenVoltage *= math.Sqrt2
		if gain := p.Loudest(d, Reading()).Level - before; gain > 0.5 {
			t.Errorf("%s: at the end of all travel, doubling still brings %.2f dB", name, gain)
		}
	}
}

// The nominal 4 ohm of a value twelve in a sealed box rise to 1.3 to 4 times
// that at the peak.
func TestLoadRise(t *testing.T) {
	p := prepare(t, setup(sealedBox()), car(Grid()))
	o := p.Loudest(modestDrive(), Reading())
	if rise := o.Load / p.driver.CoilLoad; rise < 1.3 || rise > 4 {
		t.Errorf("load %.1f ohm at %.1f Hz, %.2f times nominal", o.Load, o.Hz, rise)
	}
	if o.Hz < 40 || o.Hz > 55 {
		t.Errorf("peak at %.1f Hz", o.Hz)
	}
}

// A supply that gives way holds an amplifier back, and says so.
func TestWeakSupply(t *testing.T) {
	p := prepare(t, setup(sealedBox()), car(Grid()))
	d := modestDrive()
	d.Source.OpenVoltage, d.Source.Current = 40, 30
	strong := p.Loudest(d, Reading())
	d.Feed.Reserve, d.Feed.CableResistance, d.Feed.BatteryResistance = 0, 0.08, 0.05
	weak := p.Loudest(d, Reading())
	if weak.Level >= strong.Level-0.5 {
		t.Errorf("%.2f dB with a weak supply, %.2f with a strong one", weak.Level, strong.Level)
	}
	if weak.Limit != LimitSupply || strong.Limit == LimitSupply {
		t.Errorf("limits: %v with the weak supply, %v with the strong one", weak.Limit, strong.Limit)
	}
	if weak.SupplyVolts >= strong.SupplyVolts {
		t.Errorf("supply %.2f V and %.2f V", weak.SupplyVolts, strong.SupplyVolts)
	}
}

// Each limit binds where it must.
func TestEachLimitBinds(t *testing.T) {
	for _, c := range []struct {
		limit  Limit
		change func(*Setup, *Drive, *Limits)
	}{
		{LimitVoltage, func(_ *Setup, d *Drive, _ *Limits) { d.Source.OpenVoltage = 5 }},
		{LimitCurrent, func(_ *Setup, d *Drive, _ *Limits) { d.Source.Current = 0.5 }},
		{LimitTravel, func(s *Setup, _ *Drive, _ *Limits) { s.Driver.Xmax = 0.001 }},
		{LimitHeat, func(_ *Setup, _ *Drive, l *Limits) { l.CoilRise = 1 }},
		{LimitPort, func(s *Setup, _ *Drive, l *Limits) { s.Box = ventedBox(); l.PortSpeed = 2 }},
	} {
		s, d, l := setup(sealedBox()), modestDrive(), Reading()
		c.change(&s, &d, &l)
		o := prepare(t, s, car(Grid())).Loudest(d, l)
		if o.Limit != c.limit {
			t.Errorf("limit %v, want %v: %+v", o.Limit, c.limit, o)
		}
		if o.Limit.String() == "none" {
			t.Errorf("limit %d has no word", o.Limit)
		}
	}
}

// Parallel and series of the same coils ask for different voltage and current,
// but the same power for the same sound.
func TestHookupsAreAlike(t *testing.T) {
	s := setup(sealedBox())
	s.Driver.Coils, s.Boxes = 2, 2
	s.Driver = build(s.Driver)
	p := prepare(t, s, car(Grid()))
	base := modestDrive()
	base.Source.OpenVoltage, base.Source.Current, base.Source.Resistance = 20, 10, 0.5
	base.Outputs, base.Series, base.Parallel = 4, 1, 1
	want := p.Loudest(base, Reading())
	for _, h := range []struct{ outputs, series, parallel int }{{1, 4, 1}, {1, 1, 4}, {2, 2, 1}, {1, 2, 2}} {
		d := base
		d.Outputs, d.Series, d.Parallel = h.outputs, h.series, h.parallel
		n, m := float64(h.series), float64(h.parallel)
		d.Source.OpenVoltage, d.Source.Current, d.Source.Resistance = 20*n, 10*m, 0.5*n/m
		if !p.Fits(d) {
			t.Fatalf("%+v does not fit", h)
		}
		o := p.Loudest(d, Reading())
		if math.Abs(o.Level-want.Level) > 1e-6 || math.Abs(o.Watts/want.Watts-1) > 1e-6 {
			t.Errorf("%+v: %.6f dB from %.6f W, separately %.6f dB from %.6f W", h, o.Level, o.Watts, want.Level, want.Watts)
		}
		if math.Abs(o.Load/(want.Load*n/m)-1) > 1e-6 || math.Abs(o.Volts/(want.Volts*n)-1) > 1e-6 {
			t.Errorf("%+v: %.4f ohm at %.4f V", h, o.Load, o.Volts)
		}
	}
}

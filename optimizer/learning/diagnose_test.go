package learning

import (
	"math"
	"slices"
	"testing"
)

// faulty is what is known before the readings of a car near its style, metered
// at nine tones at a low clamped voltage, with a fault in the build.
func faulty(t *testing.T, seed uint64, fault func(c *Case)) *Fit {
	t.Helper()
	w := randomWorld(t, seed)
	for i := range w.truth {
		w.truth[i] *= 0.2 // a car near its style: what is left is the fault
	}
	settings := w.settings(9, []string{"shut"})
	for i := range settings {
		settings[i].Place, settings[i].Volts = "dash", 5
	}
	sound := w.study.Cases
	broken := []Case{sound[0]}
	fault(&broken[0])
	w.study.Cases = broken
	readings := w.read(t, settings)
	s, err := NewStudy(w.study.Body, 20, sound, readings)
	if err != nil {
		t.Fatal(err)
	}
	f, err := s.Prior()
	if err != nil {
		t.Fatal(err)
	}
	return f
}

// A planted fault is ranked first, or among those that are told.
func TestPlantedFaults(t *testing.T) {
	for _, c := range []struct {
		name  string
		want  CauseKind
		fault func(*Case)
	}{
		{"hot coil", HotCoil, func(c *Case) { c.Setup.Driver.Re *= 1.6 }},
		{"small box", SmallerBox, func(c *Case) { c.Setup.Box.Volume *= 0.5; c.Setup.Box.FrontVolume *= 0.5 }},
		{"reversed", Reversed, func(c *Case) { reverse(c) }},
		{"leak", Leak, func(c *Case) { c.Setup.Box.LeakQ = 0.4 }},
	} {
		found, tried := 0, 0
		for seed := uint64(20); tried < 4; seed++ {
			w := randomWorld(t, seed)
			if k := w.study.Cases[0]; c.want == Reversed && k.Setup.Driver.Coils < 2 || k.Setup.Box.Kind != 0 {
				continue
			}
			tried++
			causes, err := faulty(t, seed, c.fault).Diagnose()
			if err != nil {
				t.Fatal(err)
			}
			for i, told := range Told(causes) {
				if told.Kind == c.want && i < 3 && told.Kind != Ordinary {
					found++
					break
				}
			}
			if len(causes) < 6 || math.IsNaN(causes[0].Gain) {
				t.Errorf("%s: %d causes, the first gains %g", c.name, len(causes), causes[0].Gain)
			}
		}
		t.Logf("%s: told among the first three in %d of %d", c.name, found, tried)
		if found < tried*3/4 {
			t.Errorf("%s is told in %d of %d", c.name, found, tried)
		}
	}
}

// Without a fault ordinary errors are among what is told, and mostly first.
func TestNoFault(t *testing.T) {
	first := 0
	const n = 8
	for seed := range uint64(n) {
		causes, err := faulty(t, 40+seed, func(*Case) {}).Diagnose()
		if err != nil {
			t.Fatal(err)
		}
		if told := Told(causes); told[0].Kind == Ordinary {
			first++
		}
	}
	if first < n*3/4 {
		t.Errorf("nothing is wrong, but only in %d of %d is that said first", first, n)
	}
}

// A meter that shows the same too much at every tone is told of.
func TestMeterOff(t *testing.T) {
	f := faulty(t, 40, func(*Case) {})
	shown := slices.Clone(f.Study.Readings)
	for i := range shown {
		shown[i].DB += 12
	}
	s, err := NewStudy(f.Study.Body, 20, f.Study.Cases, shown)
	if err != nil {
		t.Fatal(err)
	}
	if f, err = s.Prior(); err != nil {
		t.Fatal(err)
	}
	causes, err := f.Diagnose()
	if err != nil {
		t.Fatal(err)
	}
	told := Told(causes)
	i := slices.IndexFunc(told, func(c Cause) bool { return c.Kind == MeterOff })
	if i < 0 || math.Abs(told[i].Value-12) > 4 {
		t.Errorf("12 dB too much: %+v", told)
	}
}

package learning

import (
	"fmt"
	"math"
	"slices"

	"loudfor/model/bass"
	"loudfor/model/driver"
	"loudfor/model/enclosure"
)

// Causes that a builder would look for, each as a change of the model with one
// number: how big the leak is, how far the box's volume is off. The likelihood
// of the residuals under each, at its best number, ranks them. What ordinary
// errors of car, driver, box and amplifier can explain counts as explained: the
// residuals are weighed by their full prior covariance, not by the meter's
// tolerance alone, so that a cause has to do better than chance.

// Cause is one explanation of the readings, with its evidence.
type Cause struct {
	Kind    CauseKind
	Value   float64 // its number: see Words
	Words   string  // what it would be
	Check   string  // what to look at
	Gain    float64 // how much better it explains the readings than ordinary errors: log likelihood ratio less its penalty
	Figures []string
}

// CauseKind names the causes.
type CauseKind int

// The causes, in the order in which ties are told.
const (
	Ordinary CauseKind = iota
	Leak
	Reversed
	SmallerBox
	LargerBox
	PortMoved
	HotCoil
	WeakAmplifier
	OtherPlace
	OtherOpenings
	MeterOff
)

// Key is the cause for scripts.
func (k CauseKind) Key() string {
	return [...]string{"ordinary_errors", "leak", "reversed_polarity", "smaller_box", "larger_box", "port_tuning", "hot_coil", "weak_amplifier", "other_place", "other_openings", "meter_offset"}[k]
}

// penalty is what one more number costs in log likelihood (half the logarithm
// of some ten readings: the Bayesian information criterion).
const penalty = 1.15

// worthTelling is the gain from which a cause is worth telling: it makes the
// readings e^1 times likelier, the penalty paid.
const worthTelling = 1.0

// hypothesis is a cause to try: its numbers, and what each makes of a case.
type hypothesis struct {
	kind   CauseKind
	values []float64
	change func(c *Case, value float64) bool // false: does not apply
	adjust func(d bass.Drive, value float64) bass.Drive
	words  func(value float64) string
	check  string
}

// hypotheses are the causes that lie in the build.
func hypotheses(c *Case) []hypothesis {
	leak := func(c *Case, q float64) bool { c.Setup.Box.LeakQ = q; return true }
	volume := func(c *Case, f float64) bool {
		c.Setup.Box.Volume *= f
		c.Setup.Box.FrontVolume *= f
		return true
	}
	all := []hypothesis{
		{kind: Leak, values: []float64{4, 2.5, 1.5, 1, 0.6, 0.3}, change: leak,
			words: func(q float64) string {
				return fmt.Sprintf("the box leaks: QL %g in place of %.3g", q, or(c.Setup.Box.LeakQ, c.Setup.Box.Kind.LeakPrior()))
			},
			check: "seal the driver's gasket, the terminal cup and the seams; feel for air with the cone moving"},
		{kind: SmallerBox, values: []float64{0.85, 0.7, 0.55}, change: volume,
			words: func(f float64) string {
				return fmt.Sprintf("the box is smaller than stated: %.1f L in place of %.1f L", 1e3*f*c.Setup.Box.Volume, 1e3*c.Setup.Box.Volume)
			},
			check: "measure the inside of the box, less bracing, driver and port"},
		{kind: LargerBox, values: []float64{1.2, 1.5, 2}, change: volume,
			words: func(f float64) string {
				return fmt.Sprintf("the box is larger than stated: %.1f L in place of %.1f L", 1e3*f*c.Setup.Box.Volume, 1e3*c.Setup.Box.Volume)
			},
			check: "measure the inside of the box, less bracing, driver and port"},
		{kind: HotCoil, values: []float64{1.15, 1.3, 1.5, 1.8},
			change: func(c *Case, f float64) bool { c.Setup.Driver.Re *= f; return true },
			words: func(f float64) string {
				return fmt.Sprintf("the coils were hot, or the wiring adds resistance: %.0f %% more (as %.0f K of heat)", 100*(f-1), (f-1)/driver.TemperatureCoefficient)
			},
			check: "let the driver cool and take a short burst; measure the coil's resistance cold, then right after a tone"},
		{kind: WeakAmplifier, values: []float64{0.9, 0.8, 0.7, 0.6, 0.5},
			adjust: func(d bass.Drive, f float64) bass.Drive {
				d.Source.OpenVoltage *= f
				d.Source.Current *= f
				return d
			},
			change: func(*Case, float64) bool { return true },
			words: func(f float64) string {
				return fmt.Sprintf("the amplifier gives %.0f %% of its rated voltage (%.1f dB less): gain not up, claim too high, or a sagging supply", 100*f, -20*math.Log10(f))
			},
			check: "gain at its mark, no clipping light before; supply voltage at the terminals during the tone"},
	}
	if c.Setup.Box.Kind != enclosure.Sealed {
		all = append(all, hypothesis{kind: PortMoved, values: []float64{0.7, 0.8, 0.9, 1.1, 1.25, 1.4},
			change: func(c *Case, f float64) bool {
				b := &c.Setup.Box
				if !b.Port.Stated() {
					b.Tuning *= f
					return true
				}
				// The mass of the port goes with its effective length.
				b.Port.Length = max(minPort, b.Port.Length/(f*f))
				return true
			},
			words: func(f float64) string {
				return fmt.Sprintf("the port's tuning is off by %+.0f %%: loose, blocked, or of another length", 100*(f-1))
			},
			check: "the port's length and that it sits tight; nothing near its mouth"})
	}
	if drivers := c.Setup.Boxes * c.Setup.Box.Drivers; drivers > 1 || c.Setup.Driver.Coils > 1 {
		all = append(all, hypothesis{kind: Reversed, values: []float64{1}, change: func(c *Case, _ float64) bool { return reverse(c) },
			words: func(float64) string { return "one driver or coil is wired in reverse: its push cancels another's" },
			check: "a 1.5 V cell at each coil in turn: all cones move the same way"})
	}
	return all
}

func or(a, b float64) float64 {
	if a == 0 {
		return b
	}
	return a
}

// minPort is the shortest port, m.
const minPort = 0.01

// reverse makes one of several equal drivers or coils pull against the others:
// the force, and with it the sound, falls to (n - 2)/n. What is left of two is
// what their inequality leaves.
func reverse(c *Case) bool {
	n := float64(c.Setup.Driver.Coils)
	if drivers := c.Setup.Boxes * c.Setup.Box.Drivers; drivers > 1 {
		n = float64(drivers) * n
	}
	left := max((n-2)/n, leftOfTwo)
	c.Setup.Driver.Bl *= left
	return true
}

// leftOfTwo: two equal coils in opposition cancel to what they differ by
// (common practice, no source).
const leftOfTwo = 0.1

// moved is the prediction of all observations with a cause in the build.
func (f *Fit) moved(h *hypothesis, value float64) ([]float64, bool) {
	s := *f.Study
	s.Cases = slices.Clone(s.Cases)
	for i := range s.Cases {
		c := &s.Cases[i]
		if !h.change(c, value) {
			return nil, false
		}
		if h.adjust != nil {
			c.Drive = h.adjust(c.Drive, value)
		}
	}
	v := view{s: &s, readings: f.view.readings, seen: f.view.seen, of: f.view.of, groups: f.view.groups}
	return v.predict(f.X), true
}

package learning

import (
	"fmt"
	"math"
)

// What stands out in the readings, in plain words, each with the figures that
// led to it. These are the signs a builder looks for; what could be behind them
// is ranked by Diagnose.

// Finding is one thing that stands out.
type Finding struct {
	Kind    FindingKind
	Words   string
	Figures string
	Points  string // where it points
}

// FindingKind names the findings.
type FindingKind int

// The findings, in the order in which they are told.
const (
	LevelOff FindingKind = iota
	PowerLow
	ImpedanceHigh
	ImpedanceLow
	PeakMoved
	SupplySags
	Compression
	AllWithin
)

// Key is the finding for scripts.
func (k FindingKind) Key() string {
	return [...]string{"level_off", "power_low", "impedance_high", "impedance_low", "peak_moved", "supply_sags", "compression", "within_bands"}[k]
}

// What stands out, and what does not (common practice, no source, except where
// a tolerance above gives it).
const (
	powerLow      = 0.8  // of the predicted power: a decibel
	impedanceHigh = 1.15 // of the predicted impedance: three times what a clamp scatters by
	impedanceLow  = 1 / impedanceHigh
	peakMoved     = 4.0  // Hz: dash and headrest differ by a few hertz as it is
	supplyLow     = 12.6 // V: the alternator no longer holds, the battery feeds
	supplySags    = 0.7  // V under the prediction
	leastDoubling = 2.0  // dB that doubled power should give
	leastRatio    = 1.25 // of two powers whose levels are compared
)

// Findings lists what stands out.
func (f *Fit) Findings() []Finding {
	compared := f.Compare()
	var all []Finding
	add := func(k FindingKind, words, figures, points string) {
		all = append(all, Finding{k, words, figures, points})
	}
	f.levels(compared, add)
	f.power(compared, add)
	for _, c := range f.Curves() {
		if c.Measured > 0 && c.Predicted > 0 && math.Abs(c.Measured-c.Predicted) >= peakMoved {
			add(PeakMoved, "the peak is not where it was predicted",
				fmt.Sprintf("%.0f Hz measured, %.0f Hz predicted from the same %d tones at the %s, %s", c.Measured, c.Predicted, len(c.Readings), c.Place, c.Openings),
				"place, openings, the volume of the box, or the length of the car")
		}
	}
	f.supplies(add)
	f.doublings(add)
	if len(all) == 0 {
		add(AllWithin, "the readings lie where they were predicted", fmt.Sprintf("%d of %d within their bands", len(compared)-outside(compared), len(compared)), "learn the car to narrow the bands")
	}
	return all
}

func outside(compared []Compared) (n int) {
	for _, c := range compared {
		if c.Outside {
			n++
		}
	}
	return n
}

type adder func(k FindingKind, words, figures, points string)

func (f *Fit) levels(compared []Compared, add adder) {
	mean, out := 0.0, outside(compared)
	for _, c := range compared {
		mean += c.OffDB / float64(len(compared))
	}
	if out == 0 {
		return
	}
	words, points := "the level is short of the prediction", "a leak, reversed polarity, a box that is not sealed, a loose port; or a car that is quieter than assumed"
	if mean > 0 {
		words, points = "the level is above the prediction", "a car that is louder than assumed, another place or openings, a meter that shows too much"
	}
	add(LevelOff, words, fmt.Sprintf("%+.1f dB on average; %d of %d readings outside their bands", mean, out, len(compared)), points)
}

// power compares what was clamped with what full output would give.
func (f *Fit) power(compared []Compared, add adder) {
	seen, full, driven, ohms, would, n := 0.0, 0.0, 0.0, 0.0, 0.0, 0.0
	for i := range compared {
		r, c := &f.view.readings[i], &compared[i]
		if c.Expected.Ohms == 0 {
			continue
		}
		n++
		if c.FullVolts > 0 { // else the gain was down on purpose
			seen += r.Volts * r.Amps
			full += c.FullWatts
			driven++
		}
		ohms += math.Log(r.Volts / r.Amps)
		would += math.Log(c.Expected.Ohms)
	}
	if n == 0 {
		return
	}
	ratio := math.Exp((ohms - would) / n)
	impedance := fmt.Sprintf("%.2f ohm measured, %.2f ohm predicted (%+.0f %%)", math.Exp(ohms/n), math.Exp(would/n), 100*(ratio-1))
	power := fmt.Sprintf("%.0f VA measured, %.0f VA predicted at full output", seen/max(1, driven), full/max(1, driven))
	if seen < powerLow*full {
		points := "gain not up, a weak amplifier, a sagging supply"
		if ratio > impedanceHigh {
			points = "impedance rise of the box, hot coils, or resistance in the wiring"
		}
		add(PowerLow, "less power flows than predicted", power, points)
	}
	switch {
	case ratio > impedanceHigh:
		add(ImpedanceHigh, "the impedance is higher than predicted", impedance, "hot coils, resistance in the wiring, another tuning, or coils wired in series")
	case ratio < impedanceLow:
		add(ImpedanceLow, "the impedance is lower than predicted", impedance, "coils wired in parallel, a leak that lowers the peak, a reversed driver: check the load before it is driven again")
	}
}

// supplies looks at the voltage at the amplifier's terminals.
func (f *Fit) supplies(add adder) {
	lowest, at := math.Inf(1), 0
	for i, r := range f.view.readings {
		if r.Supply > 0 && r.Supply < lowest {
			lowest, at = r.Supply, i
		}
	}
	if math.IsInf(lowest, 1) {
		return
	}
	r := &f.view.readings[at]
	full := r.full(f.Study.Cases[r.Case].Drive)
	full.Feed = f.Study.Cases[r.Case].Drive.Feed
	line := full.Feed.Line()
	volts, _, _ := line.Terminal(r.Volts*r.Amps*float64(full.Outputs), full.Source.Efficiency)
	if lowest < supplyLow || r.Amps > 0 && lowest < volts-supplySags {
		figures := fmt.Sprintf("%.1f V at the terminals during the tone at %.0f Hz", lowest, r.Hz)
		if r.Amps > 0 {
			figures += fmt.Sprintf("; %.1f V predicted for what was clamped", volts)
		}
		add(SupplySags, "the supply sags", figures, "cable, ground point, fuse holder, alternator reserve, battery")
	}
}

// doublings looks for pairs of readings that differ in power alone.
func (f *Fit) doublings(add adder) {
	worst, figures := math.Inf(1), ""
	for i, a := range f.view.readings {
		for _, b := range f.view.readings[:i] {
			if a.Case != b.Case || a.Place != b.Place || a.Openings != b.Openings || a.Volts == 0 || b.Volts == 0 || math.Abs(math.Log2(a.Hz/b.Hz)) > repeatOctaves {
				continue
			}
			low, high := a, b
			if low.Volts > high.Volts {
				low, high = high, low
			}
			doublings := 2 * math.Log2(high.Volts/low.Volts)
			if low.Amps > 0 && high.Amps > 0 {
				doublings = math.Log2(high.Volts * high.Amps / (low.Volts * low.Amps))
			}
			if doublings < math.Log2(leastRatio) {
				continue
			}
			if each := (high.DB - low.DB) / doublings; each < worst {
				worst = each
				figures = fmt.Sprintf("%+.1f dB from %.3g V to %.3g V at %.0f Hz: %.1f dB for each doubling of power", high.DB-low.DB, low.Volts, high.Volts, high.Hz, each)
			}
		}
	}
	if worst < leastDoubling {
		add(Compression, "doubled power gives less than 2 dB", figures, "the cone is out of travel or the coil is hot: more power buys little")
	}
}

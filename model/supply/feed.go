package supply

import "math"

// The source line. Up to its reserve the alternator holds the regulated
// voltage. Beyond that its field is at full, the voltage falls, and falls
// until the battery, which up to then was being charged, starts to give.
//
// Two branches feed one bus:
//
//	alternator  V = Volts while I <= Reserve, then
//	            I = Reserve (1 + (Volts - V)/saturationSpan)
//	battery     I = (BatteryVolts - V)/BatteryResistance below BatteryVolts, else 0
//
// Added up, V over I is flat, then steep, then gently falling: continuous and
// never rising. The terminals lie below the bus by I x CableResistance.
//
// An alternator at full field is close to a source of constant power at idle,
// where its best voltage lies near the charging voltage (D. Perreault and
// V. Caliskan, Automotive power generation and control, IEEE Trans. Power
// Electronics 19, 2004; from memory). With a span of 2 x 12.6 - 14.4 = 10.8 V
// its power would be level just where the battery takes over; the span used is
// a little less, so that power rises all the way down to there and each power
// has one operating point.
const saturationSpan = 10.0 // V

const (
	// RunningVolts is the regulated voltage of a 12 V car with its engine
	// running, at which CTA-2006 rates amplifiers (from memory).
	RunningVolts = 14.4

	// RestedVolts is a charged lead-acid battery at rest, six cells of 2.1 V.
	RestedVolts = 12.6

	// TypicalBatteryResistance, ohm, is what stands between a starter
	// battery in use, of about 60 Ah, and the bus for a tone of some seconds. Cells:
	// one of 540 A cold cranking current keeps 7.5 V for 10 s at -18 C
	// (EN 50342-1, from memory), so it has at most (12.6 - 7.5)/540 = 9.4
	// mohm there, and about two thirds of that in a warm and new one (common
	// practice, no source); age and half a charge add a third. Clamps, fuse,
	// holder and ground point add 1 to 3 mohm (common practice, no source).
	// Together 6 to 12 mohm; testers that say 4 to 6 take the cells alone,
	// with alternating current.
	TypicalBatteryResistance = 0.010

	// DropoutVolts is where an amplifier's own protection turns it off: below
	// this the supply delivers nothing of use (common practice, no source;
	// ISO 16750-2 lets equipment of code C stop working below 9 V, from memory).
	DropoutVolts = 9.0

	// leastReserve, A, is a reserve worth the name; it keeps the slope of the
	// saturated alternator finite.
	leastReserve = 1e-3
)

// Feed is what stands behind the amplifier's supply terminals. Resistances
// and the reserve may be zero; negative values count as zero.
type Feed struct {
	Volts             float64 // V, engine running: the regulator's voltage, usually RunningVolts
	Reserve           float64 // A that the alternator can spare; 0: engine off
	BatteryVolts      float64 // V of the rested battery, usually RestedVolts; 0: no battery
	BatteryResistance float64 // ohm
	CableResistance   float64 // ohm, go and return
}

// Stiff is a supply that never sags: RunningVolts at any current that a car
// amplifier could ask for. For bench conditions and for bounds.
func Stiff() Feed { return Feed{Volts: RunningVolts, Reserve: 1e6} }

// Terminal is the supply voltage and current at the amplifier while it turns
// out watts of audio at an efficiency (audio power per supply power). volts
// never rises, and amps never falls, as watts rises. ok is false when the
// supply cannot deliver it above DropoutVolts: volts and amps are then those
// of the most it can. Who asks often asks the Line.
func (f Feed) Terminal(watts, efficiency float64) (volts, amps float64, ok bool) {
	l := f.Line()
	return l.Terminal(watts, efficiency)
}

// Most is the most audio power, W, that the supply can sustain; +MaxFloat64
// where nothing holds it back.
func (f Feed) Most(efficiency float64) (watts float64) {
	if !(efficiency > 0) {
		return 0
	}
	l := f.Line()
	return min(l.volts*l.amps*efficiency, math.MaxFloat64)
}

// piece is a straight part of the line at the terminals: V = open - slope I
// for currents from start to end.
type piece struct{ open, slope, start, end float64 }

// pieces is the whole line, in the order of current.
func (f Feed) pieces() [3]piece {
	reserve, cable := f.Reserve, max(f.CableResistance, 0)
	if !(reserve >= leastReserve) {
		reserve = 0
	}
	top := max(f.Volts, 0)
	rested := min(max(f.BatteryVolts, 0), top)
	if reserve == 0 {
		top = rested // the engine is off
	}
	full := reserve * (1 + (top-rested)/saturationSpan) // A from the alternator when the battery starts to give

	flat := piece{open: top, slope: cable, start: 0, end: reserve}
	steep := piece{start: reserve, end: full, open: top, slope: cable}
	if reserve > 0 {
		steep.open += saturationSpan
		steep.slope += saturationSpan / reserve
	}
	// Battery and saturated alternator side by side.
	battery := max(f.BatteryResistance, 0)
	both := battery / (1 + battery*reserve/saturationSpan)
	gentle := piece{start: full, end: math.MaxFloat64, open: rested + both*full, slope: both + cable}
	return [3]piece{flat, steep, gentle}
}

package supply

import "math"

// What lamps see. They hang on the battery's bus, before the amplifier's cable,
// so what counts for them is the bus: the terminals' voltage and what the cable
// loses on the way.

// VisibleDip is the fall of the voltage, V, from which on lamps visibly dim
// (common practice, no source). A filament's light goes with about the 3.4th
// power of its voltage (from memory), so half a volt of 14.4 V takes an eighth of it.
const VisibleDip = 0.5

// Battery is the voltage at the battery and the current from it, while an
// amplifier turns out watts of audio at an efficiency; ok as in Terminal.
func (f Feed) Battery(watts, efficiency float64) (volts, amps float64, ok bool) {
	volts, amps, ok = f.Terminal(watts, efficiency)
	return volts + amps*max(f.CableResistance, 0), amps, ok
}

// Idle is the voltage at the battery while the amplifier is silent.
func (f Feed) Idle() float64 { return f.pieces()[0].open }

// WattsAt is the most audio power, W, at which the battery falls by no more
// than a dip in V.
func (f Feed) WattsAt(dip, efficiency float64) float64 {
	bus := f
	bus.CableResistance = 0
	least := f.Idle() - dip
	for _, p := range bus.pieces() {
		amps := p.end
		if p.slope > 0 {
			amps = min(amps, (p.open-least)/p.slope)
		}
		if amps < p.end || p.end == math.MaxFloat64 {
			volts := least - amps*max(f.CableResistance, 0)
			return min(max(0, volts*amps*efficiency), f.Most(efficiency))
		}
	}
	return 0
}

// ReserveAt is the reserve, A, with which the battery falls by no more than a dip in
// V at a power of audio: the alternator alone, at full field. ok is false where the cable
// takes so much that no alternator would do, or the dip reaches the rested battery.
func (f Feed) ReserveAt(dip, watts, efficiency float64) (amps float64, ok bool) {
	bus := f.Volts - dip
	cable := max(f.CableResistance, 0)
	under := bus*bus - 4*cable*watts/efficiency
	if !(under >= 0) || bus <= f.BatteryVolts {
		return 0, false
	}
	amps = 2 * watts / efficiency / (bus + math.Sqrt(under))
	return amps / (1 + dip/saturationSpan), true
}

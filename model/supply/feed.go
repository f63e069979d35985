package supply

// Feed is what stands behind the amplifier's supply terminals.
type Feed struct {
	Volts             float64 // V, engine running: the regulator's voltage, usually 14.4
	Reserve           float64 // A that the alternator can spare; 0: engine off
	BatteryVolts      float64 // V of the rested battery, usually 12.6
	BatteryResistance float64 // ohm
	CableResistance   float64 // ohm, go and return
}

// Terminal is the supply at the amplifier while it delivers watts of audio.
func (f Feed) Terminal(watts, efficiency float64) (volts, amps float64, ok bool) {
	return f.Volts, 0, true
}

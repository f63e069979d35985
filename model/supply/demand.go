package supply

import "math"

// What the amplifier asks for, and what the alternator has left to give.

// IdleShare is the part of its rated current that an alternator gives at idle
// (common practice, no source: half to two thirds). The rating holds at
// 6000 turns a minute of its shaft (ISO 8854, from memory), three times what
// it does while the car stands and is metered.
const IdleShare = 0.6

// MusicShare is what music at the edge of clipping takes on average of the current of
// a steady sine, or less (common practice, no source).
const MusicShare = 1.0 / 3

// Demand is the current, A, taken from RunningVolts for watts of audio at an
// efficiency. It is the current of a steady sine: music takes MusicShare of it, but
// cable and fuse have to stand the tone of a metered reading.
func Demand(watts, efficiency float64) (amps float64) {
	if !(watts > 0 && efficiency > 0) {
		return 0
	}
	return min(watts/(efficiency*RunningVolts), math.MaxFloat64)
}

// Reserve is the current, A, that an alternator of a rated current can spare
// at idle, with the car's own standby load on (engine, lights, fans); 0 when
// nothing is left.
func Reserve(rated, standby float64) float64 {
	if !(rated > 0) {
		return 0
	}
	return max(0, rated*IdleShare-max(standby, 0))
}

package front

import "math"

// A head unit has no converter: each channel is two output stages in bridge
// between supply and ground, so the load sees at most the supply voltage, once
// this way round and once the other. A sine of that peak is all the
// undistorted power there is, whatever "4 x 50 W" says on the front (which is
// the square wave, twice as much).

const (
	// bridgeLoss is what the two transistors in the path keep for
	// themselves, V (common practice, no source: 0.3 to 0.5 V each).
	bridgeLoss = 0.8

	// harness is the resistance of the head unit's supply wires, fuse and
	// plug, ohm (common practice, no source).
	harness = 0.02
)

// HeadUnitCeiling is the most continuous sine power, W, that each channel of a
// head unit without a converter can give a load in ohm from a supply in V, all
// channels driven: ((volts - losses)/sqrt 2)^2/load. Each channel draws on
// average 2/pi of its peak current through the common harness. 0 where one of
// the values is not positive.
func HeadUnitCeiling(volts, load float64, channels int) float64 {
	if !(volts > bridgeLoss) || !(load > 0) || channels < 1 {
		return 0
	}
	drop := harness * float64(channels) * 2 / math.Pi / load // V in the harness for each V of peak
	peak := (volts - bridgeLoss) / (1 + drop)
	return min(peak*peak/2/load, boundless)
}

package enclosure

import (
	"fmt"
	"math"

	"loudfor/model/air"
)

// What can be computed and hardly be built. A tuning stands for a port that nobody
// has drawn: it is worked out as the usual one, and where that is longer than the
// chamber, or would have to be shorter than a hole, the tuning is a wish.

// mostOfChamber is the share of its chamber that a port may take before the volume
// that is left is another box's (common practice, no source).
const mostOfChamber = 1.0 / 3

// PortDoubt says why the port of a box, stated or assumed, can hardly be built; ""
// where nothing speaks against it, or the box has none. The box has passed Check.
func (b Box) PortDoubt(a air.Air) string {
	volume := b.ported()
	if b.Kind == Sealed || !(volume > 0) {
		return ""
	}
	p, how := b.Port, "the port"
	if !p.Stated() {
		p = assumedPort(volume, b.Tuning, a)
		how = fmt.Sprintf("a round port of the usual area, %.3g cm wide,", 100*p.Diameter)
		if length := p.LengthFor(b.Tuning, volume, a); length < 0 {
			p.Length = 0
			return fmt.Sprintf("no port of the usual area is tuned as high as %.4g Hz in %.3g L: a mere hole of %.3g cm gives %.4g Hz",
				b.Tuning, 1000*volume, 100*p.Diameter, p.Tuning(volume, a))
		}
		if p.Length > foldedPort*math.Cbrt(volume) {
			return fmt.Sprintf("%s would have to be %.3g m long for %.4g Hz, and %.3g L have no room for it", how, p.Length, b.Tuning, 1000*volume)
		}
	}
	if taken := p.Air(); taken > mostOfChamber*volume {
		return fmt.Sprintf("%s takes %.3g L of the %.3g L of its chamber", how, 1000*taken, 1000*volume)
	}
	return ""
}

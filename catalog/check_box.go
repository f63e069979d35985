package catalog

import (
	"fmt"

	"loudfor/model/air"
	"loudfor/model/enclosure"
)

// BoxDoubt is something about a box that can be computed and not be built. It is
// said by check, and wherever a build with the box is shown.
type BoxDoubt struct {
	Path            string // of the value, in the part
	Summary, Detail string
}

// BoxDoubts are those of an enclosure or of a loaded one.
func (p *Part) BoxDoubts() (all []BoxDoubt) {
	var outside Size3
	switch p.Kind {
	case KindEnclosure:
		outside = p.Enclosure.Outside
	case KindLoaded:
		outside = p.Loaded.Outside
	default:
		return nil
	}
	b := p.box()
	inside := b.Volume
	if b.Kind == enclosure.BandPass {
		inside += b.FrontVolume
	}
	if v := outside.Volume(); v > 0 && inside >= v {
		all = append(all, BoxDoubt{"volume", fmt.Sprintf("%.3g L inside do not fit", 1000*inside),
			fmt.Sprintf("%s outside is %.3g L, walls included", outside, 1000*v)})
	}
	if why := b.PortDoubt(air.At(roomCelsius)); why != "" {
		path := "tuning"
		if b.Port.Stated() {
			path = "port"
		}
		all = append(all, BoxDoubt{path, why, "mend the tuning, the volume or the port: what is computed is a box that nobody can build"})
	}
	return all
}

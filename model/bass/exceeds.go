package bass

import "loudfor/model/air"

// Exceeds tells whether LoudestAbove would find anything, and stops at the first
// frequency that settles it: for a search that asks only whether to go on.
func (p *Prepared) Exceeds(level float64, d Drive, l Limits) bool {
	var b bounds
	p.bind(d, l, &b)
	pressure := air.Pressure(level)
	r := rival{sound: pressure * pressure, root: pressure}
	first := int(p.best.Load())
	if p.exceeds(first, &b, r) {
		return true
	}
	for j := range p.points {
		if j != first && p.exceeds(j, &b, r) {
			p.best.Store(int32(j))
			return true
		}
	}
	return false
}

func (p *Prepared) exceeds(j int, b *bounds, r rival) bool {
	if p.hopeless(j, b, r.sound) {
		return false
	}
	t, ok := p.crossing(j, b, r)
	return ok && r.beats(t.sound)
}

package bass

import (
	"math"

	"loudfor/model/enclosure"
)

// The crossing in a cell that rises. Of its 1024 parts the one is wanted whose
// lower end is allowed and whose upper end is refused; since the strain rises
// there is only one, and guesses find it in three or four looks instead of ten.
// The guess is drawn through the strain at the last three looks. Then the line
// is drawn in that part, as by the definition.
//
// The flow through a port is a smooth function of the travel, and its slope is
// known: the cubic through both ends of the cell meets it to some 1e-5, from
// where Newton's method needs one step. The guess comes from the ends and
// not from the last look: so a look gives the same number on every way to it.

// cell is the stretch between two rungs of one point.
type cell struct {
	o          *point
	load       *enclosure.Load
	stiffening float64
	from, part float64 // Xmax

	// The flow is near y0 + x (y1 + x (y2 + x y3)) at x parts.
	y0, y1, y2, y3 float64
}

func (p *Prepared) cell(j, rung int, lower, upper *move, c *cell) {
	c.o, c.stiffening = &p.points[j], p.stiffening
	from, to := rungTravel[rung], rungTravel[rung+1]
	c.from, c.part = from, (to-from)/parts
	if len(p.loads) == 0 {
		c.load = nil
		return
	}
	l := &p.loads[j]
	c.load = l
	// Slopes by the part at both ends.
	a := l.Elasticity(lower.flow) * lower.flow / from * c.part
	z := l.Elasticity(upper.flow) * upper.flow / to * c.part
	const width = 1.0 / parts
	mean := (upper.flow - lower.flow) * width
	c.y0, c.y1 = lower.flow, a
	c.y2 = (3*mean - 2*a - z) * width
	c.y3 = (a + z - 2*mean) * (width * width)
}

// travel is that at x parts above the lower end.
func (c *cell) travel(x float64, m *move) (u float64) {
	u = c.from + x*c.part
	if c.load == nil {
		c.o.travel(c.stiffening, u, m)
		return u
	}
	guess := c.y0 + x*(c.y1+x*(c.y2+x*c.y3))
	c.o.ported(c.load, c.stiffening, u, c.load.FlowNear(u*c.o.cone, guess), m)
	return u
}

// look is a travel and what is felt there.
type look struct {
	x     float64 // parts
	rest  float64 // square of the strain without the amplifier's voltage
	open2 float64
	watts float64
	sound float64
}

func (b *bounds) look(x, u float64, s *state) look {
	return look{x, b.rest(u, s), s.open2, s.watts, s.sound}
}

// strain at a look, when the supply lets the amplifier make a squared voltage of
// 1/ease.
func (k *look) strain(ease float64) float64 {
	return math.Sqrt(max(k.rest, k.open2*ease))
}

// bent is how many parts the pressure may rise above its chord in a cell.
const bent = 8

// guessing is how many guesses are made before halving takes over: a kink, of
// the supply's line or between two limits, can make them poor.
const guessing = 6

func (p *Prepared) settle(j, rung int, b *bounds, r rival) (t top, ok bool) {
	var s, lower, upper state
	from, to := rungTravel[rung], rungTravel[rung+1]
	p.rung(j, rung, &lower.move)
	p.rung(j, rung+1, &upper.move)
	if !r.beats(upper.sound) {
		return t, false
	}
	var c cell
	p.cell(j, rung, &lower.move, &upper.move, &c)
	var low, high look
	high.x = parts
	if r.sound > lower.sound {
		// Can it beat the rival at all? This is just below the travel that
		// would: the pressure is straight in a sealed box, nearly so in
		// others.
		ls, us := math.Sqrt(lower.sound), math.Sqrt(upper.sound)
		if x := math.Floor(parts*(r.root-ls)/(us-ls) - bent); x > 0 && x < parts {
			u := c.travel(x, &s.move)
			b.feel(c.o, u, &s)
			switch {
			case b.allows(u, &s):
				low = b.look(x, u, &s)
			case !r.beats(s.sound):
				return t, false
			default:
				high = b.look(x, u, &s)
			}
		}
	}
	if low.x == 0 {
		b.feel(c.o, from, &lower)
		low = b.look(0, from, &lower)
	}
	if high.x == parts {
		b.feel(c.o, to, &upper)
		high = b.look(parts, to, &upper)
	}
	var third look
	if rung > 0 {
		under := rungTravel[rung-1]
		p.stand(j, rung-1, b, &s)
		third = b.look((under-from)/c.part, under, &s)
	} else {
		third.x = math.NaN()
	}
	// The supply at the crossing is first that of the last answer, then that of
	// the power there, then that of the last look.
	ease := b.ease
	if !b.ideal {
		x := guess(&low, &high, &third, ease)
		ease = b.ask(low.watts + (high.watts-low.watts)*(x-low.x)/(high.x-low.x)).ease()
	}
	lowEase, highEase := -1.0, -1.0 // not known yet; without amplifier it counts for nothing
	for n := 0; high.x-low.x > 1; n++ {
		x := math.Floor((low.x + high.x) / 2)
		if n < guessing && ease < math.MaxFloat64 {
			x = math.Floor(guess(&low, &high, &third, ease))
		}
		x = min(max(x, low.x), high.x-1)
		if x == low.x {
			x++
		}
		u := c.travel(x, &s.move)
		b.feel(c.o, u, &s)
		k := b.look(x, u, &s)
		var now sag
		if !b.ideal {
			now = b.ask(s.watts)
			ease = now.ease()
		}
		if k.strain(ease) <= 1 {
			third, low, lowEase, b.known[0] = low, k, ease, now
			continue
		}
		b.known[1] = now
		if !r.beats(s.sound) {
			return t, false
		}
		third, high, highEase = high, k, ease
	}
	if !b.ideal {
		if lowEase < 0 {
			lowEase = b.ask(low.watts).ease()
		}
		if highEase < 0 {
			highEase = b.ask(high.watts).ease()
		}
		b.ease = lowEase
	}
	x := between(low.x, high.x, low.strain(lowEase), high.strain(highEase))
	t.u = c.travel(x, &s.move)
	t.sound, t.flow = s.sound, s.flow
	t.refused = from + high.x*c.part
	return t, true
}

// guess is where the strain reaches 1: on the line between the bracket's ends,
// or with a third look on the parabola of the travel over the strain.
func guess(low, high, third *look, ease float64) float64 {
	f0, f1, f2 := low.strain(ease)-1, high.strain(ease)-1, third.strain(ease)-1
	d := f0 - f1
	x := low.x + (high.x-low.x)*f0/d
	// Newton's form: the line plus what the third look deviates from it.
	off := (third.x - low.x - (high.x-low.x)*(f0-f2)/d) / ((f2 - f0) * (f2 - f1))
	if y := x + off*f0*f1; y > low.x && y < high.x { // and a number
		return y
	}
	if x > low.x && x < high.x {
		return x
	}
	return (low.x + high.x) / 2
}

package counter

import (
	"fmt"
	"math"

	"loudfor/catalog"
	"loudfor/cmd/internal/chart"
	"loudfor/optimizer"
)

// The staircase: level against price, with the band around it. What people notice
// is a step that is marked, and a link to the builds for its price: a large
// catalogue has hundreds of steps, and their dots would run into each other. The
// table under it says the same in words.

// noticed are the steps that gain at least as much as people notice over the one
// listed before, the budget's own among them.
func noticed(steps []optimizer.Step, here int) []optimizer.Step {
	if here < 0 {
		return optimizer.Thin(steps, optimizer.Noticed)
	}
	return append(optimizer.Thin(steps[:here+1], optimizer.Noticed), optimizer.Thin(steps[here:], optimizer.Noticed)[1:]...)
}

// around is the band of a staircase.
func around(steps []optimizer.Step, end float64) (b chart.Band) {
	for i := range steps {
		s, to := &steps[i].Build, end
		if i+1 < len(steps) {
			to = float64(steps[i+1].Build.Cost.Minor)
		}
		for _, x := range []float64{float64(s.Cost.Minor), to} {
			b.Low = append(b.Low, chart.XY{X: x, Y: s.Objective - s.Band()})
			b.High = append(b.High, chart.XY{X: x, Y: s.Objective + s.Band()})
		}
	}
	return b
}

// staircase draws the steps; marked are those of them with marks.
func (v voice) staircase(q *question, steps, marked []optimizer.Step, small bool) *drawn {
	if len(steps) == 0 {
		return nil
	}
	frame, ticks := chart.Frame{Width: 860, Height: 340, Left: 56, Right: 832, Top: 26, Bottom: 296}, 6.0
	if small {
		frame, ticks = chart.Frame{Width: 400, Height: 280, Left: 46, Right: 374, Top: 26, Bottom: 240}, 3
	}
	limit, reach := q.job.Brief.Cap, q.reach()
	first, last := steps[0].Build, steps[len(steps)-1].Build
	high := float64(max(reach.Minor, limit.Minor))
	c := &chart.Chart{
		X: chart.Sums(float64(min(first.Cost.Minor, limit.Minor))*0.96, high, ticks, 1, func(minor float64) string {
			return v.Round(catalog.Money{Minor: int64(minor), Currency: limit.Currency})
		}),
		Band:  around(steps, high),
		Rules: []chart.Rule{{At: float64(limit.Minor), Words: "cap " + v.Money(limit)}},
	}
	low, most := first.Objective, last.Objective
	for i := range c.Band.Low {
		low, most = min(low, c.Band.Low[i].Y), max(most, c.Band.High[i].Y)
	}
	c.Y = chart.Levels(low, most, func(db float64) string { return v.Figure(db, 0) })
	here, steep := stepOf(steps, limit), false
	under := chart.Line{Step: true, Class: "stairs"}
	beyond := chart.Line{Step: true, Class: "stairs beyond", End: high}
	for i := range steps {
		s := &steps[i]
		at, to := chart.XY{X: float64(s.Build.Cost.Minor), Y: s.Build.Objective}, high
		if i+1 < len(steps) {
			to = float64(steps[i+1].Build.Cost.Minor)
		}
		switch {
		case i > here:
			beyond.Points = append(beyond.Points, at)
		case i == here:
			under.End = math.Min(to, float64(limit.Minor))
			if under.End < to {
				beyond.Points = append(beyond.Points, chart.XY{X: under.End, Y: at.Y})
			}
			fallthrough
		default:
			under.Points = append(under.Points, at)
		}
	}
	for i := range marked {
		s := &marked[i]
		m := chart.Mark{At: chart.XY{X: float64(s.Build.Cost.Minor), Y: s.Build.Objective}, To: high, Sign: 'o', Size: 4.5, Class: "step", Href: q.link(pathBuilds, keyCap, s.Build.Cost.Decimal()),
			Title: fmt.Sprintf("%s: %s dB", v.Money(s.Build.Cost), v.DB(s.Build.Objective))}
		if i+1 < len(marked) {
			m.To = float64(marked[i+1].Build.Cost.Minor)
		}
		if q.worth != nil && s.Steep(*q.worth) {
			m.Sign, m.Class, steep = '!', m.Class+" steep", true
		}
		own := here >= 0 && s.Build.Cost == steps[here].Build.Cost
		switch {
		case own:
			m.Class, m.Size = m.Class+" here", 8
		case s.Build.Cost.Minor > limit.Minor:
			m.Class += " over"
		}
		if !small || own { // a narrow screen has no room for links
			c.Marks = append(c.Marks, m)
		}
	}
	for _, l := range []chart.Line{under, beyond} {
		if len(l.Points) > 0 {
			c.Lines = append(c.Lines, l)
		}
	}
	words := fmt.Sprintf("Level against price: %d steps, from %s dB for %s to %s dB for %s; shaded: the band of each.", len(steps),
		v.DB(first.Objective), v.Money(first.Cost), v.DB(last.Objective), v.Money(last.Cost))
	if len(marked) < len(steps) && !small {
		words += " Marked are those that people notice."
	}
	if steep {
		words += " Triangles: 2 dB more cost more than they are worth."
	}
	return draw(c, frame, words, "", small)
}

// tenth keeps addresses in a drawing short; a tenth of its unit is less than
// anybody sees.
func tenth(value float64) float64 { return math.Round(value*10) / 10 }

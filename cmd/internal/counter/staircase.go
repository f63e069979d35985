package counter

import (
	"cmp"
	"fmt"
	"math"
	"strings"

	"loudfor/catalog"
	"loudfor/optimizer"
)

// The staircase: level against price. It is drawn by our own template, so that
// its colours follow the page's scheme, its text is text, and every step is a
// link. The table under it says the same in words.

// staircase is where things stand, in the units of the drawing.
type staircase struct {
	Width, Height            int
	Left, Right, Top, Bottom float64 // of the field
	Path                     string  // the stairs up to the cap
	Beyond                   string  // and above it
	Cap                      float64 // where the cap stands
	CapWords                 string
	CapEnd                   bool // its words stand to the left of it
	X, Y                     []tick
	Marks                    []mark
	Steep                    bool // some mark is
	Words                    string
	Small                    bool // for a narrow screen: without links
}

// Span is the height of the field.
func (d *staircase) Span() float64 { return d.Bottom - d.Top }

type tick struct {
	At    float64
	Words string
}

// mark is one step, a link to the builds for its price.
type mark struct {
	X, Y              float64
	Width             float64 // to the next step: what can be clicked
	Href, Words       string
	Here, Steep, Over bool
}

func (v voice) staircase(q *question, steps []optimizer.Step, small bool) *staircase {
	if len(steps) == 0 {
		return nil
	}
	d := &staircase{Width: 860, Height: 340, Left: 56, Right: 844, Top: 26, Bottom: 296}
	ticks := 6.0
	if small {
		d = &staircase{Width: 400, Height: 280, Left: 46, Right: 390, Top: 26, Bottom: 240, Small: true}
		ticks = 3
	}
	limit, reach := q.job.Brief.Cap, q.reach()
	first, last := steps[0].Build, steps[len(steps)-1].Build
	low := float64(min(first.Cost.Minor, limit.Minor)) * 0.96
	high := float64(max(reach.Minor, limit.Minor))
	floor, ceiling, step := axis(first.Objective, last.Objective)
	x := func(minor float64) float64 { return tenth(d.Left + (minor-low)/(high-low)*(d.Right-d.Left)) }
	y := func(db float64) float64 { return tenth(d.Bottom - (db-floor)/(ceiling-floor)*(d.Bottom-d.Top)) }
	here := stepOf(steps, limit)
	var under, over strings.Builder
	for i := range steps {
		s := &steps[i]
		at, level := x(float64(s.Build.Cost.Minor)), y(s.Build.Objective)
		end := d.Right
		if i+1 < len(steps) {
			end = x(float64(steps[i+1].Build.Cost.Minor))
		}
		to := &under
		if i > here {
			to = &over
		}
		if to.Len() == 0 {
			fmt.Fprintf(to, "M%g %g", at, level)
		} else {
			fmt.Fprintf(to, "V%g", level)
		}
		if cap := x(float64(limit.Minor)); i == here && cap < end {
			fmt.Fprintf(to, "H%g", cap)
			fmt.Fprintf(&over, "M%g %gH%g", cap, level, end)
		} else {
			fmt.Fprintf(to, "H%g", end)
		}
		if small && i != here {
			continue
		}
		d.Marks = append(d.Marks, mark{X: at, Y: level, Width: math.Max(6, tenth(end-at)), Here: i == here, Over: i > here,
			Steep: q.worth != nil && s.Steep(*q.worth), Href: q.link(pathBuilds, keyCap, s.Build.Cost.Decimal()),
			Words: fmt.Sprintf("%s: %s dB", v.Money(s.Build.Cost), v.DB(s.Build.Objective))})
		d.Steep = d.Steep || q.worth != nil && s.Steep(*q.worth)
	}
	d.Path, d.Beyond = under.String(), over.String()
	d.Cap, d.CapWords = x(float64(limit.Minor)), "cap "+v.Money(limit)
	d.CapEnd = d.Cap > (d.Left+d.Right)/2
	for db := floor; db <= ceiling; db += step {
		d.Y = append(d.Y, tick{y(db), v.Figure(db, 0)})
	}
	for minor := moneyStep(low, high, ticks); minor <= high; minor += moneyStep(low, high, ticks) {
		if minor >= low {
			d.X = append(d.X, tick{x(minor), v.Round(catalog.Money{Minor: int64(minor), Currency: limit.Currency})})
		}
	}
	d.Words = fmt.Sprintf("Level against price: %d steps, from %s dB for %s to %s dB for %s.", len(steps),
		v.DB(first.Objective), v.Money(first.Cost), v.DB(last.Objective), v.Money(last.Cost))
	return d
}

// tenth keeps addresses in a drawing short; a tenth of its unit is less than
// anybody sees.
func tenth(value float64) float64 { return math.Round(value*10) / 10 }

// axis is a span of whole steps around two levels.
func axis(low, high float64) (floor, ceiling, step float64) {
	step = axisStep(low, high)
	floor, ceiling = math.Floor(low/step)*step, math.Ceil(high/step)*step
	if ceiling-high < 0.2*step {
		ceiling += step
	}
	return floor, math.Max(ceiling, floor+step), step
}

// axisStep is how far the lines of a level axis stand apart, dB.
func axisStep(low, high float64) float64 {
	switch span := high - low; {
	case span <= 8:
		return 1
	case span <= 16:
		return 2
	case span <= 40:
		return 5
	}
	return 10
}

// moneyStep is a round sum of which about so many fit in a span.
func moneyStep(low, high, ticks float64) float64 {
	rough := (high - low) / ticks
	if rough <= 0 {
		return 1
	}
	power := math.Pow(10, math.Floor(math.Log10(rough)))
	step := 10 * power
	for _, factor := range []float64{1, 2, 5} {
		if factor*power >= rough {
			step = factor * power
			break
		}
	}
	return math.Max(1, cmp.Or(step, 1))
}

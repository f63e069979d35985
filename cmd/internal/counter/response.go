package counter

import (
	"fmt"
	"math"
	"strings"
	"sync"

	"loudfor/cmd/internal/answer"
	"loudfor/cmd/internal/curve"
	"loudfor/model/bass"
	"loudfor/optimizer"
)

// The response: the highest level at each frequency, at the place of the brief
// with the limit that binds shaded under it, and as thin lines at the car's
// other places. A limit is told by its letter, not by its shade alone.

type response struct {
	Width, Height            int
	Left, Right, Top, Bottom float64
	Shades                   []shade
	Lines                    []placeLine
	X, Y                     []tick
	PeakX, PeakY             float64
	Peak                     string
	PeakEnd                  bool
	Words                    string
	Small                    bool
}

// shade is one stretch in which the same limit binds.
type shade struct {
	Path, Class, Letter, Words string
	X, Y                       float64 // of the letter
	Wide                       bool    // has room for it
}

// placeLine is the level at one place.
type placeLine struct {
	Path, Words string
	Main        bool
	Y           float64 // of its words, at the right end
	Number      int
}

type rangeWords struct{ Letter, Class, Limit, Hz, Level string }

// limitClass names the shade of a limit in the style sheet.
func limitClass(l bass.Limit) string { return "limit-" + strings.ToLower(string(curve.Mark(l))) }

func (v voice) ranges(points []bass.Operation) (all []rangeWords) {
	for _, r := range curve.Ranges(points) {
		hz, level := v.Figure(r.From, 0)+" Hz", v.DB(r.Least)+" dB"
		if v.Figure(r.From, 0) != v.Figure(r.To, 0) {
			hz = v.Figure(r.From, 0) + " to " + v.Figure(r.To, 0) + " Hz"
		}
		if v.DB(r.Most) != v.DB(r.Least) {
			level = v.DB(r.Least) + " to " + v.DB(r.Most) + " dB"
		}
		all = append(all, rangeWords{string(curve.Mark(r.Limit)), limitClass(r.Limit), r.Limit.String(), hz, level})
	}
	return all
}

// otherPlace is a build heard somewhere else in the car.
type otherPlace struct {
	name  string
	build optimizer.Build
}

// everywhere adds what is heard at each place of the car, each predicted for
// itself.
func (c *Counter) everywhere(v *visit, q *question, code string, b optimizer.Build, body *buildBody) error {
	var names []string
	if !q.job.Vehicle.OpenField {
		for _, name := range q.job.Vehicle.Body.PlaceNames() {
			if name != q.job.Brief.Place {
				names = append(names, name)
			}
		}
	}
	others, faults := make([]otherPlace, len(names)), make([]error, len(names))
	var all sync.WaitGroup
	for i, name := range names {
		all.Go(func() {
			others[i].name = name
			others[i].build, faults[i] = c.buildAt(v.context(), q, code, name)
		})
	}
	all.Wait()
	for _, err := range faults {
		if err != nil {
			return err
		}
	}
	line := func(name string, b optimizer.Build) figureLine {
		return figureLine{capital(name), v.voice.banded(b.Reading.DB, b.Reading.Band), fmt.Sprintf("at %s Hz; limit: %s", v.voice.Figure(b.Reading.Hz, 0), b.Operation.Limit)}
	}
	if len(others) > 0 {
		body.Elsewhere = append(body.Elsewhere, line(q.job.Brief.Place, b))
		for _, o := range others {
			body.Elsewhere = append(body.Elsewhere, line(o.name, o.build))
		}
	}
	body.Response, body.Small = v.voice.response(b, others, false), v.voice.response(b, others, true)
	return nil
}

// response is nil for a build without a curve.
func (v voice) response(b optimizer.Build, others []otherPlace, small bool) *response {
	points := b.Curve
	if len(points) < 2 {
		return nil
	}
	d := &response{Width: 860, Height: 380, Left: 52, Right: 730, Top: 30, Bottom: 336}
	marks := []float64{20, 25, 31.5, 40, 50, 63, 80, 100, 120}
	if small {
		d = &response{Width: 400, Height: 340, Left: 42, Right: 300, Top: 30, Bottom: 296, Small: true}
		marks = []float64{20, 31.5, 50, 80, 120}
	}
	low, high := levels(points)
	for _, o := range others {
		l, h := levels(o.build.Curve)
		low, high = math.Min(low, l), math.Max(high, h)
	}
	floor, ceiling, step := axis(low, high)
	first, last := points[0].Hz, points[len(points)-1].Hz
	x := func(hz float64) float64 {
		return tenth(d.Left + math.Log(hz/first)/math.Log(last/first)*(d.Right-d.Left))
	}
	y := func(db float64) float64 { return tenth(d.Bottom - (db-floor)/(ceiling-floor)*(d.Bottom-d.Top)) }
	d.shade(points, x, y)
	d.line(points, x, y, b.Reading.Place, true)
	for _, o := range others {
		if len(o.build.Curve) > 1 {
			d.line(o.build.Curve, x, y, o.name, false)
		}
	}
	spread(d.Lines, 17, d.Top, d.Bottom)
	for _, hz := range marks {
		if hz >= first*0.999 && hz <= last*1.001 {
			d.X = append(d.X, tick{x(hz), answer.Plain(hz)})
		}
	}
	for db := floor; db <= ceiling; db += step {
		d.Y = append(d.Y, tick{y(db), v.Figure(db, 0)})
	}
	d.PeakX, d.PeakY = x(b.Operation.Hz), y(b.Operation.Level)
	d.Peak = fmt.Sprintf("%s dB at %s Hz", v.DB(b.Operation.Level), v.Figure(b.Operation.Hz, 0))
	d.PeakEnd = d.PeakX > (d.Left+d.Right)/2
	d.Words = fmt.Sprintf("Highest level over frequency %s, the peak %s; which limit binds where stands in the table below.",
		answer.Where(b.Reading.Place, b.Reading.Openings), d.Peak)
	return d
}

func levels(points []bass.Operation) (low, high float64) {
	low, high = math.Inf(1), math.Inf(-1)
	for _, p := range points {
		low, high = math.Min(low, p.Level), math.Max(high, p.Level)
	}
	return low, high
}

func (d *response) line(points []bass.Operation, x, y func(float64) float64, place string, main bool) {
	var path strings.Builder
	for i, p := range points {
		sign := "L"
		if i == 0 {
			sign = "M"
		}
		fmt.Fprintf(&path, "%s%g %g", sign, x(p.Hz), y(p.Level))
	}
	d.Lines = append(d.Lines, placeLine{path.String(), place, main, y(points[len(points)-1].Level), len(d.Lines)})
}

// shade cuts the area under the curve where another limit takes over, half way
// between the two frequencies.
func (d *response) shade(points []bass.Operation, x, y func(float64) float64) {
	from := 0
	for i := range points {
		if i+1 < len(points) && points[i+1].Limit == points[from].Limit {
			continue
		}
		left, right := x(points[from].Hz), x(points[i].Hz)
		var path strings.Builder
		if from > 0 {
			left = tenth((x(points[from-1].Hz) + left) / 2)
		}
		if i+1 < len(points) {
			right = tenth((right + x(points[i+1].Hz)) / 2)
		}
		between := func(a, b int) float64 { return tenth((y(points[a].Level) + y(points[b].Level)) / 2) }
		fmt.Fprintf(&path, "M%g %g", left, d.Bottom)
		if from > 0 {
			fmt.Fprintf(&path, "V%g", between(from-1, from))
		}
		for k := from; k <= i; k++ {
			fmt.Fprintf(&path, "L%g %g", x(points[k].Hz), y(points[k].Level))
		}
		if i+1 < len(points) {
			fmt.Fprintf(&path, "L%g %g", right, between(i, i+1))
		}
		fmt.Fprintf(&path, "V%gZ", d.Bottom)
		l := points[from].Limit
		d.Shades = append(d.Shades, shade{path.String(), limitClass(l), string(curve.Mark(l)), l.String(), tenth((left + right) / 2), d.Bottom - 10, right-left > 16})
		from = i + 1
	}
}

// spread moves labels apart that would lie on each other, keeping their order.
func spread(lines []placeLine, gap, top, bottom float64) {
	order := make([]*placeLine, len(lines))
	for i := range lines {
		order[i] = &lines[i]
	}
	for i := 1; i < len(order); i++ {
		for k := i; k > 0 && order[k].Y < order[k-1].Y; k-- {
			order[k], order[k-1] = order[k-1], order[k]
		}
	}
	for i := 1; i < len(order); i++ {
		order[i].Y = math.Max(order[i].Y, order[i-1].Y+gap)
	}
	if n := len(order) - 1; n >= 0 && order[n].Y > bottom {
		order[n].Y = bottom
		for i := n - 1; i >= 0; i-- {
			order[i].Y = math.Min(order[i].Y, order[i+1].Y-gap)
		}
	}
}

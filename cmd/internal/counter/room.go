package counter

import (
	"fmt"
	"math"
	"slices"

	"loudfor/catalog"
	"loudfor/cmd/internal/facts"
	"loudfor/optimizer"
	"loudfor/optimizer/setting"
)

// Two drawings to scale: the space for boxes with those of a build in it, from
// above and from behind; and the car from the side with the level at each place.

// plan is a drawing of rectangles with words.
type plan struct {
	Width, Height float64
	Words         string
	Views         []planView
}

type planView struct {
	X, Y, W, H float64
	Title      string
	Across     string // words under it
	Up         string // words beside it
	Boxes      []planBox
}

// Middle is half way across.
func (p planView) Middle() float64 { return tenth(p.X + p.W/2) }

// Half is half way up, and Right its right edge.
func (p planView) Half() float64 { return tenth(p.Y + p.H/2) }

func (p planView) Right() float64 { return tenth(p.X + p.W) }

// Bottom is its lower edge.
func (p planView) Bottom() float64 { return tenth(p.Y + p.H) }

type planBox struct{ X, Y, W, H float64 }

// room draws the boxes of a build in the space of the brief or the car; nil where
// one of them is not stated.
func (v voice) room(q *question, b optimizer.Build) *plan {
	box, space, n := outsideOf(b), q.job.Brief.Space, b.Bass.Boxes
	if space == (catalog.Size3{}) {
		space = q.job.Vehicle.Space
	}
	left, ok := setting.LeftOf(box, space, n)
	if !ok || q.job.Vehicle.OpenField {
		return nil
	}
	const width, gap, top, under = 400.0, 64.0, 26.0, 26.0
	scale := (width - gap - 62) / (2 * space.Width)
	scale = math.Min(scale, 150/math.Max(space.Depth, space.Height))
	taken := [3]float64{left.Taken.Width, left.Taken.Depth, left.Taken.Height}
	along := rowAlong(box, taken, n)
	cm := func(m float64) string { return v.Figure(100*m, 0) + " cm" }
	view := func(x float64, title string, up int, size float64) planView {
		p := planView{X: tenth(x), Y: top, W: tenth(scale * space.Width), H: tenth(scale * size), Title: title, Across: cm(space.Width), Up: cm(size)}
		seen := n
		if along != 0 && along != up {
			seen = 1 // one behind the other
		}
		for i := range seen {
			w, h := scale*taken[0], scale*taken[up]
			x, y := p.X, p.Y+p.H-h
			switch along {
			case 0:
				w /= float64(n)
				x += float64(i) * w
			case up:
				h /= float64(n)
				y = p.Y + p.H - float64(i+1)*h
			}
			p.Boxes = append(p.Boxes, planBox{tenth(x), tenth(y), tenth(w), tenth(h)})
		}
		return p
	}
	first := view(4, "from above", 1, space.Depth)
	second := view(4+first.W+gap, "from behind", 2, space.Height)
	return &plan{Width: width, Height: top + under + math.Max(first.H, second.H),
		Words: fmt.Sprintf("The space for boxes, %s wide, %s deep and %s high, to scale, and %s in it: %s wide, %s deep and %s high.", cm(space.Width), cm(space.Depth), cm(space.Height),
			facts.Plural(n, "box"), cm(taken[0]), cm(taken[1]), cm(taken[2])),
		Views: []planView{first, second}}
}

// outsideOf is the outside of a build's box.
func outsideOf(b optimizer.Build) catalog.Size3 {
	switch {
	case b.Bass.Enclosure != nil:
		return b.Bass.Enclosure.Enclosure.Outside
	case b.Bass.Part != nil && b.Bass.Part.Loaded != nil:
		return b.Bass.Part.Loaded.Outside
	}
	return catalog.Size3{}
}

// rowAlong is the axis along which equal boxes stand in a row; 0 for one alone.
func rowAlong(box catalog.Size3, taken [3]float64, n int) int {
	want := []float64{box.Width, box.Depth, box.Height}
	slices.Sort(want)
	for along := range taken {
		one := taken
		one[along] /= float64(n)
		have := one[:]
		slices.Sort(have)
		if math.Abs(have[0]-want[0])+math.Abs(have[1]-want[1])+math.Abs(have[2]-want[2]) < 1e-6 {
			return along
		}
	}
	return 0
}

// side is the car seen from its left side.
type side struct {
	Width, Height         float64
	Left, Right, Top, Low float64
	Nose                  string // path of the outline
	Words                 string
	Box                   planBox
	Places                []sidePlace
}

type sidePlace struct {
	X, Y, LabelX, LabelY float64
	Name, Level          string
	Main                 bool
}

// side draws the cabin to scale with what the meter shows at each place; nil
// outside of cars.
func (v voice) side(q *question, b optimizer.Build, others []otherPlace) *side {
	body := q.job.Vehicle.Body
	if q.job.Vehicle.OpenField || body.Cavity.Length <= 0 {
		return nil
	}
	const width, margin, top = 400.0, 6.0, 16.0
	scale := math.Min((width-2*margin-160)/body.Cavity.Length, 150/body.Cavity.Height)
	long, high := scale*body.Cavity.Length, scale*body.Cavity.Height
	s := &side{Width: width, Height: tenth(top + high + 40), Left: margin, Right: tenth(margin + long), Top: top, Low: tenth(top + high)}
	slope := tenth(0.16 * long)
	s.Nose = fmt.Sprintf("M%g %gV%gL%g %gH%gL%g %gV%gZ", s.Left, s.Low, tenth(s.Top+0.45*high), s.Left+slope, s.Top, s.Right-tenth(0.08*long), s.Right, tenth(s.Top+0.3*high), s.Low)
	size := math.Min(0.42*scale, 0.5*high)
	x := math.Min(math.Max(margin+scale*body.Source.X-size/2, s.Left), s.Right-size)
	s.Box = planBox{tenth(x), tenth(s.Low - size), tenth(size), tenth(size)}
	all := append([]otherPlace{{q.job.Brief.Place, b}}, others...)
	for i, o := range all {
		at, ok := body.Place(o.name)
		if !ok {
			continue
		}
		s.Places = append(s.Places, sidePlace{X: tenth(margin + scale*at.X), Y: tenth(s.Low - scale*at.Z), Name: facts.Capital(o.name), Level: v.banded(o.build.Reading.DB, o.build.Reading.Band), Main: i == 0})
		s.Words += fmt.Sprintf("; %s: %s", o.name, v.banded(o.build.Reading.DB, o.build.Reading.Band))
	}
	if len(s.Places) == 0 {
		return nil
	}
	s.Words = "The car from its left side, the front on the left" + s.Words
	// Words stand to the right of the car, apart from each other.
	slices.SortStableFunc(s.Places, func(a, b sidePlace) int { return int(math.Copysign(1, a.Y-b.Y)) })
	for i := range s.Places {
		p := &s.Places[i]
		p.LabelX, p.LabelY = tenth(s.Right+14), math.Max(p.Y, top+12)
		if i > 0 {
			p.LabelY = math.Max(p.LabelY, s.Places[i-1].LabelY+46)
		}
	}
	s.Height = math.Max(s.Height, s.Places[len(s.Places)-1].LabelY+34)
	return s
}

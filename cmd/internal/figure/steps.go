package figure

import (
	"bytes"
	"fmt"
	"image/color"

	"gonum.org/v1/plot"
	"gonum.org/v1/plot/plotter"
	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"
	"gonum.org/v1/plot/vg/vgsvg"
)

// Step is one step of a staircase: the level that a price buys.
type Step struct {
	Price, Level float64
	Note         string // what its marker stands for in the legend; empty: a plain one
}

// Staircase draws steps, in rising order of price, up to a price. The same
// steps always give the same bytes.
func Staircase(title, currency string, steps []Step, end float64) ([]byte, error) {
	if len(steps) == 0 {
		return nil, fmt.Errorf("a figure needs at least one step")
	}
	p := plot.New()
	p.Title.Text = title
	p.X.Label.Text = "price, all in, " + currency
	p.Y.Label.Text = "level, dB"
	p.Legend.Top, p.Legend.Left, p.Legend.Padding = true, true, vg.Points(2)
	p.Add(plotter.NewGrid())
	var line plotter.XYs
	byNote := map[string]plotter.XYs{}
	var order []string
	for _, s := range steps {
		at := plotter.XY{X: s.Price, Y: s.Level}
		line = append(line, at)
		if _, known := byNote[s.Note]; !known {
			order = append(order, s.Note)
		}
		byNote[s.Note] = append(byNote[s.Note], at)
	}
	if last := line[len(line)-1]; end > last.X {
		line = append(line, plotter.XY{X: end, Y: last.Y})
	}
	drawn, err := plotter.NewLine(line)
	if err != nil {
		return nil, err
	}
	drawn.StepStyle = plotter.PostStep
	p.Add(drawn)
	for i, note := range order {
		marks, err := plotter.NewScatter(byNote[note])
		if err != nil {
			return nil, err
		}
		marks.Shape, marks.Color, marks.Radius = draw.CircleGlyph{}, color.Black, vg.Points(1.5)
		if note != "" {
			look := looks[i%len(looks)]
			marks.Shape, marks.Color, marks.Radius = look.shape, look.colour, vg.Points(3.5)
			p.Legend.Add(note, marks)
		}
		p.Add(marks)
	}
	span := p.Y.Max - p.Y.Min
	p.Y.Max += 0.25*span + 1
	p.Y.Min -= 0.05*span + 1
	if p.X.Max <= p.X.Min {
		p.X.Min, p.X.Max = p.X.Min*0.9, p.X.Max*1.1
	}
	canvas := vgsvg.New(width, height)
	p.Draw(draw.New(canvas))
	var out bytes.Buffer
	_, err = canvas.WriteTo(&out)
	return out.Bytes(), err
}

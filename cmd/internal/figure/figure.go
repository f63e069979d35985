// Package figure draws a level over frequency as an SVG picture, for a page or
// a printed sheet.
//
//	picture, err := figure.SVG("Demo 500, at the dash", []figure.Point{
//		{Hz: 40, Level: 128.2, Limit: "travel"},
//		{Hz: 50, Level: 131.4, Limit: "amplifier voltage"},
//	})
//
// The curve is black; the limit that binds is shown by a marker of its own
// shape as well as by colour, with a legend, so the picture survives a grey
// printer. The same points always give the same bytes. Limit: there is one
// curve in a picture.
package figure

import (
	"bytes"
	"fmt"
	"image/color"
	"math"

	"gonum.org/v1/plot"
	"gonum.org/v1/plot/plotter"
	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"
	"gonum.org/v1/plot/vg/vgsvg"
)

// Point is one point of the curve.
type Point struct {
	Hz    float64
	Level float64 // dB
	Limit string  // what keeps it from being louder; empty: no limit applied
}

// The picture's size: the usual width of a page's text.
const (
	width  = 18 * vg.Centimeter
	height = 11 * vg.Centimeter
)

// ticks are nominal third-octave centres (IEC 61260).
var ticks = []float64{5, 6.3, 8, 10, 12.5, 16, 20, 25, 31.5, 40, 50, 63, 80, 100, 125, 160, 200, 250, 315, 400, 500}

// The colours are the first six of the set of Okabe and Ito, which stays
// apart for people with any of the common colour deficiencies (from memory).
var looks = []struct {
	shape  draw.GlyphDrawer
	colour color.Color
}{
	{draw.CircleGlyph{}, color.RGBA{0, 114, 178, 255}},
	{draw.TriangleGlyph{}, color.RGBA{213, 94, 0, 255}},
	{draw.SquareGlyph{}, color.RGBA{0, 158, 115, 255}},
	{draw.PlusGlyph{}, color.RGBA{204, 121, 167, 255}},
	{draw.CrossGlyph{}, color.RGBA{86, 180, 233, 255}},
	{draw.PyramidGlyph{}, color.RGBA{230, 159, 0, 255}},
}

// SVG draws the points, which must be in rising order of frequency.
func SVG(title string, points []Point) ([]byte, error) {
	p, err := picture(title, points)
	if err != nil {
		return nil, err
	}
	canvas := vgsvg.New(width, height)
	p.Draw(draw.New(canvas))
	var out bytes.Buffer
	_, err = canvas.WriteTo(&out)
	return out.Bytes(), err
}

func picture(title string, points []Point) (*plot.Plot, error) {
	if len(points) == 0 {
		return nil, fmt.Errorf("a figure needs at least one point")
	}
	p := plot.New()
	p.Title.Text = title
	p.X.Label.Text = "frequency, Hz"
	p.Y.Label.Text = "level, dB"
	p.X.Scale = plot.LogScale{}
	p.X.Tick.Marker = thirdOctaves{}
	p.Legend.Top, p.Legend.Padding = true, vg.Points(2)
	p.Add(plotter.NewGrid())

	all := make(plotter.XYs, len(points))
	byLimit := map[string]plotter.XYs{}
	var order []string
	for i, point := range points {
		all[i] = plotter.XY{X: point.Hz, Y: point.Level}
		if _, known := byLimit[point.Limit]; !known {
			order = append(order, point.Limit)
		}
		byLimit[point.Limit] = append(byLimit[point.Limit], all[i])
	}
	line, err := plotter.NewLine(all)
	if err != nil {
		return nil, err
	}
	p.Add(line)
	for i, limit := range order {
		if limit == "" {
			continue
		}
		marks, err := plotter.NewScatter(byLimit[limit])
		if err != nil {
			return nil, err
		}
		look := looks[i%len(looks)]
		marks.Shape, marks.Color, marks.Radius = look.shape, look.colour, vg.Points(2.5)
		p.Add(marks)
		p.Legend.Add("limit: "+limit, marks)
	}
	// Room above the curve for the legend, and no curve glued to a border.
	span := p.Y.Max - p.Y.Min
	p.Y.Max += 0.25*span + 1
	p.Y.Min -= 0.05*span + 1
	if p.X.Max <= p.X.Min {
		p.X.Min, p.X.Max = p.X.Min*0.9, p.X.Max*1.1
	}
	return p, nil
}

// thirdOctaves marks an axis at the nominal third-octave centres.
type thirdOctaves struct{}

// Ticks implements plot.Ticker.
func (thirdOctaves) Ticks(low, high float64) []plot.Tick {
	var marks []plot.Tick
	for _, hz := range ticks {
		if hz >= low*0.999 && hz <= high*1.001 {
			marks = append(marks, plot.Tick{Value: hz, Label: fmt.Sprintf("%g", hz)})
		}
	}
	if len(marks) == 0 {
		marks = append(marks, plot.Tick{Value: low, Label: fmt.Sprintf("%g", math.Round(low))})
	}
	return marks
}

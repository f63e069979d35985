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

// BandPoint is a prediction at a frequency with the limits of its 90 % band, dB.
type BandPoint struct{ Hz, Low, Level, High float64 }

// Measured is one reading with the meter's tolerance, dB.
type Measured struct{ Hz, Level, Tolerance float64 }

// BandSVG draws measured points, with whiskers for the meter's tolerance, over
// a predicted band: the band grey, the prediction a line, the readings circles.
func BandSVG(title string, band []BandPoint, readings []Measured) ([]byte, error) {
	if len(band) < 2 {
		return nil, fmt.Errorf("a band needs at least two frequencies")
	}
	p := plot.New()
	p.Title.Text = title
	p.X.Label.Text, p.Y.Label.Text = "frequency, Hz", "level, dB"
	p.X.Scale, p.X.Tick.Marker = plot.LogScale{}, thirdOctaves{}
	p.Legend.Top, p.Legend.Padding = true, vg.Points(2)
	p.Add(plotter.NewGrid())
	var outline, middle plotter.XYs
	for _, b := range band {
		outline = append(outline, plotter.XY{X: b.Hz, Y: b.High})
		middle = append(middle, plotter.XY{X: b.Hz, Y: b.Level})
	}
	for i := len(band) - 1; i >= 0; i-- {
		outline = append(outline, plotter.XY{X: band[i].Hz, Y: band[i].Low})
	}
	area, err := plotter.NewPolygon(outline)
	if err != nil {
		return nil, err
	}
	area.Color, area.LineStyle.Width = color.RGBA{220, 220, 220, 255}, 0
	line, err := plotter.NewLine(middle)
	if err != nil {
		return nil, err
	}
	p.Add(area, line)
	p.Legend.Add("predicted", line)
	p.Legend.Add("90 % band", area)
	if len(readings) > 0 {
		if err := addMeasured(p, readings); err != nil {
			return nil, err
		}
	}
	span := p.Y.Max - p.Y.Min
	p.Y.Max += 0.25*span + 1
	p.Y.Min -= 0.05*span + 1
	canvas := vgsvg.New(width, height)
	p.Draw(draw.New(canvas))
	var out bytes.Buffer
	_, err = canvas.WriteTo(&out)
	return out.Bytes(), err
}

// whiskers are readings with their errors, as the plotter wants them.
type whiskers struct {
	plotter.XYs
	plotter.YErrors
}

func addMeasured(p *plot.Plot, readings []Measured) error {
	w := whiskers{}
	for _, r := range readings {
		w.XYs = append(w.XYs, plotter.XY{X: r.Hz, Y: r.Level})
		w.YErrors = append(w.YErrors, struct{ Low, High float64 }{r.Tolerance, r.Tolerance})
	}
	bars, err := plotter.NewYErrorBars(w)
	if err != nil {
		return err
	}
	marks, err := plotter.NewScatter(w.XYs)
	if err != nil {
		return err
	}
	marks.Shape, marks.Color, marks.Radius = looks[1].shape, looks[1].colour, vg.Points(3.5)
	p.Add(bars, marks)
	p.Legend.Add("measured", marks)
	return nil
}

package catalog

import (
	"fmt"
	"io/fs"
	"path"
	"path/filepath"

	"go.yaml.in/yaml/v3"

	"loudfor/catalog/document"
	"loudfor/catalog/units"
	"loudfor/model/cabin"
)

// The key curve of a vehicle: the name of a CSV file, or a group that also says
// where it was measured. The file lies beside that of the vehicles.

// curveKey is the mapping form of the key curve.
type curveKey struct {
	file string
	at   *yaml.Node
	c    cabin.Curve
}

var curveSchema = document.NewSchema("a curve", []document.Field[curveKey]{
	{Spec: spec{Key: "file", Shape: document.Text, Required: true, Example: "cabin-gain.csv", Help: "a CSV file with the columns frequency_hz and gain_db, beside the vehicle file"},
		Set: func(k *curveKey, v *value) { k.file, k.at = v.Text, v.Node }},
	document.String(spec{Key: "place", Shape: document.Text, Example: "headrest", Help: "the place that it was measured at; not stated: all"},
		func(k *curveKey) *string { return &k.c.Place }),
	document.String(spec{Key: "openings", Shape: document.Text, Example: "shut", Help: "what stood open; not stated: all"},
		func(k *curveKey) *string { return &k.c.Openings }),
	document.Float(spec{Key: "spread", Shape: document.Quantity, Dim: units.Level, Range: "0 dB..20 dB", Default: "1.5 dB", Example: "1.5 dB", Help: "one standard deviation of the measured values"},
		func(k *curveKey) *float64 { return &k.c.Spread }),
})

// defaultCurveSpread is what a careful reading with a hand-held meter scatters
// by, dB (common practice, no source).
const defaultCurveSpread = 1.5

func readCurveKey(r *document.Reader, c *car, n *yaml.Node) {
	k := curveKey{c: cabin.Curve{Spread: defaultCurveSpread}}
	if document.Resolve(n).Kind == yaml.ScalarNode {
		var v value
		if !r.Read(n, &spec{Key: "curve", Shape: document.Text, Example: "cabin-gain.csv"}, &v) {
			return
		}
		k.file, k.at = v.Text, n
	} else if !curveSchema.Decode(r, n, &k, nil) {
		return
	}
	name := beside(c.fsys, r.File.Name, k.file)
	if !fs.ValidPath(name) && c.fsys != (document.System{}) {
		r.Complain(k.at, fmt.Sprintf("%q leads out of the folder", k.file), "name a file beside the vehicle file")
		return
	}
	file, problem := document.ReadFile(c.fsys, name, mostCurveBytes)
	if problem != nil {
		r.Complain(k.at, fmt.Sprintf("%s: %s", name, problem.Summary), problem.Detail)
		return
	}
	hz, gain, problems := readCurve(file)
	for _, p := range problems {
		r.Add(p)
	}
	if len(problems) == 0 {
		k.c.Hz, k.c.Gain = hz, gain
		c.curve = &k.c
	}
}

// beside is a file name seen from another file.
func beside(fsys fs.FS, from, name string) string {
	if _, ok := fsys.(document.System); !ok {
		return path.Join(path.Dir(from), name)
	}
	if filepath.IsAbs(name) {
		return name
	}
	return filepath.Join(filepath.Dir(from), name)
}

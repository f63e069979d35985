package catalog

import (
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"testing/fstest"

	"loudfor/model/cabin"
)

func loadVehicleText(t testing.TB, files fstest.MapFS) Vehicle {
	t.Helper()
	v, report := LoadVehiclesFS(files, "vehicles.yaml")
	if err := report.Err(); err != nil {
		t.Fatal(err)
	}
	if len(v) != 1 {
		t.Fatalf("%d vehicles", len(v))
	}
	return v[0]
}

// What the file states is used and no longer called assumed; the rest comes
// from the style and is.
func TestVehicleOverrides(t *testing.T) {
	v := loadVehicleText(t, inFile("vehicles.yaml", `vehicles:
  - name: blue sedan
    body: Small Sedan
    inside: 330 x 137 x 108 cm
    first_mode_q: 4
    space: 95 x 45 x 50 cm
    alternator: 80 A
    standby: 25 A
    cable_run: 4.2 m
    source: 300 x 68 x 30 cm
    source_area: 700 cm2
    places:
      Dash: 40 100 80 cm
      second row: 245 40 100 cm
    openings:
      shut: []
      one window: [{wall: left, from: 60 x 65 cm, size: 60 x 30 cm}]
`))
	b := v.Body
	style, _ := cabin.BodyNamed("small sedan")
	if b.Name != "blue sedan" || b.Cavity.Length != 3.3 || b.Cavity.Width != 1.37 || b.Cavity.Height != 1.08 {
		t.Errorf("%s: %+v", b.Name, b.Cavity)
	}
	if q := b.Cavity.FirstModeQ(); math.Abs(q-4) > 1e-9 {
		t.Errorf("first mode has Q %v", q)
	}
	if p, ok := b.Place("dash"); !ok || p != (cabin.Point{X: 0.4, Y: 1, Z: 0.8}) {
		t.Errorf("dash at %v", p)
	}
	if p, ok := b.Place("second row"); !ok || p.X != 2.45 {
		t.Errorf("second row at %v", p)
	}
	if _, ok := b.Place("headrest"); !ok {
		t.Error("the style's headrest is gone")
	}
	if o, ok := b.Openings("one window"); !ok || len(o) != 1 || o[0].Wall != cabin.Left || o[0].Width != 0.6 {
		t.Errorf("one window is %+v", o)
	}
	if len(b.Sets) != len(style.Sets)+1 || len(b.Places) != len(style.Places)+1 {
		t.Errorf("%v, %v", b.PlaceNames(), b.OpeningNames())
	}
	if v.Alternator != 80 || v.Standby != 25 || v.CableRun != 4.2 || b.SourceArea != 0.07 {
		t.Errorf("%+v", v)
	}
	said := strings.Join(v.Assumed, "\n")
	for _, words := range []string{"inside dimensions", "Q of the first mode", "alternator", "of cable", "free for boxes"} {
		if strings.Contains(said, words) {
			t.Errorf("%q is stated, but called assumed", words)
		}
	}
	if err := b.Check(); err != nil {
		t.Error(err)
	}
	if b.Spread.Length >= style.Spread.Length {
		t.Errorf("a measured length spreads by %v", b.Spread.Length)
	}
}

func TestVehicleAdmittance(t *testing.T) {
	v := loadVehicleText(t, inFile("vehicles.yaml", "vehicles: [{name: x, body: van, admittance: 0.07}]"))
	if v.Body.Cavity.Admittance != 0.07 {
		t.Errorf("%v", v.Body.Cavity.Admittance)
	}
}

// How doors hang, how high the floor lies and what the walls lose: what is
// stated is used, and known better than what is assumed.
func TestVehicleDoors(t *testing.T) {
	v := loadVehicleText(t, inFile("vehicles.yaml", `vehicles:
  - name: tin
    body: sedan
    door_angle: 45 degrees
    door_hinge: 40 cm
    floor_height: 25 cm
    admittance_exponent: 1.5
    zone_loss: 2
    panels: [{wall: roof, share: 12 %, resonance: 50 Hz}]
    openings:
      front door open: [{wall: left, from: 40 x 5 cm, size: 100 x 100 cm}]
      window down: [{wall: left, from: 40 x 60 cm, size: 70 x 40 cm}]
      hole: [{wall: left, from: 40 x 5 cm, size: 100 x 100 cm, hinge: none}]
      slid open: [{wall: right, from: 140 x 5 cm, size: 80 x 100 cm, hinge: front, angle: 180 degrees}]
      barn doors: [{wall: rear, from: 10 x 20 cm, size: 60 x 80 cm, hinge: left, angle: 1.5 rad}, {wall: rear, from: 71 x 20 cm, size: 60 x 80 cm, hinge: right}]
`))
	b := v.Body
	style, _ := cabin.BodyNamed("sedan")
	const degree = math.Pi / 180
	for _, want := range []struct {
		set    string
		hinge  cabin.Edge
		angle  float64 // degrees
		stated bool
	}{
		{"doors open", cabin.Near, 45, true}, {"front door open", cabin.Near, 45, true}, {"window down", cabin.Unhinged, 0, false},
		{"hole", cabin.Unhinged, 0, false}, {"slid open", cabin.Near, 180, true}, {"barn doors", cabin.Near, 1.5 / degree, true},
	} {
		set, ok := b.Openings(want.set)
		if !ok {
			t.Fatalf("no %s", want.set)
		}
		l := set[0].Leaf
		if l.Hinge != want.hinge || math.Abs(l.Angle/degree-want.angle) > 1e-9 || (l.Spread == cabin.StatedAngle) != want.stated {
			t.Errorf("%s: %+v", want.set, l)
		}
	}
	if all := strings.Join(v.Assumed, "\n"); !strings.Contains(all, `of "front door open"`) || strings.Contains(all, `of "window down"`) || strings.Contains(all, `of "hole"`) || strings.Contains(all, `of "slid open"`) {
		t.Errorf("what hangs by its size alone is assumed, nothing else: %s", all)
	}
	if set, _ := b.Openings("barn doors"); set[1].Leaf.Hinge != cabin.Far {
		t.Errorf("the right barn door hangs on %v", set[1].Leaf)
	}
	if set, _ := b.Openings("doors open"); set[0].U != 0.4 || b.Spread.Hinge >= style.Spread.Hinge {
		t.Errorf("hinge at %g, spread %g", set[0].U, b.Spread.Hinge)
	}
	if b.Cavity.Ground != 0.25 || b.Spread.Ground >= style.Spread.Ground {
		t.Errorf("floor at %g, spread %g", b.Cavity.Ground, b.Spread.Ground)
	}
	if b.Cavity.Exponent != 1.5 || b.Cavity.Zone != math.Log(2) || b.Spread.Exponent >= style.Spread.Exponent || b.Spread.Zone >= style.Spread.Zone {
		t.Errorf("%+v, %+v", b.Cavity, b.Spread)
	}
	if len(b.Cavity.Panels) != 1 || b.Cavity.Panels[0] != (cabin.Panel{Wall: cabin.Roof, Share: 0.12, Resonance: 50}) {
		t.Errorf("%+v", b.Cavity.Panels)
	}
	for text, want := range map[string]string{
		"inside: 10 x 10 x 9 m":  "is a hall, not a car",
		"door_angle: 10 degrees": "door_angle cannot be",
		"door_angle: 45":         "has no unit",
		"openings: {a: [{wall: rear, from: 40 x 5 cm, size: 50 x 50 cm, hinge: front}]}":                   "has no front edge",
		"openings: {a: [{wall: roof, from: 40 x 5 cm, size: 50 x 50 cm, hinge: top}]}":                     "has no top edge",
		"openings: {a: [{wall: left, from: 40 x 5 cm, size: 50 x 50 cm, hinge: none, angle: 60 degrees}]}": "nothing hangs",
		"panels: [{wall: roof, share: 50 %, resonance: 50 Hz}]":                                            "share cannot be",
	} {
		_, report := LoadVehiclesFS(inFile("vehicles.yaml", "vehicles: [{name: x, body: van, "+text+"}]"), "vehicles.yaml")
		if err := report.Err(); err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%s: %v, want %q", text, err, want)
		}
	}
}

func TestVehicleOpenField(t *testing.T) {
	v := loadVehicleText(t, inFile("vehicles.yaml", "vehicles: [{name: car park, open_field: true}]"))
	if !v.OpenField || v.Name != "car park" {
		t.Errorf("%+v", v)
	}
}

func TestVehicleCurve(t *testing.T) {
	files := inFile("vehicles.yaml", "vehicles: [{name: x, body: van, curve: {file: gain.csv, place: headrest, openings: shut, spread: 2 dB}}]")
	for name, text := range map[string]string{
		"commas":     "frequency_hz,gain_db\n20,14.5\n31.5,12\n80,-3\n",
		"semicolons": "# meter 2\nfrequency_hz;gain_db\n20;14,5\n31,5;12\n80;-3\n",
		"tabs":       "gain_db\tfrequency_hz\n14.5\t20\n12\t31.5\n-3\t80\n",
		"units":      "frequency_hz, gain_db\n20 Hz, 14.5 dB\n31.5, 12\n0.08 kHz, -3\n",
		"windows":    "\ufefffrequency_hz,gain_db\r\n20,14.5\r\n31.5,12\r\n80,-3\r\n",
		"quotes":     "\"frequency_hz\",\"gain_db\"\n\"20\",\"14,5\"\n31.5,12\n80,-3\n",
	} {
		files["gain.csv"] = &fstest.MapFile{Data: []byte(text)}
		c := loadVehicleText(t, files).Body.Curve
		if c == nil || len(c.Hz) != 3 || c.Hz[1] != 31.5 || c.Gain[0] != 14.5 || c.Gain[2] != -3 || c.Place != "headrest" || c.Openings != "shut" || c.Spread != 2 {
			t.Errorf("%s: %+v", name, c)
		}
	}
}

// The curve is looked for beside the file of vehicles, not where the program
// was started.
func TestCurveBesideItsFile(t *testing.T) {
	dir := t.TempDir()
	write := func(name, text string) {
		if err := os.WriteFile(filepath.Join(dir, name), []byte(text), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	write("vehicles.yaml", "vehicles: [{name: x, body: van, curve: gain.csv}]")
	write("gain.csv", "frequency_hz,gain_db\n20,14.5\n80,3\n")
	v, report := LoadVehicles(filepath.Join(dir, "vehicles.yaml"))
	if report.Err() != nil || v[0].Body.Curve == nil || v[0].Body.Curve.Spread != defaultCurveSpread {
		t.Errorf("%v", report.Err())
	}
}

func TestReference(t *testing.T) {
	sections := Reference()
	if len(sections) != int(KindCount)+6 {
		t.Fatalf("%d sections", len(sections))
	}
	var each func(where string, keys []spec)
	each = func(where string, keys []spec) {
		for _, k := range keys {
			if k.Help == "" || k.Expected() == "" {
				t.Errorf("%s: %s has no help", where, k.Key)
			}
			each(where+"."+k.Key, k.Sub)
		}
	}
	for _, s := range sections {
		if len(s.Keys) == 0 {
			t.Errorf("%s has no keys", s.Title)
		}
		each(s.Title, s.Keys)
	}
}

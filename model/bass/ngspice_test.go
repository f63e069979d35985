package bass

import (
	"bufio"
	"fmt"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	"loudfor/model/air"
	"loudfor/model/cabin"
	"loudfor/model/driver"
	"loudfor/model/enclosure"
)

// The same boxes in a general-purpose circuit simulator. The netlist is drawn
// element by element from the physics, every driver of every box by itself with
// its own coils, and knows nothing of shares or of one driver standing for
// all: electrical side in volts and amperes, mechanical side in newtons and
// metres a second (a force is a voltage, a velocity a current), acoustical side
// in pascals and cubic metres a second. Controlled sources couple them: Bl
// both ways, and Sd both ways.

// spiceTolerance is relative, on impedance, excursion and volume velocity.
const spiceTolerance = 1e-3

// netlist is one case.
type netlist struct {
	strings.Builder
	parts, node int
	d           driver.Driver
}

func (n *netlist) put(letter, format string, args ...any) string {
	n.parts++
	name := fmt.Sprintf("%s%d", letter, n.parts)
	fmt.Fprintf(n, "%s %s\n", name, fmt.Sprintf(format, args...))
	return name
}

func (n *netlist) fresh() string { n.node++; return fmt.Sprintf("n%d", n.node) }

// chain puts two-terminal elements one after the other between two nodes; each
// is a letter and a value, and zero resistances and inductances are left out.
func (n *netlist) chain(from, to string, elements ...any) {
	at := from
	for i := 0; i < len(elements); i += 2 {
		letter, value := elements[i].(string), elements[i+1].(float64)
		if value == 0 && letter != "C" {
			continue
		}
		next := n.fresh()
		n.put(letter, "%s %s %.15g", at, next, value)
		at = next
	}
	n.put("V", "%s %s 0", at, to) // ammeter, also joins
}

// driver puts one driver between acoustical nodes front and rear, its coils
// between pairs of electrical nodes, and names the ammeter of its velocity.
func (n *netlist) driver(coils [][2]string, front, rear string) (velocity string) {
	d := n.d
	sense := fmt.Sprintf("V%d", n.parts+1)
	moving := n.fresh()
	n.put("V", "%s %s 0", n.fresh(), moving) // sense: velocity flows out of the force
	at := fmt.Sprintf("n%d", n.node)
	for _, c := range coils {
		a, b, e := n.fresh(), n.fresh(), n.fresh()
		ammeter := n.put("V", "%s %s 0", c[0], a)
		if d.L2 > 0 {
			n.put("L", "%s %s %.15g", a, b, d.L2)
			n.put("R", "%s %s %.15g", a, b, d.R2)
		} else {
			n.put("V", "%s %s 0", a, b)
		}
		n.chain(b, e, "R", d.Re, "L", d.Le)
		n.put("H", "%s %s %s %.15g", e, c[1], sense, d.Bl) // EMF
		below := n.fresh()
		n.put("H", "%s %s %s %.15g", at, below, ammeter, d.Bl) // force of this coil
		at = below
	}
	n.put("V", "%s 0 0", at)
	load := n.fresh()
	n.chain(moving, load, "L", d.Mms, "R", d.Rms, "C", d.Cms)
	n.put("E", "%s 0 %s %s %.15g", load, front, rear, d.Sd)
	n.put("F", "%s %s %s %.15g", rear, front, sense, d.Sd)
	return sense
}

// spiceCase is a box with everything that the netlist needs, computed here from
// the definitions of the handbooks.
type spiceCase struct {
	name             string
	box              enclosure.Box
	boxes, coils     int
	series, parallel int // coils on the one output; drivers in order
	open             bool
	inductive        bool
}

func spiceCases() []spiceCase {
	two := func(b enclosure.Box) enclosure.Box {
		b.Drivers, b.Volume, b.FrontVolume, b.Port.Count = 2, 2*b.Volume, 2*b.FrontVolume, 2*b.Port.Count
		return b
	}
	slot := ventedBox()
	slot.Port = enclosure.Port{Count: 1, Width: 0.04, Height: 0.25, Length: 0.4, FlangedEnds: 2}
	tight := sealedBox()
	tight.LeakQ, tight.AbsorptionQ = 15, 8
	return []spiceCase{
		{name: "sealed, open field", box: sealedBox(), boxes: 1, coils: 1, series: 1, parallel: 1, open: true},
		{name: "sealed, lined, in the car", box: tight, boxes: 1, coils: 1, series: 1, parallel: 1, inductive: true},
		{name: "two sealed boxes of two dual-coil drivers", box: two(sealedBox()), boxes: 2, coils: 2, series: 2, parallel: 4, inductive: true},
		{name: "vented, open field", box: ventedBox(), boxes: 1, coils: 1, series: 1, parallel: 1, open: true, inductive: true},
		{name: "vented with a slot, in the car", box: slot, boxes: 1, coils: 2, series: 2, parallel: 1},
		{name: "vented box of two drivers", box: two(ventedBox()), boxes: 1, coils: 1, series: 2, parallel: 1, inductive: true},
		{name: "band-pass, in the car", box: bandPassBox(), boxes: 1, coils: 1, series: 1, parallel: 1, inductive: true},
		{name: "two band-pass boxes of two drivers", box: two(bandPassBox()), boxes: 2, coils: 1, series: 1, parallel: 4},
	}
}

func TestNgspice(t *testing.T) {
	if _, err := exec.LookPath("ngspice"); err != nil {
		if os.Getenv("LOUDFOR_REQUIRE_TOOLS") == "1" {
			t.Fatal("ngspice is required and not installed")
		}
		t.Skip("ngspice is not installed: the circuit is not held against it (Debian: apt install ngspice)")
	}
	for _, c := range spiceCases() {
		t.Run(c.name, func(t *testing.T) {
			t.Parallel()
			c.compare(t, runSpice(t, c.netlist()))
		})
	}
}

const (
	spiceVolts        = 2.83
	spiceDisplacement = 0.003
)

func (c *spiceCase) driver() driver.Driver {
	d := twelve()
	d.Coils = c.coils
	if !c.inductive {
		d.L2, d.R2 = 0, 0
	}
	return build(d)
}

// netlist draws the case.
func (c *spiceCase) netlist() string {
	a := air.At(20)
	n := &netlist{d: c.driver()}
	fmt.Fprintf(n, "* %s\nVsource top 0 DC 0 AC %g\n", c.name, spiceVolts)
	// The cabin: what all boxes push out flows through Vnet.
	if c.open {
		n.WriteString("Vnet outside 0 0\n")
	} else {
		compliance, mass, resistance := carElements(a)
		fmt.Fprintf(n, "Vnet outside room 0\nCroom room 0 %.15g\nLroom room 0 %.15g\nRroom room 0 %.15g\n", compliance, mass, resistance)
	}
	// The output: strings of coils, taken driver by driver.
	nodes := make([][2]string, 0, c.series*c.parallel)
	for range c.parallel {
		at := "top"
		for s := range c.series {
			next := n.fresh()
			if s == c.series-1 {
				next = "0"
			}
			nodes = append(nodes, [2]string{at, next})
			at = next
		}
	}
	var first string
	for range c.boxes {
		front, rear := c.chambers(n, a)
		for range c.box.Drivers {
			v := n.driver(nodes[:c.coils], front, rear)
			nodes = nodes[c.coils:]
			if first == "" {
				first = v
			}
		}
	}
	fmt.Fprintf(n, `.control
set numdgt=12
set wr_singlescale
ac dec 60 10 200
wrdata out.txt i(vsource) i(%s) i(vnet)
quit
.endc
.end
`, strings.ToLower(first))
	return n.String()
}

// chambers draws one box, losses from their definitions (Small 1972, 1973), and
// gives the nodes before and behind the cones.
func (c *spiceCase) chambers(n *netlist, a air.Air) (front, rear string) {
	b, d := c.box, n.d
	stiffness := a.Density * a.SoundSpeed * a.SoundSpeed
	air := b.Port.Area() * b.Port.Length
	volume := b.Volume - float64(b.Drivers)*spiceDisplacement
	if b.Kind == enclosure.Vented {
		volume -= air
	}
	compliance := volume / stiffness
	drivers := float64(b.Drivers)
	// The cones all together on their air: fs sqrt(1 + N Vas/V).
	cone := 2 * math.Pi * d.Fs * math.Sqrt(1+drivers*d.Vas/volume)
	ql, qa := 7.0, 50.0
	if b.Kind == enclosure.Sealed {
		ql = 20
	}
	if b.LeakQ > 0 {
		ql, qa = b.LeakQ, b.AbsorptionQ
	}
	rear, front = n.fresh(), "outside"
	if b.Kind == enclosure.Sealed {
		n.chain(rear, "0", "R", 1/(cone*compliance*qa), "C", compliance)
		n.put("R", "%s outside %.15g", rear, ql/(cone*compliance))
		return front, rear
	}
	ported, in := rear, compliance
	if b.Kind == enclosure.BandPass {
		n.chain(rear, "0", "R", 1/(cone*compliance*qa), "C", compliance)
		n.put("R", "%s 0 1e15", rear) // a simulator wants a path for direct current
		front = n.fresh()
		ported, in = front, (b.FrontVolume-air)/stiffness
	}
	s := b.Port.Area() / float64(b.Port.Count)
	radius := math.Sqrt(s / math.Pi)
	length := b.Port.Length + radius*(0.6133*float64(2-b.Port.FlangedEnds)+0.84883*float64(b.Port.FlangedEnds))
	mass := a.Density * length / b.Port.Area()
	w := 1 / math.Sqrt(mass*in)
	perimeter := 2 * math.Pi * radius
	if b.Port.Diameter == 0 {
		perimeter = 2 * (b.Port.Width + b.Port.Height)
	}
	drag := math.Sqrt(w*a.Density*1.81e-5/2) * perimeter * length / (s * s) / float64(b.Port.Count)
	n.chain(ported, "0", "R", 1/(w*in*qa), "C", in)
	n.put("R", "%s outside %.15g", ported, ql/(w*in))
	n.chain(ported, "outside", "R", drag, "L", mass)
	return front, rear
}

// row is one frequency of the simulator's output.
type row struct {
	hz                   float64
	current, cone, total complex128 // of the source, of a cone, of all boxes; peak for peak
}

func runSpice(t *testing.T, netlist string) []row {
	t.Helper()
	dir := t.TempDir()
	if err := os.WriteFile(filepath.Join(dir, "box.cir"), []byte(netlist), 0o600); err != nil {
		t.Fatal(err)
	}
	cmd := exec.Command("ngspice", "-b", "box.cir")
	cmd.Dir = dir
	out, err := cmd.CombinedOutput()
	if err != nil {
		t.Fatalf("ngspice: %v\n%s\n%s", err, out, netlist)
	}
	f, err := os.Open(filepath.Join(dir, "out.txt"))
	if err != nil {
		t.Fatalf("%v\n%s\n%s", err, out, netlist)
	}
	defer f.Close()
	var rows []row
	for lines := bufio.NewScanner(f); lines.Scan(); {
		var hz float64
		var v [6]float64
		if _, err := fmt.Sscan(lines.Text(), &hz, &v[0], &v[1], &v[2], &v[3], &v[4], &v[5]); err != nil {
			t.Fatalf("%q: %v", lines.Text(), err)
		}
		rows = append(rows, row{hz, complex(v[0], v[1]), complex(v[2], v[3]), complex(v[4], v[5])})
	}
	if len(rows) < 70 {
		t.Fatalf("%d frequencies\n%s", len(rows), out)
	}
	return rows
}

// compare holds the prediction against the simulator: forward from the voltage
// and, the other way round, from the travel at a drive so weak that the
// equipment is linear.
func (c *spiceCase) compare(t *testing.T, rows []row) {
	hz := make([]float64, len(rows))
	for i, r := range rows {
		hz[i] = r.hz
	}
	room := car(hz)
	if c.open {
		room = openField(hz)
	}
	// A transfer of 1 Pa for 1 m3/s makes the level tell the volume velocity.
	whole := cabin.Response{Hz: hz, Back: room.Back, Transfer: make([]complex128, len(hz))}
	for i := range hz {
		whole.Transfer[i] = 1
	}
	p := prepare(t, Setup{Driver: c.driver(), Box: c.box, Boxes: c.boxes, Displacement: spiceDisplacement, Air: air.At(20)}, &whole)
	drive := Drive{Outputs: 1, Series: c.series, Parallel: c.parallel, Feed: strongFeed()}
	if !p.Fits(drive) {
		t.Fatal("the case does not connect all coils")
	}
	const weak = 1e-4
	drive.Source.OpenVoltage, drive.Source.Current, drive.Source.Efficiency = weak, 1e3, 1
	worst := 0.0
	for i, r := range rows {
		w := 2 * math.Pi * r.hz
		load := complex(-spiceVolts, 0) / r.current // the source's current flows into it
		travel := math.Hypot(real(r.cone), imag(r.cone)) * math.Sqrt2 / w
		flow := math.Hypot(real(r.total), imag(r.total))
		for _, o := range []struct {
			way   string
			o     Operation
			scale float64
		}{
			{"small signal", p.SmallSignal(i, drive, spiceVolts), 1},
			{"from the travel", p.At(i, drive, Reading()), spiceVolts / (weak * (strongFeed().Volts / 14.4))},
		} {
			for _, q := range []struct {
				what      string
				got, want float64
			}{
				{"impedance", o.o.Load, math.Hypot(real(load), imag(load))},
				{"phase + 10 rad", o.o.Phase + 10, math.Atan2(imag(load), real(load)) + 10},
				{"travel", o.o.Travel * o.scale, travel},
				{"volume velocity", air.Pressure(o.o.Level) * o.scale, flow},
			} {
				off := math.Abs(q.got/q.want - 1)
				worst = max(worst, off)
				if off > spiceTolerance {
					t.Errorf("%.2f Hz, %s, %s: %.6g, ngspice %.6g", r.hz, o.way, q.what, q.got, q.want)
				}
			}
		}
	}
	t.Logf("largest difference %.1e over %d frequencies", worst, len(rows))
}

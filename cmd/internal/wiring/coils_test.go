package wiring

import (
	"bytes"
	"fmt"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"gonum.org/v1/gonum/mat"

	"loudfor/cmd/internal/table"
	"loudfor/model/amplifier"
	"loudfor/model/hookup"
)

const (
	mostDrivers, mostCoils = 8, 2
	coilOhm                = 3.7 // no round number: a slip by a factor shows
	loadTolerance          = 1e-9
)

// everyPlan visits every hookup of up to eight drivers of up to two coils on
// every number of outputs that can share them.
func everyPlan(visit func(name string, p hookup.Plan, d Drawing)) (plans int) {
	for drivers := 1; drivers <= mostDrivers; drivers++ {
		for coils := 1; coils <= mostCoils; coils++ {
			for outputs := 1; outputs <= drivers*coils; outputs++ {
				for _, p := range hookup.Enumerate(drivers, coils, coilOhm, amplifier.Bridged, outputs, 0) {
					plans++
					visit(fmt.Sprintf("%d drivers of %d coils, %d outputs, %.4g ohm", drivers, coils, outputs, p.Load), p, Coils(p, names(p)))
				}
			}
		}
	}
	return plans
}

func names(p hookup.Plan) Amplifier {
	a := Amplifier{Title: "AB-1, bridged"}
	for i := range p.Outputs {
		a.Outputs = append(a.Outputs, fmt.Sprintf("bridged output %d (channels %d and %d)", i+1, 2*i+1, 2*i+2))
	}
	return a
}

// walked is the circuit that somebody with the drawing in hand finds: he puts a
// finger on each terminal and follows the lines. It knows nothing of nets: only
// of lines, dots and corners.
type walked struct {
	node  map[[2]int]int // point of the drawing: node
	nodes int
}

func walk(t *testing.T, d *Drawing) walked {
	t.Helper()
	segments := d.Segments()
	dot := map[[2]int]bool{}
	for _, c := range d.Contacts() {
		dot[[2]int{c.Column, c.Row}] = true
	}
	// Two lines are one where an end of one lies on an end of the other, or
	// anywhere on it under a dot.
	parent := make([]int, len(segments))
	for i := range parent {
		parent[i] = i
	}
	var find func(i int) int
	find = func(i int) int {
		if parent[i] != i {
			parent[i] = find(parent[i])
		}
		return parent[i]
	}
	ends := func(s Segment) [2][2]int { return [2][2]int{{s.FromColumn, s.FromRow}, {s.ToColumn, s.ToRow}} }
	on := func(s Segment, p [2]int) bool {
		return p[0] >= min(s.FromColumn, s.ToColumn) && p[0] <= max(s.FromColumn, s.ToColumn) &&
			p[1] >= min(s.FromRow, s.ToRow) && p[1] <= max(s.FromRow, s.ToRow)
	}
	for i, a := range segments {
		for j, b := range segments {
			if i == j {
				continue
			}
			if alike := (a.FromRow == a.ToRow) == (b.FromRow == b.ToRow); alike && i < j && !apart(a, b) {
				t.Fatalf("two wires lie on each other: %+v and %+v", a, b)
			}
			for _, p := range ends(a) {
				if !on(b, p) {
					continue
				}
				corner := p == ends(b)[0] || p == ends(b)[1]
				if corner || dot[p] {
					parent[find(i)] = find(j)
				} else {
					t.Fatalf("a wire ends on another without a dot: %+v on %+v", a, b)
				}
			}
		}
	}
	w := walked{node: map[[2]int]int{}}
	number := map[int]int{}
	for i, s := range segments {
		root := find(i)
		if _, known := number[root]; !known {
			number[root] = w.nodes
			w.nodes++
		}
		for _, p := range ends(s) {
			w.node[p] = number[root]
		}
	}
	return w
}

// apart says whether two lines of one direction share no point.
func apart(a, b Segment) bool {
	if a.FromRow == a.ToRow {
		return a.FromRow != b.FromRow || max(a.FromColumn, a.ToColumn) < min(b.FromColumn, b.ToColumn) ||
			max(b.FromColumn, b.ToColumn) < min(a.FromColumn, a.ToColumn)
	}
	return a.FromColumn != b.FromColumn || max(a.FromRow, a.ToRow) < min(b.FromRow, b.ToRow) || max(b.FromRow, b.ToRow) < min(a.FromRow, a.ToRow)
}

// resistor is a coil between two nodes.
type resistor struct{ plus, minus int }

// read finds outputs and coils of a drawing by its terminals.
func (w walked) read(t *testing.T, d *Drawing) (outputs, coils []resistor) {
	t.Helper()
	for i := 0; i < len(d.Terminals); i += 2 {
		a, b := d.Terminals[i], d.Terminals[i+1]
		if !a.Positive || b.Positive || a.Side != b.Side || a.Driver != b.Driver || a.Coil != b.Coil {
			t.Fatalf("terminals do not come in pairs of plus and minus: %+v %+v", a, b)
		}
		at := func(x Terminal) int {
			column := 0
			if x.Side == Right {
				column = d.Tracks + 1
			}
			node, drawn := w.node[[2]int{column, x.Row}]
			if !drawn {
				t.Fatalf("no wire ends at %+v", x)
			}
			return node
		}
		r := resistor{at(a), at(b)}
		if a.Side == Left {
			outputs = append(outputs, r)
		} else {
			coils = append(coils, r)
		}
	}
	return outputs, coils
}

// solve sends 1 A through an output and gives the voltage across it and across
// every coil, by the node-voltage method. Nodes that hang on nothing of this
// output get a conductance far below that of a coil.
func solve(t *testing.T, nodes int, output resistor, coils []resistor, ohm float64) (load float64, across []float64) {
	t.Helper()
	const leak = 1e-15
	g := mat.NewDense(nodes, nodes, nil)
	for i := range nodes {
		g.Set(i, i, leak)
	}
	for _, c := range coils {
		for _, s := range [][3]float64{{float64(c.plus), float64(c.plus), 1}, {float64(c.minus), float64(c.minus), 1}, {float64(c.plus), float64(c.minus), -1}, {float64(c.minus), float64(c.plus), -1}} {
			i, j := int(s[0]), int(s[1])
			g.Set(i, j, g.At(i, j)+s[2]/ohm)
		}
	}
	// The output's minus is ground: a conductance of many coils to it.
	g.Set(output.minus, output.minus, g.At(output.minus, output.minus)+1)
	in := mat.NewVecDense(nodes, nil)
	in.SetVec(output.plus, 1)
	in.SetVec(output.minus, in.AtVec(output.minus)-1)
	var v mat.VecDense
	if err := v.SolveVec(g, in); err != nil && v.Len() == 0 {
		t.Fatal(err)
	}
	for _, c := range coils {
		across = append(across, v.AtVec(c.plus)-v.AtVec(c.minus))
	}
	return v.AtVec(output.plus) - v.AtVec(output.minus), across
}

// Every drawing, followed line by line, is the circuit that the plan states:
// every terminal connected, the stated load at every output, every coil driven
// alike and the right way round.
func TestDrawingsAreTheStatedCircuits(t *testing.T) {
	plans := everyPlan(func(name string, p hookup.Plan, d Drawing) {
		w := walk(t, &d)
		outputs, coils := w.read(t, &d)
		if len(outputs) != p.Outputs || len(coils) != p.Drivers*p.Coils {
			t.Fatalf("%s: %d outputs and %d coils are drawn", name, len(outputs), len(coils))
		}
		played := make([]int, len(coils))
		for _, o := range outputs {
			load, across := solve(t, w.nodes, o, coils, coilOhm)
			if math.Abs(load-p.Load) > loadTolerance*p.Load*1e3 {
				t.Errorf("%s: the drawing makes %.9g ohm", name, load)
			}
			// Of 1 A each of Parallel strings takes its part.
			want := coilOhm / float64(p.Parallel)
			for i, v := range across {
				switch {
				case math.Abs(v-want) < 1e-6*want:
					played[i]++
				case math.Abs(v) > 1e-6*want:
					t.Errorf("%s: coil %d has %.6g V, want %.6g V or, on another output, none", name, i, v, want)
				}
			}
		}
		for i, n := range played {
			if n != 1 {
				t.Errorf("%s: coil %d is driven by %d outputs", name, i, n)
			}
		}
	})
	t.Logf("%d plans drawn", plans)
	if plans < 100 { // a loop that skips would show
		t.Errorf("only %d plans were drawn", plans)
	}
}

// The loads of the points to measure are those of the drawing's parts.
func TestPoints(t *testing.T) {
	everyPlan(func(name string, p hookup.Plan, d Drawing) {
		points := Points(p)
		if first, last := points[0], points[len(points)-1]; first.Load != coilOhm || math.Abs(last.Load-p.Load) > loadTolerance*p.Load {
			t.Errorf("%s: from %.6g to %.6g ohm", name, first.Load, last.Load)
		}
		for _, n := range p.Networks() {
			loads := map[string]bool{}
			subloads(n, loads)
			for _, point := range points {
				if !loads[fmt.Sprintf("%.6g", point.Load)] {
					t.Errorf("%s: no part of the drawing has the %.6g ohm of %q", name, point.Load, point.Where)
				}
			}
		}
	})
}

func subloads(n hookup.Network, loads map[string]bool) {
	loads[fmt.Sprintf("%.6g", n.Load(coilOhm))] = true
	for _, part := range n.Parts {
		subloads(part, loads)
	}
}

// post is a terminal in the text: beside its sign.
var post = regexp.MustCompile(`[+-] o|o [+-]`)

// The text drawing fits a terminal and shows every terminal.
func TestTextFitsThePage(t *testing.T) {
	everyPlan(func(name string, p hookup.Plan, d Drawing) {
		text := d.Text()
		for line := range strings.SplitSeq(text, "\n") {
			if cells := table.Cells(line); cells > table.Most {
				t.Fatalf("%s: %d cells: %s", name, cells, line)
			}
		}
		posts := 0
		for line := range strings.SplitSeq(text, "\n") {
			posts += len(post.FindAllString(line, -1))
		}
		if want := 2 * (p.Drivers*p.Coils + p.Outputs); posts != want {
			t.Errorf("%s: %d posts of %d:\n%s", name, posts, want, text)
		}
		if wants := fmt.Sprintf("sees %.3g ohm", p.Load); strings.Count(text, wants) != p.Outputs {
			t.Errorf("%s: the load is not at each output:\n%s", name, text)
		}
	})
}

// A sample of the drawings as resistors in a general-purpose simulator.
func TestDrawingsInNgspice(t *testing.T) {
	if _, err := exec.LookPath("ngspice"); err != nil {
		if os.Getenv("LOUDFOR_REQUIRE_TOOLS") == "1" {
			t.Fatal("ngspice is required and not installed")
		}
		t.Skip("ngspice is not installed: the drawings are not held against it (Debian: apt install ngspice)")
	}
	voltage := regexp.MustCompile(`(?m)^seen\s*=\s*(\S+)`)
	count, asked := 0, 0
	everyPlan(func(name string, p hookup.Plan, d Drawing) {
		if count++; count%12 != 0 { // a sample over all sizes
			return
		}
		asked++
		w := walk(t, &d)
		outputs, coils := w.read(t, &d)
		var list bytes.Buffer
		fmt.Fprintf(&list, "* %s\n", name)
		at := func(node int) string {
			if node == outputs[0].minus {
				return "0"
			}
			return fmt.Sprintf("n%d", node)
		}
		fmt.Fprintf(&list, "Iin 0 %s DC 1\n", at(outputs[0].plus))
		for i, c := range coils {
			fmt.Fprintf(&list, "R%d %s %s %g\n", i, at(c.plus), at(c.minus), coilOhm)
		}
		for node := range w.nodes { // what hangs on other outputs only
			fmt.Fprintf(&list, "Rleak%d %s 0 1e12\n", node, at(node))
		}
		fmt.Fprintf(&list, ".control\nset numdgt=12\nop\nlet seen = v(%s)\nprint seen\n.endc\n.end\n", at(outputs[0].plus))
		file := filepath.Join(t.TempDir(), "drawing.cir")
		if err := os.WriteFile(file, list.Bytes(), 0o600); err != nil {
			t.Fatal(err)
		}
		out, err := exec.Command("ngspice", "-b", file).CombinedOutput()
		found := voltage.FindSubmatch(out)
		if found == nil {
			t.Fatalf("%s: %v\n%s", name, err, out)
		}
		load, err := strconv.ParseFloat(string(found[1]), 64)
		if err != nil || math.Abs(load-p.Load) > 1e-6*p.Load {
			t.Errorf("%s: ngspice finds %g ohm (%v)", name, load, err)
		}
	})
	if asked < 5 {
		t.Errorf("ngspice was asked about %d drawings", asked)
	}
}

func TestNothingToDraw(t *testing.T) {
	d := Coils(hookup.Plan{}, Amplifier{})
	if d.Text() != "" || d.SVG() != "" || Points(hookup.Plan{}) != nil {
		t.Error("a plan without coils is drawn")
	}
}

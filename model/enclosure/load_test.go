package enclosure

import (
	"math"
	"math/cmplx"
	"testing"

	"pgregory.net/rapid"

	"loudfor/model/air"
)

// flowError is the relative error of the port's flow (see flowTolerance).
const flowError = 1e-8

func drawCircuit(t *rapid.T) Circuit {
	b := Box{
		Kind:        rapid.SampledFrom([]Kind{Sealed, Vented, BandPass}).Draw(t, "kind"),
		Drivers:     rapid.IntRange(1, 3).Draw(t, "drivers"),
		LeakQ:       rapid.Float64Range(1, 100).Draw(t, "QL"),
		AbsorptionQ: rapid.Float64Range(1, 200).Draw(t, "QA"),
	}
	b.Volume = float64(b.Drivers) * rapid.Float64Range(0.01, 0.2).Draw(t, "volume")
	b.FrontVolume = float64(b.Drivers) * rapid.Float64Range(0.01, 0.2).Draw(t, "front volume")
	if rapid.Bool().Draw(t, "stated tuning") {
		b.Tuning = rapid.Float64Range(15, 100).Draw(t, "tuning")
	} else {
		b.Port = Port{Count: rapid.IntRange(1, 3).Draw(t, "ports"),
			Diameter:    rapid.Float64Range(0.03, 0.12).Draw(t, "diameter"),
			Length:      rapid.Float64Range(0, 0.3).Draw(t, "length"),
			FlangedEnds: rapid.IntRange(0, 2).Draw(t, "flanged")}
	}
	c, err := b.Circuit(ten(), 0.002, air.At(20))
	if err != nil {
		t.Skip(err)
	}
	return c
}

// drawCabin draws a passive impedance.
func drawCabin(t *rapid.T) complex128 {
	return complex(rapid.Float64Range(0, 2e5).Draw(t, "cabin real"), rapid.Float64Range(-2e5, 2e5).Draw(t, "cabin imaginary"))
}

// What the fraction says is what the circuit demands: continuity in the
// chamber, the port's law, and the cabin's pressure from the net flow.
func TestLoadSolvesTheCircuit(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		c, zc := drawCircuit(t), drawCabin(t)
		w := 2 * math.Pi * rapid.Float64Range(10, 200).Draw(t, "hz")
		var l Load
		c.Load(w, zc, &l)
		u := rapid.Float64Range(1e-4, 1).Draw(t, "cone") // m3/s peak, of the cone, outward
		flow := l.Flow(u)
		reaction, output := l.At(flow)

		// The cone moves air from the chamber behind it to the front.
		net := output * complex(u, 0)
		outside := zc * net
		var behind, front, inside, chamber complex128
		switch c.Kind {
		case BandPass:
			behind = -complex(u, 0) * (complex(c.Absorption, 0) + 1/complex(0, w*c.Compliance))
			front = reaction*complex(u, 0) + behind
			inside = front
			chamber = (complex(u, 0) - net) * (complex(c.FrontAbsorption, 0) + 1/complex(0, w*c.FrontCompliance))
		default:
			front = outside
			inside = front - reaction*complex(u, 0)
			chamber = -net * (complex(c.Absorption, 0) + 1/complex(0, w*c.Compliance))
		}
		near(t, "pressure of the ported chamber", inside, chamber)
		leaks := (inside - outside) * complex(c.Leak, 0)
		through := net - leaks // of the port, and of the cone unless it is inside
		if c.Kind != BandPass {
			through -= complex(u, 0)
		}
		if c.Kind == Sealed {
			if cmplx.Abs(through) > 1e-9*u {
				t.Fatalf("a sealed box leaks %v more than its leak", through)
			}
			return
		}
		near(t, "port's pressure", (inside - outside), through*complex(c.PortDrag+c.PortTurbulence*flow, w*c.PortMass))
		near(t, "port's flow", complex(flow, 0), complex(cmplx.Abs(through), 0))
	})
}

// cancellation: what subtracting nearly equal flows may leave.
const cancellation = 1e-6

func near(t *rapid.T, what string, got, want complex128) {
	t.Helper()
	if cmplx.Abs(got-want) > cancellation*(cmplx.Abs(want)+cmplx.Abs(got)) {
		t.Fatalf("%s: %v against %v", what, got, want)
	}
}

// The two laws that a search relies on: flow and output rise with the cone's
// velocity. And no box gives energy away for nothing.
func TestLoadRisesWithTheCone(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		c, zc := drawCircuit(t), drawCabin(t)
		w := 2 * math.Pi * rapid.Float64Range(5, 300).Draw(t, "hz")
		var l Load
		c.Load(w, zc, &l)
		last, lastFlow := 0.0, 0.0
		for u := 1e-5; u < 10; u *= 1.3 {
			flow := l.Flow(u)
			reaction, output := l.At(flow)
			if real(reaction) < 0 {
				t.Fatalf("the box pushes the cone: %v", reaction)
			}
			sound := u * cmplx.Abs(output)
			if sound <= last || (l.Ported && flow <= lastFlow) {
				t.Fatalf("at %g m3/s: output %g after %g, flow %g after %g", u, sound, last, flow, lastFlow)
			}
			last, lastFlow = sound, flow
			if l.Ported {
				left := flow * flow * (l.alpha + flow*l.beta + flow*flow*l.gamma)
				if want := l.drive * u * u; math.Abs(left/want-1) > 3*flowError {
					t.Fatalf("flow %g: %g against %g", flow, left, want)
				}
			}
		}
	})
}

// What a net output needs is what makes it; and the port's limit is where it says.
func TestNeedsIsTheWayBack(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		c, zc := drawCircuit(t), drawCabin(t)
		var l Load
		c.Load(2*math.Pi*rapid.Float64Range(5, 300).Draw(t, "hz"), zc, &l)
		u := math.Pow(10, rapid.Float64Range(-5, 1).Draw(t, "cone, decades"))
		flow := l.Flow(u)
		_, output := l.At(flow)
		net := u * cmplx.Abs(output)
		port, cone, ok := l.Needs(net, 2*flow)
		if !ok || math.Abs(cone/u-1) > cancellation || math.Abs(port-flow) > cancellation*flow {
			t.Fatalf("%g m3/s of net output came from %g of the cone and %g of the port, and needs %g and %g (%v)", net, u, flow, cone, port, ok)
		}
		if !l.Ported {
			return
		}
		if _, _, ok := l.Needs(net, flow*(1+cancellation)); !ok {
			t.Fatal("the port passes it, and is said not to")
		}
		if _, _, ok := l.Needs(net, flow*(1-cancellation)); ok {
			t.Fatal("the port passes less, and is said to suffice")
		}
	})
}

// The port's own resistance compresses: at high level it passes a smaller part
// of the flow that it passes at low level, near its tuning.
func TestPortCompression(t *testing.T) {
	b := Box{Kind: Vented, Drivers: 1, Volume: 0.05, Port: Port{Count: 1, Diameter: 0.075, Length: 0.12}}
	c, err := b.Circuit(ten(), 0.002, air.At(20))
	if err != nil {
		t.Fatal(err)
	}
	var l Load
	c.Load(2*math.Pi*c.Tuning, 0, &l)
	low, high := l.Flow(1e-6)/1e-6, l.Flow(0.05)/0.05
	if speed := l.Flow(0.05) / c.PortArea; speed < 15 {
		t.Fatalf("the test does not reach the speeds that it is about: %g m/s", speed)
	}
	if high > 0.8*low {
		t.Errorf("flow gain %.2f at low level, %.2f at high", low, high)
	}
}

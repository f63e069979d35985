package joinery

import (
	"math"
	"testing"

	"loudfor/model/air"
	"loudfor/model/bass"
	"loudfor/model/cabin"
	"loudfor/model/driver"
)

// vented are boxes as the trade builds them, slots straight and folded, and a
// tube.
var vented = []Design{
	{Outside: Size{0.60, 0.40, 0.36}, Thickness: 0.018, Drivers: 1, Mount: Mount{Size: 0.3048, Cutout: 0.28, Depth: 0.15, Displacement: 0.002}, Slot: 0.05, PortLength: 0.30},
	{Outside: Size{0.62, 0.42, 0.38}, Thickness: 0.018, Drivers: 1, Mount: Mount{Size: 0.3048, Cutout: 0.28, Depth: 0.15, Displacement: 0.002}, Slot: 0.045, PortLength: 0.55},
	{Outside: Size{0.90, 0.42, 0.38}, Thickness: 0.018, Drivers: 2, Mount: Mount{Size: 0.3048, Cutout: 0.28, Depth: 0.15, Displacement: 0.002}, Slot: 0.08, PortLength: 0.60},
	{Outside: Size{0.60, 0.40, 0.36}, Thickness: 0.018, Drivers: 1, Mount: Mount{Size: 0.254, Cutout: 0.23, Depth: 0.13, Displacement: 0.0015}, Tube: 0.10, PortLength: 0.25},
}

// The tuning of the box as built is that of Helmholtz, f = c/(2 pi) sqrt(S/(V
// L')), with V the air that is left in the chamber and L' longer than the port
// by its end corrections: 8/(3 pi) radii for an end in a wall, 0.6133 for a free
// one, of the circle of equal area (L. Beranek and T. Mellow, Acoustics; H.
// Levine and J. Schwinger 1948); for the inner end of a slot beside a wall the
// free one of its double. It is worked out here from the panels' figures alone,
// and is also where the impedance of the driver in the box has its dip.
func TestTuning(t *testing.T) {
	a := air.At(20)
	for _, d := range vented {
		b, err := d.Build()
		if err != nil {
			t.Fatal(err)
		}
		area, inner := d.Slot*b.Inside[2], 0.6133*math.Sqrt(2)
		if d.Tube > 0 {
			area, inner = math.Pi/4*d.Tube*d.Tube, 0.6133
		}
		long := d.PortLength + math.Sqrt(area/math.Pi)*(8/(3*math.Pi)+inner)
		volume := b.Net(b.Displacement())
		want := a.SoundSpeed / (2 * math.Pi) * math.Sqrt(area/(volume*long))

		card := driver.Card{Size: d.Mount.Size, Coils: 1, CoilLoad: 4, Fs: 32, Qts: 0.45, Vas: 0.07, Xmax: 0.01, Power: 300}
		whole, _, err := driver.Complete(card, a)
		if err != nil {
			t.Fatal(err)
		}
		c, err := b.Enclosure.Circuit(whole, b.Displacement(), a)
		if err != nil {
			t.Fatal(err)
		}
		if math.Abs(c.Tuning/want-1) > slotCorrection {
			t.Errorf("%v: the circuit is tuned to %.2f Hz, Helmholtz gives %.2f", d.Outside, c.Tuning, want)
		}
		if got := c.Volume * float64(d.Drivers); math.Abs(got/volume-1) > 1e-9 {
			t.Errorf("%v: the circuit has %.4f L of air, the box %.4f", d.Outside, 1000*got, 1000*volume)
		}
		if dip := impedanceDip(t, b, whole, a); math.Abs(dip/want-1) > dipOffset {
			t.Errorf("%v: the impedance dips at %.2f Hz, tuned to %.2f", d.Outside, dip, want)
		}
	}
}

const (
	// slotCorrection is what taking the inner end of a slot for one in a wall
	// can change: 2.2 % of one end correction, which is below a third of the
	// effective length.
	slotCorrection = 0.005

	// dipOffset is how far the drag in the port and the step of the search
	// move the dip.
	dipOffset = 0.01
)

// impedanceDip is the frequency of the least impedance between the two peaks of
// a vented box, on open ground.
func impedanceDip(t *testing.T, b *Box, d driver.Driver, a air.Air) float64 {
	t.Helper()
	// Leaks and inductance move the dip; without them it shows the port.
	d.Le, d.L2, d.R2 = 0, 0, 0
	box := b.Enclosure
	box.LeakQ, box.AbsorptionQ = 1e4, 1e4
	var hz []float64
	for f := 12.0; f < 90; f *= 1.001 {
		hz = append(hz, f)
	}
	field := cabin.OpenField(hz, 1, a)
	p, err := bass.Prepare(bass.Setup{Driver: d, Box: box, Boxes: 1, Displacement: b.Displacement(), Air: a}, &field)
	if err != nil {
		t.Fatal(err)
	}
	drive := bass.Drive{Outputs: 1, Series: 1, Parallel: b.Design.Drivers}
	ohms := make([]float64, len(hz))
	for i := range hz {
		ohms[i] = p.SmallSignal(i, drive, 0.01).Load
	}
	best, at := math.Inf(1), 0.0
	for i := 1; i < len(hz)-1; i++ {
		if ohms[i] <= ohms[i-1] && ohms[i] <= ohms[i+1] && ohms[i] < best {
			best, at = ohms[i], hz[i]
		}
	}
	return at
}

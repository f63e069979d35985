package amplifier_test

import (
	"math"
	"math/rand/v2"
	"testing"

	"loudfor/model/air"
	"loudfor/model/amplifier"
	"loudfor/model/bass"
	"loudfor/model/cabin"
	"loudfor/model/driver"
	"loudfor/model/enclosure"
	"loudfor/model/supply"
)

// A card that is nowhere better, with no more in any line, perhaps fewer lines, a
// smaller fuse and no better class, gives a source that is nowhere stronger, and
// never reads higher.
func TestACardThatIsNowhereBetterNeverReadsHigher(t *testing.T) {
	boxes := boxes(t)
	r := rand.New(rand.NewPCG(16, 1))
	differ := 0
	for range 10000 {
		better, worse := pairOfCards(r)
		b, least, _, ok := better.Source(amplifier.Mono)
		w, _, _, too := worse.Source(amplifier.Mono)
		if !ok || !too {
			t.Fatalf("%+v or %+v has no source: %v %v", better, worse, better.Check(), worse.Check())
		}
		if w.OpenVoltage > b.OpenVoltage || w.Resistance < b.Resistance || w.Current > b.Current || w.Efficiency > b.Efficiency {
			t.Fatalf("%+v\ngives %+v, nowhere better than\n%+v\nwith %+v", worse, w, better, b)
		}
		d := bass.Drive{Outputs: 1, Series: 2, Parallel: 1, Feed: supply.Feed{Volts: 14, Reserve: 20, BatteryVolts: 12.6, BatteryResistance: 0.02}}
		if least <= 1 {
			d.Series, d.Parallel = 1, 2
		}
		box := boxes[r.IntN(len(boxes))]
		d.Source = w
		low := box.Loudest(d, bass.Reading()).Level
		d.Source = b
		high := box.Loudest(d, bass.Reading()).Level
		if low > high+1e-9 {
			t.Fatalf("%+v\nreads %.4f dB, nowhere better than\n%+v\nwith %.4f dB", worse, low, better, high)
		}
		if low < high {
			differ++
		}
	}
	if differ < 7000 {
		t.Errorf("only %d of 10,000 pairs read differently", differ)
	}
}

// pairOfCards is a card, and one that is nowhere better. Each keeps a line of its
// best basis: without one it would no longer say that a claim was not found true on
// a bench (of a measured and a claimed line the measured one is believed).
func pairOfCards(r *rand.Rand) (better, worse amplifier.Spec) {
	better = amplifier.Spec{Channels: 1, Class: amplifier.ClassD}
	if r.IntN(2) == 0 {
		better.Class = amplifier.ClassAB
	}
	if r.IntN(2) == 0 {
		better.Fuse = 5 + 100*r.Float64()
	}
	worse = better
	worse.Class = amplifier.ClassAB
	worse.Fuse *= 1 - 0.5*r.Float64()*float64(r.IntN(2))
	best, volts := amplifier.Basis(r.IntN(3)), []float64{0, 12, 14.4}[r.IntN(3)]
	loads := []float64{1, 2, 4, 8}[r.IntN(4):]
	held := r.IntN(len(loads)) // the line that both cards have, of the best basis
	for i, load := range loads {
		line := amplifier.Rating{Mode: amplifier.Mono, Load: load, Basis: best, Volts: volts,
			Watts: 600 * r.Float64() / load * math.Exp(r.NormFloat64()/2)}
		if i != held && r.IntN(4) == 0 {
			line.Basis = amplifier.Basis(r.IntN(int(best) + 1))
		}
		better.Ratings = append(better.Ratings, line)
		if i != held && r.IntN(4) == 0 {
			continue // the poorer card says nothing here
		}
		if r.IntN(3) > 0 {
			line.Watts *= r.Float64()
		}
		worse.Ratings = append(worse.Ratings, line)
	}
	return better, worse
}

// boxes are a twelve of two coils, sealed and vented, in the open.
func boxes(t *testing.T) (all []*bass.Prepared) {
	a := air.At(20)
	d, _, err := driver.Complete(driver.Card{Size: 0.3048, Coils: 2, CoilLoad: 2, Fs: 31, Qts: 0.6, Vas: 0.058, Xmax: 0.012, Power: 400}, a)
	if err != nil {
		t.Fatal(err)
	}
	room := cabin.OpenField(bass.Grid(), 1, a)
	for _, box := range []enclosure.Box{
		{Kind: enclosure.Sealed, Drivers: 1, Volume: 0.027},
		{Kind: enclosure.Vented, Drivers: 1, Volume: 0.06, Tuning: 34},
	} {
		p, err := bass.Prepare(bass.Setup{Driver: d, Box: box, Boxes: 1, Air: a}, &room)
		if err != nil {
			t.Fatal(err)
		}
		all = append(all, p)
	}
	return all
}

package advice

import (
	"context"
	"math"
	"slices"
	"testing"

	"loudfor/catalog"
	"loudfor/model/air"
	"loudfor/model/bass"
	"loudfor/model/cabin"
	"loudfor/model/driver"
	"loudfor/model/enclosure"
	"loudfor/optimizer"
	"loudfor/optimizer/setting"
)

// What customers ask about the demo, each answer held against a computation by hand.
func TestAskedByHand(t *testing.T) {
	ctx := context.Background()
	for _, c := range []struct {
		name       string
		alternator float64 // A, its label
		standby    float64 // A, what the car itself takes
	}{
		{"250-reading", 70, 25},
		{"800-music", 90, 30},
		{"1500-one-shop", 130, 35},
	} {
		p := demoProblem(t, c.name)
		p.Top = 1
		answers, err := optimizer.FirstAnswers(ctx, p, optimizer.Noticed)
		if err != nil {
			t.Fatal(err)
		}
		b := &answers.Builds[0]
		a, err := AskedOf(ctx, p, b)
		if err != nil {
			t.Fatal(err)
		}
		if p.Vehicle.Alternator != c.alternator || p.Vehicle.Standby != c.standby {
			t.Fatalf("%s: the demo's alternator is of %g A, standby %g A", c.name, p.Vehicle.Alternator, p.Vehicle.Standby)
		}

		// Lights, by Ohm's law. The cable, there and back: copper of 1.724e-8 ohm m
		// (IEC 60028), 2.7e-8 where it is clad (supply.Resistance).
		kit := onlyKit(b)
		rho := 1.724e-8
		if kit.CopperClad {
			rho = 2.7e-8
		}
		cable := 2 * p.Vehicle.CableRun * rho / kit.Area
		o := &b.Operation
		volts := o.SupplyVolts + o.SupplyAmps*cable
		note := a.Lights.Note
		if math.Abs(note.Volts-volts) > 1e-6 || math.Abs(note.Amps-o.SupplyAmps) > 1e-6 || math.Abs(note.Dip-(14.4-volts)) > 1e-6 {
			t.Errorf("%s: %+v on a note, by hand %.4f V", c.name, note, volts)
		}
		// Both branches at that voltage: the alternator at idle gives 0.6 of its
		// rating (supply.IdleShare) less what the car takes, and more as the voltage
		// falls; the battery of 12.6 V gives what 10 mohm let through.
		reserve := 0.6*c.alternator - c.standby
		amps := reserve*(1+(14.4-volts)/10) + max(0, (12.6-volts)/0.010)
		if math.Abs(amps-o.SupplyAmps) > 1e-3*amps {
			t.Errorf("%s: %.3f A flow, by Ohm's law %.3f A", c.name, o.SupplyAmps, amps)
		}
		if note.Dims() != (14.4-volts >= 0.5) || !note.Dims() {
			t.Errorf("%s: a dip of %.3f V dims: %t", c.name, note.Dip, note.Dims())
		}
		// With the alternator that is named, half a volt is lost at most: that one
		// alone gives the current, a little less of it at the higher voltage.
		if r := 0.6*a.Lights.Alternator - c.standby; math.Abs(1.05*r*(13.9-1.05*r*cable)-o.SupplyVolts*o.SupplyAmps) > 1e-3*o.SupplyVolts*o.SupplyAmps {
			t.Errorf("%s: an alternator of %.1f A gives %.1f A at 13.9 V", c.name, a.Lights.Alternator, 1.05*r)
		}

		// Room, by geometry: whichever side the block is on, row and block are the space.
		space, box := p.Vehicle.Space, b.Bass.Enclosure.Enclosure.Outside
		if p.Brief.Space != (catalog.Size3{}) {
			space = p.Brief.Space
		}
		room := a.Room
		sum := [3]float64{room.Taken.Width + room.Free.Width, room.Taken.Depth + room.Free.Depth, room.Taken.Height + room.Free.Height}
		whole := [3]float64{space.Width, space.Depth, space.Height}
		along := map[string]int{"beside": 0, "in front of": 1, "above": 2}[room.Where]
		free := [3]float64{room.Free.Width, room.Free.Depth, room.Free.Height}
		for i := range whole {
			want := whole[i]
			got := sum[i]
			if i != along {
				got = free[i]
			}
			if math.Abs(got-want) > 1e-9 {
				t.Errorf("%s: %+v of %+v", c.name, room, space)
			}
		}
		if v := room.Taken.Width * room.Taken.Depth * room.Taken.Height; math.Abs(v-float64(b.Bass.Boxes)*box.Width*box.Depth*box.Height) > 1e-9 {
			t.Errorf("%s: the row is not as large as its boxes: %+v", c.name, room)
		}

		// Windows: as predicted there.
		if len(a.Windows) != 3 {
			t.Fatalf("%s: %d states of the car", c.name, len(a.Windows))
		}
		for i, openings := range []string{"shut", "windows open", "doors open"} {
			q := p
			q.Brief.Openings = openings
			there, err := optimizer.Predict(ctx, q, mentions(b), b.Plan.Mode.String(), b.Plan.Load)
			if err != nil {
				t.Fatal(err)
			}
			if w := a.Windows[i]; w.Openings != openings || math.Abs(w.Level-there.Reading.DB) > 1e-9 || math.Abs(w.Band-there.Reading.Band) > 1e-9 {
				t.Errorf("%s, %s: %.3f +/- %.3f dB, predicted %.3f +/- %.3f", c.name, openings, w.Level, w.Band, there.Reading.DB, there.Reading.Band)
			}
		}

		// How low it plays is not known to the hertz, as no box and no car is.
		if l := a.Low; !l.Ends && !(l.Band > 0.01*l.Hz && l.Band < 0.5*l.Hz) {
			t.Errorf("%s: down to %.1f +/- %.2f Hz", c.name, l.Hz, l.Band)
		}

		// Before: as the three answers have it.
		if a.Before == nil || answers.Before == nil || a.Before.DB != answers.Before.DB || a.Before.Band != answers.Before.Band {
			t.Errorf("%s: %+v today, among the answers %+v", c.name, a.Before, answers.Before)
		}
	}
}

func onlyKit(b *optimizer.Build) *catalog.WiringKit {
	i := slices.IndexFunc(b.Lines, func(l optimizer.Line) bool { return l.Part.Kind == catalog.KindKit })
	return b.Lines[i].Part.Kit
}

func mentions(b *optimizer.Build) (all []catalog.Mention) {
	for _, l := range b.Lines {
		all = append(all, catalog.Mention{SKU: l.Part.SKU, Count: l.Count})
	}
	return all
}

// Small, "Closed-box loudspeaker systems", J. Audio Eng. Soc. 20 (1972): a closed box
// of Qtc = 0.707 passes 1/sqrt(1 + (fc/f)^4) on open ground. It is LowFall below its
// level at LowMiddle where 1 + (fc/f)^4 is 10^0.6 times what it is there.
func TestLowOfClosedBox(t *testing.T) {
	a := air.At(20)
	room := cabin.OpenField(bass.Grid(), 1, a)
	for _, fc := range []float64{45, 60, 80} {
		d := driver.Driver{Size: 0.3, Coils: 1, CoilLoad: 8, Re: 6, Sd: 0.05, Xmax: 0.006, Power: 100, Fs: fc / 2, Qms: 1e6, Qes: 1 / math.Sqrt2 / 2, Vas: 0.09}
		w := 2 * math.Pi * d.Fs
		d.Cms = d.Vas / (a.Density * a.SoundSpeed * a.SoundSpeed * d.Sd * d.Sd)
		d.Mms = 1 / (w * w * d.Cms)
		d.Rms, d.Bl, d.Qts = w*d.Mms/d.Qms, math.Sqrt(w*d.Mms*d.Re/d.Qes), d.Qms*d.Qes/(d.Qms+d.Qes)
		// fc = fs sqrt(1 + Vas/Vb): twice fs with a third of Vas.
		box := enclosure.Box{Kind: enclosure.Sealed, Drivers: 1, Volume: 0.03, LeakQ: enclosure.Lossless, AbsorptionQ: enclosure.Lossless}
		p, err := bass.Prepare(bass.Setup{Driver: d, Box: box, Boxes: 1, Displacement: 1e-9, Air: a}, &room)
		if err != nil {
			t.Fatal(err)
		}
		want := fc / math.Pow(math.Pow(10, 0.6)*(1+math.Pow(fc/LowMiddle, 4))-1, 0.25)
		got, ends := lowest(p, bass.Drive{Outputs: 1, Series: 1, Parallel: 1})
		if ends || math.Abs(got/want-1) > 0.002 {
			t.Errorf("fc %g Hz: down to %.2f Hz (%t), by hand %.2f", fc, got, ends, want)
		}
	}
}

// The cheapest mend is one, and no cheaper part of its kind in its place is.
func TestMend(t *testing.T) {
	ctx := context.Background()
	p := demoProblem(t, "250-reading")
	p.Top = 1
	r, err := optimizer.Pick(ctx, p)
	if err != nil {
		t.Fatal(err)
	}
	b := &r.Builds[0]
	a, err := AskedOf(ctx, p, b)
	if err != nil {
		t.Fatal(err)
	}
	m := a.Lights.Mend
	if m == nil {
		t.Fatal("nothing mends it")
	}
	if m.Dip >= 0.5 || m.Build.Objective < b.Objective-1 {
		t.Errorf("%+v dB with a dip of %g V", m.Build.Objective-b.Objective, m.Dip)
	}
	// Every other amplifier and cable by itself, put in by hand.
	p.Brief.Cap = catalog.Money{}
	for _, part := range p.Catalogue.Parts {
		if part.Kind != catalog.KindAmplifier && part.Kind != catalog.KindKit || !part.Priced {
			continue
		}
		var parts []catalog.Mention
		for _, l := range b.Lines {
			if l.Part.Kind != part.Kind {
				parts = append(parts, catalog.Mention{SKU: l.Part.SKU, Count: l.Count})
			}
		}
		parts = append(parts, catalog.Mention{SKU: part.SKU, Count: 1})
		p.Bare = true
		other, err := optimizer.Predict(ctx, p, parts, "", 0)
		if err != nil || len(other.Warnings) > len(r.Builds[0].Warnings) {
			continue // it does not go with the rest
		}
		o := b.Operation
		dip := sag(other.Feed, o.Watts, other.Drive().Source.Efficiency).Dip
		if dip < 0.5 && other.Objective >= b.Objective-1 && other.Cost.Minor < m.Build.Cost.Minor {
			t.Errorf("%s costs less: %s against %s", part.SKU, other.Cost, m.Build.Cost)
		}
	}
}

// On open ground there is neither a car to fill nor lamps to dim.
func TestAskedInTheOpen(t *testing.T) {
	p := demoProblem(t, "250-reading")
	p.Top = 1
	r, err := optimizer.Pick(context.Background(), p)
	if err != nil {
		t.Fatal(err)
	}
	p.Brief.Vehicle, p.Vehicle = catalog.OpenFieldName, catalog.Vehicle{Name: catalog.OpenFieldName, OpenField: true}
	a, err := AskedOf(context.Background(), p, &r.Builds[0])
	if err != nil || a.Lights != nil || a.Room != nil || a.Low != nil || len(a.Windows) > 0 || a.Before != nil {
		t.Errorf("%+v, %v", a, err)
	}
}

// In balanced music the bass stands its lift above the front: what it could do beyond
// that it is turned down by, and where it is the weaker side by nothing.
func TestTurnedDown(t *testing.T) {
	for _, c := range []struct{ bass, music, want float64 }{{125, 114, 5}, {120, 114, 0}, {118, 112, 0}, {116, 114, 0}, {120.5, 114, 0.5}} {
		b := &optimizer.Build{}
		b.Music.Bass, b.Music.DB = c.bass, c.music
		if got := turnedDown(&setting.Setting{Brief: catalog.Brief{BassLift: 6}}, b); math.Abs(got-c.want) > 1e-9 {
			t.Errorf("%+v: by %g dB", c, got)
		}
	}
}

package bass

import "testing"

// each runs a benchmark for every kind of box.
func each(b *testing.B, run func(b *testing.B, s Setup)) {
	for _, name := range []string{"sealed", "vented", "band-pass"} {
		b.Run(name, func(b *testing.B) {
			b.ReportAllocs()
			run(b, setup(boxes()[name]))
		})
	}
}

// evaluate times one evaluation of a drive on a prepared setup. The drives
// change from one to the next: strong and weak, stiff and soft, in an order
// that nothing can foresee.
func evaluate(b *testing.B, ask func(p *Prepared, d Drive)) {
	each(b, func(b *testing.B, s Setup) {
		p, ds := prepare(b, s, car(Grid())), manyDrives()
		n := 0
		for b.Loop() {
			ask(p, ds[n])
			n = (n + 1) % len(ds)
		}
	})
}

// manyDrives is what a search asks of one block: 200 drives between 50 and 800
// watts into 4 ohm, shuffled by a stride.
func manyDrives() []Drive {
	const count, stride = 200, 83
	ds := make([]Drive, count)
	for i := range ds {
		x := float64(i*stride%count) / (count - 1)
		d := modestDrive()
		d.Source.OpenVoltage = 16 + 44*x
		d.Source.Resistance = 0.2 + float64(i%7)*0.1
		d.Source.Current = 12 + float64(i%5)*4
		d.Source.Efficiency = 0.6 + float64(i%2)*0.2
		ds[i] = d
	}
	return ds
}

func BenchmarkPrepare(b *testing.B) {
	each(b, func(b *testing.B, s Setup) {
		room := car(Grid())
		var p Prepared
		for b.Loop() {
			if err := PrepareInto(&p, s, room); err != nil {
				b.Fatal(err)
			}
		}
	})
}

// A block with no more than one drive: nothing has been learnt yet.
func BenchmarkPrepareAndLoudest(b *testing.B) {
	each(b, func(b *testing.B, s Setup) {
		room, d := car(Grid()), modestDrive()
		var p Prepared
		for b.Loop() {
			if err := PrepareInto(&p, s, room); err != nil {
				b.Fatal(err)
			}
			p.Loudest(d, Reading())
		}
	})
}

// A block with its ceiling and 200 drives, all of it.
func BenchmarkBlock(b *testing.B) {
	each(b, func(b *testing.B, s Setup) {
		room, ds := car(Grid()), manyDrives()
		var p Prepared
		for b.Loop() {
			if err := PrepareInto(&p, s, room); err != nil {
				b.Fatal(err)
			}
			p.Ceiling(Reading())
			for _, d := range ds {
				p.Loudest(d, Reading())
			}
		}
	})
}

func BenchmarkLoudest(b *testing.B) {
	evaluate(b, func(p *Prepared, d Drive) { p.Loudest(d, Reading()) })
}

// A better build is known already, by a decibel over a modest drive.
func BenchmarkLoudestAbove(b *testing.B) {
	each(b, func(b *testing.B, s Setup) {
		p, d := prepare(b, s, car(Grid())), modestDrive()
		level := p.Loudest(d, Reading()).Level + 1
		for b.Loop() {
			p.LoudestAbove(level, d, Reading())
		}
	})
}

func BenchmarkMusicLevel(b *testing.B) {
	evaluate(b, func(p *Prepared, d Drive) { MusicLevel(p, d) })
}

func BenchmarkCeiling(b *testing.B) {
	evaluate(b, func(p *Prepared, _ Drive) { p.Ceiling(Reading()) })
}

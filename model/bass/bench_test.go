package bass

import "testing"

func BenchmarkPrepare(b *testing.B) {
	for name, box := range boxes() {
		b.Run(name, func(b *testing.B) {
			room := car(Grid())
			var p Prepared
			b.ReportAllocs()
			for b.Loop() {
				if err := PrepareInto(&p, setup(box), room); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}

func BenchmarkLoudest(b *testing.B) {
	for name, box := range boxes() {
		b.Run(name, func(b *testing.B) {
			p := prepare(b, setup(box), car(Grid()))
			d, l := modestDrive(), Reading()
			b.ReportAllocs()
			for b.Loop() {
				p.Loudest(d, l)
			}
		})
	}
}

// A better build is known already, by a decibel.
func BenchmarkLoudestAbove(b *testing.B) {
	for name, box := range boxes() {
		b.Run(name, func(b *testing.B) {
			p := prepare(b, setup(box), car(Grid()))
			d, l := modestDrive(), Reading()
			level := p.Loudest(d, l).Level + 1
			b.ReportAllocs()
			for b.Loop() {
				p.LoudestAbove(level, d, l)
			}
		})
	}
}

func BenchmarkCeiling(b *testing.B) {
	p := prepare(b, setup(sealedBox()), car(Grid()))
	l := Reading()
	for b.Loop() {
		p.Ceiling(l)
	}
}

func BenchmarkMusicLevel(b *testing.B) {
	p := prepare(b, setup(sealedBox()), car(Grid()))
	d := modestDrive()
	for b.Loop() {
		MusicLevel(p, d)
	}
}

package workshop

import (
	"testing"

	"loudfor/catalog"
	"loudfor/optimizer/testing/generate"
)

// What the boxes of one brief take, the rounds of ranking included.
func BenchmarkStock(b *testing.B) {
	for _, name := range []string{"250-reading", "1500-one-shop", "800-music"} {
		b.Run(name, func(b *testing.B) {
			p := shopProblem(b, name)
			for b.Loop() {
				stocked(b, p)
			}
		})
	}
	b.Run("3000", func(b *testing.B) {
		p := shopProblem(b, "250-reading")
		p.Brief.Cap.Minor, p.Brief.Owned = 80_000, nil
		material := p.Catalogue
		p.Catalogue = generate.Catalogue(3000, 1, generate.Loose).With(material.ByKind(catalog.KindSheet)...).With(material.ByKind(catalog.KindWorkshop)...)
		for b.Loop() {
			stocked(b, p)
		}
	})
}

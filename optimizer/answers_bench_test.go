package optimizer

import (
	"context"
	"testing"

	"loudfor/optimizer/uncertainty"
)

// Three answers, and the ranking alone, everything but the cabin anew each time.
func BenchmarkAnswers(b *testing.B) {
	shops := []shop{{10000, 800}}
	eachShop(b, shops, func(b *testing.B, p Problem, car *task) {
		plain := car.Setting.Problem
		plain.Brief, plain.Vehicle = p.Brief, p.Vehicle
		p.Shared = new(Shared)
		for _, c := range []struct {
			name string
			ask  func(*Series) error
		}{
			{"one", func(s *Series) error { _, err := s.Pick(context.Background(), p); return err }},
			{"three", func(s *Series) error { _, err := s.Answers(context.Background(), p, Noticed); return err }},
		} {
			b.Run(c.name, func(b *testing.B) {
				for b.Loop() {
					if err := c.ask(&Series{p: plain, car: car, known: make(map[string]*uncertainty.Sample)}); err != nil {
						b.Fatal(err)
					}
				}
			})
		}
	})
}

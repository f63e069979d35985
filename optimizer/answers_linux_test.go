package optimizer

import (
	"bytes"
	"context"
	"fmt"
	"testing"
	"testing/fstest"

	"loudfor/catalog"
	"loudfor/optimizer/testing/generate"
	"loudfor/optimizer/uncertainty"
)

// Three answers, and the ranking alone, as the command asks for them: loosely and tightly
// priced, and where each kind of part has one price. First the search by itself,
// everything but the cabin anew each time; then the whole of it, from the catalogue's
// file to the bands.
func BenchmarkAnswers(b *testing.B) {
	shops := []shop{{10000, 250}, {10000, 800}, {10000, 3000}}
	eachShop(b, shops, benchAnswers)
	c := garage(b)
	for _, s := range shops {
		for goal, name := range []string{"reading", "music"} {
			p, car := large(c, s.parts, s.cap, generate.Tight, catalog.Goal(goal))
			p.Catalogue, p.Brief.Owned = generate.Styled(s.parts, 1, generate.Tight, generate.Shelf)
			b.Run(fmt.Sprintf("parts=%d/cap=%d/one_price/%s", s.parts, s.cap, name), func(b *testing.B) { benchAnswers(b, p, car) })
		}
	}
}

func benchAnswers(b *testing.B, p Problem, car *task) {
	plain := car.Setting.Problem
	plain.Brief, plain.Vehicle = p.Brief, p.Vehicle
	p.Top, p.Distinct = 5, DistinctBass
	var text bytes.Buffer
	if err := catalog.WriteParts(&text, p.Catalogue); err != nil {
		b.Fatal(err)
	}
	file := fstest.MapFS{"parts.yaml": {Data: text.Bytes()}}
	measure := func(b *testing.B, ask func() error) {
		before := worked(b)
		for b.Loop() {
			p.Shared = new(Shared)
			if err := ask(); err != nil {
				b.Fatal(err)
			}
		}
		b.ReportMetric((worked(b)-before).Seconds()/float64(b.N), "cpu-s/op")
	}
	for _, c := range []struct {
		name string
		ask  func(*Series, Problem) error
	}{
		{"one", func(s *Series, p Problem) error { _, err := s.Pick(context.Background(), p); return err }},
		{"three", func(s *Series, p Problem) error { _, err := s.Answers(context.Background(), p, Noticed); return err }},
	} {
		b.Run(c.name, func(b *testing.B) {
			measure(b, func() error {
				return c.ask(&Series{p: plain, car: car, known: make(map[string]*uncertainty.Sample)}, p)
			})
		})
		b.Run("whole/"+c.name, func(b *testing.B) {
			measure(b, func() error {
				q := p
				parts, report := catalog.LoadFS(file, []string{"parts.yaml"})
				if q.Catalogue, q.Bare = parts, false; report.Err() != nil {
					return report.Err()
				}
				s, err := NewSeries(q)
				if err != nil {
					return err
				}
				return c.ask(s, q)
			})
		})
	}
}

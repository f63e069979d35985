package reprice

import (
	"context"
	"sync"
	"sync/atomic"
	"testing"

	"loudfor/catalog"
	"loudfor/catalog/demo"
	"loudfor/optimizer"
	"loudfor/optimizer/build"
)

// question is the first brief of the demo.
func question(t *testing.T) optimizer.Problem {
	t.Helper()
	c, report := catalog.LoadFS(demo.FS, []string{demo.Parts})
	if err := report.Err(); err != nil {
		t.Fatal(err)
	}
	cars, report := catalog.LoadVehiclesFS(demo.FS, demo.Vehicles)
	if err := report.Err(); err != nil {
		t.Fatal(err)
	}
	brief, report := catalog.LoadBriefFS(demo.FS, demo.Brief)
	if err := report.Err(); err != nil {
		t.Fatal(err)
	}
	car, report := catalog.CheckBrief(brief, c, cars)
	if err := report.Err(); err != nil {
		t.Fatal(err)
	}
	return optimizer.Problem{Catalogue: c, Brief: brief, Vehicle: car, Workers: 1, Seed: 1}
}

// What is asked alike is searched for once, also at the same time; anything else
// that can change the answer makes another question.
func TestAnswers(t *testing.T) {
	ctx := context.Background()
	plain := question(t)
	want, err := optimizer.First(ctx, plain)
	if err != nil || want == nil {
		t.Fatal(want, err)
	}
	a := new(Answers)
	var searches atomic.Int64
	asked := func(p optimizer.Problem) optimizer.Problem {
		var once sync.Once
		p.Progress = func(optimizer.Progress) { once.Do(func() { searches.Add(1) }) }
		return p
	}
	var wait sync.WaitGroup
	builds := make([]*optimizer.Build, 4)
	for i := range builds {
		wait.Go(func() {
			p := plain
			p.Brief.Name = []string{"Rosa", "Ivo"}[i%2]
			if i == 3 {
				p.Known = build.Mentions(want.Lines)
			}
			b, err := a.first(ctx, asked(p))
			if err != nil {
				t.Error(err)
			}
			builds[i] = b
		})
	}
	wait.Wait()
	for i, b := range builds {
		if b == nil || !b.Same(want) || b.Cost != want.Cost || b.Objective != want.Objective {
			t.Fatalf("answer %d is another one", i)
		}
		if i > 0 && b == builds[0] {
			t.Error("two quotes share a build, and fill in its bands")
		}
	}
	if n := searches.Load(); n != 1 {
		t.Errorf("%d searches for one question", n)
	}
	for name, change := range map[string]func(*optimizer.Problem){
		"cap":       func(p *optimizer.Problem) { p.Brief.Cap.Minor += 10_000 },
		"openings":  func(p *optimizer.Problem) { p.Brief.Openings = "shut" },
		"owned":     func(p *optimizer.Problem) { p.Brief.Owned = nil },
		"shops":     func(p *optimizer.Problem) { p.Brief.MostStores = 1 },
		"boot":      func(p *optimizer.Problem) { p.Vehicle.Boot = [2]float64{0.5, 0.3} },
		"catalogue": func(p *optimizer.Problem) { p.Catalogue = p.Catalogue.With() },
	} {
		p, before := plain, searches.Load()
		change(&p)
		want, err := optimizer.First(ctx, p)
		if err != nil {
			t.Fatal(err)
		}
		got, err := a.first(ctx, asked(p))
		if err != nil {
			t.Fatal(err)
		}
		if (got == nil) != (want == nil) || got != nil && (!got.Same(want) || got.Cost != want.Cost) {
			t.Errorf("%s: another answer than a search of its own", name)
		}
		if searches.Load() == before {
			t.Errorf("%s: it was not searched for", name)
		}
	}
	// What was interrupted is asked again.
	stopped, stop := context.WithCancel(ctx)
	stop()
	fresh := new(Answers)
	if _, err := fresh.first(stopped, plain); err == nil {
		t.Skip("the search was faster than its end")
	}
	if b, err := fresh.first(ctx, plain); err != nil || b == nil || !b.Same(want) {
		t.Error(b, err)
	}
}

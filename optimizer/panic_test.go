package optimizer_test

import (
	"context"
	"testing"

	"loudfor/catalog/demo"
	"loudfor/model/parallel"
	"loudfor/optimizer"
)

// A panic in a goroutine of the search ends that answer alone: whoever asked can go on,
// and what the answers share is still sound.
func TestPanicEndsOneAnswer(t *testing.T) {
	p := demoBrief(t, demo.Brief)
	p.Shared = new(optimizer.Shared)
	want, err := optimizer.Pick(context.Background(), demoBrief(t, demo.Brief))
	if err != nil {
		t.Fatal(err)
	}
	for _, workers := range []int{1, 2, 4} {
		p.Workers = workers
		broken := p
		broken.Progress = func(optimizer.Progress) { panic("planted") }
		for name, ask := range map[string]func(){
			"pick":    func() { _, _ = optimizer.Pick(context.Background(), broken) },
			"answers": func() { _, _ = optimizer.FirstAnswers(context.Background(), broken, 1) },
			"ladder":  func() { _, _ = optimizer.Ladder(context.Background(), broken) },
		} {
			if fault := parallel.Caught(ask); fault == nil || fault.Value != "planted" {
				t.Errorf("%s with %d workers: %v", name, workers, fault)
			}
		}
		got, err := optimizer.Pick(context.Background(), p)
		if err != nil || len(got.Builds) != len(want.Builds) || !got.Builds[0].Same(&want.Builds[0]) || got.Builds[0].Objective != want.Builds[0].Objective {
			t.Errorf("%d workers: another answer after the panic: %v", workers, err)
		}
	}
}

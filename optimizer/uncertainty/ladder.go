package uncertainty

import (
	"context"

	"loudfor/optimizer/build"
	"loudfor/optimizer/setting"
)

// Ladder fills in how far levels and rises may be off; when the context ends, as
// Ranking does.
func Ladder(ctx context.Context, t *setting.Setting, r *build.LadderResult) error {
	var all []*build.Build
	for i := range r.Steps {
		all = append(all, &r.Steps[i].Build)
	}
	if r.Complete != nil {
		all = append(all, r.Complete)
	}
	samples, rough, err := samples(ctx, t, all)
	if err != nil {
		return err
	}
	r.Rough = rough
	for i := 1; i < len(r.Steps); i++ {
		s := &r.Steps[i]
		Over(s, s.Rise, samples[i], samples[i-1])
	}
	for i := range r.Steps {
		r.Steps[i].Draws = samples[i]
	}
	return nil
}

// Over fills in what is known of a rise from the draws of both steps.
func Over(s *build.Step, rise float64, own, below []float64) {
	d := Apart(rise, own, below)
	s.Rise, s.Band, s.Chance, s.Tie = d.DB, d.Band, d.Chance, d.Tie()
}

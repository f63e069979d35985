package optimizer

import (
	"context"

	"loudfor/optimizer/setting"
)

// ladderBands fills in how far levels and rises may be off.
func ladderBands(ctx context.Context, t *setting.Setting, r *LadderResult) error {
	var all []*Build
	for i := range r.Steps {
		all = append(all, &r.Steps[i].Build)
	}
	if r.Complete != nil {
		all = append(all, r.Complete)
	}
	samples, err := samples(ctx, t, all)
	if err != nil || samples == nil {
		return err
	}
	for i := 1; i < len(r.Steps); i++ {
		s := &r.Steps[i]
		s.Band = differing(samples[i], samples[i-1])
		s.Tie = s.Rise <= s.Band
	}
	return nil
}

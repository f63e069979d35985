package facts

import (
	"testing"

	"loudfor/catalog"
	"loudfor/model/bass"
	"loudfor/optimizer"
)

func of(minor int64, sku string) optimizer.Build {
	return optimizer.Build{Cost: usd(minor), Lines: []optimizer.Line{{Part: &catalog.Part{SKU: sku}, Count: 1}}}
}

// One build that is the best in several ways is said once, with all of them.
func TestChoices(t *testing.T) {
	a := &optimizer.Answers{Result: optimizer.Result{Builds: []optimizer.Build{of(20000, "A")}},
		Value: &optimizer.Answer{Build: of(20000, "A")}, Other: &optimizer.Answer{Build: of(18000, "B")}}
	got := Choices(catalog.Brief{}, a)
	if len(got) != 2 || got[0].Name() != "loudest and best value" || got[1].Name() != "best for music" {
		t.Errorf("%v", got)
	}
	a.Value = &optimizer.Answer{Build: of(15000, "B")}
	got = Choices(catalog.Brief{Goal: catalog.GoalMusic}, a)
	if len(got) != 2 || got[0].Name() != "best for music" || got[1].Name() != "best value and loudest" {
		t.Errorf("%v", got)
	}
	if got := Choices(catalog.Brief{}, &optimizer.Answers{}); got != nil {
		t.Errorf("%v of nothing", got)
	}
}

// A choice is held back as what it is the best by.
func TestHeldBack(t *testing.T) {
	b := of(1, "A")
	b.Operation.Limit, b.Music.FrontLimits = bass.LimitTravel, true
	for name, want := range map[string]string{"loudest": "the cone runs out of travel", "best for music": "the front is the weaker side", "best value": "the cone runs out of travel"} {
		if got := (Choice{[]string{name}, optimizer.Answer{Build: b}}).HeldBack(catalog.Brief{}); got != want {
			t.Errorf("%s: %q, want %q", name, got, want)
		}
	}
	if got, want := (Choice{[]string{"loudest", "best for music"}, optimizer.Answer{Build: b}}).HeldBack(catalog.Brief{}), "the cone runs out of travel; with music the front is the weaker side"; got != want {
		t.Errorf("%q, want %q", got, want)
	}
}

// What one gives up for the other, in money and sound.
func TestTrade(t *testing.T) {
	first := of(25000, "A")
	for _, c := range []struct {
		choice Choice
		want   string
	}{
		{Choice{[]string{"best value"}, optimizer.Answer{Build: of(21100, "B"), Reading: optimizer.Difference{DB: -0.8, Band: 2}}},
			"39.00 USD less buys the same, as far as anyone can tell (0.8 dB apart)."},
		{Choice{[]string{"best value"}, optimizer.Answer{Build: of(21100, "B"), Reading: optimizer.Difference{DB: -0.8, Band: 0.2}, Music: optimizer.Difference{}}},
			"as loud at the seat with music, 0.8 dB quieter on the meter, for 39.00 USD less."},
		{Choice{[]string{"best for music"}, optimizer.Answer{Build: of(25000, "B"), Reading: optimizer.Difference{DB: -7, Band: 3}, Music: optimizer.Difference{DB: 14, Band: 4}}},
			"14.0 dB louder at the seat with music, 7.0 dB quieter on the meter, for the same money."},
		{Choice{[]string{"best for music"}, optimizer.Answer{Build: of(26000, "B"), Reading: optimizer.Difference{DB: -2, Band: 3, Chance: 0.8}, Music: optimizer.Difference{DB: 0.4, Band: 1}}},
			"as loud at the seat with music, probably 2.0 dB quieter on the meter (8 in 10), for 10.00 USD more."},
	} {
		if got := Trade(Terminal{}, catalog.Brief{}, first, c.choice); got != c.want {
			t.Errorf("%q, want %q", got, c.want)
		}
	}
}

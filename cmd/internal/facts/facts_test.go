package facts

import (
	"slices"
	"strings"
	"testing"

	"loudfor/catalog"
	"loudfor/optimizer"
	"loudfor/optimizer/advice"
)

// foreign speaks unlike a terminal, so that a figure that no speaker said shows.
type foreign struct{ Terminal }

func (foreign) Figure(v float64, decimals int) string {
	return strings.ReplaceAll(Fixed(v, decimals), ".", ",")
}
func (foreign) Money(m catalog.Money) string   { return "$" + m.Decimal() }
func (foreign) Join(value, band string) string { return value + " ± " + band }

func usd(cents int64) catalog.Money { return catalog.Money{Minor: cents, Currency: "USD"} }

// One sentence, said in two ways.
func TestStanding(t *testing.T) {
	a := optimizer.Build{Cost: usd(10000)}
	for _, c := range []struct {
		b                 optimizer.Build
		terminal, another string
	}{
		{optimizer.Build{Cost: usd(9000), Tie: true, Difference: optimizer.Difference{DB: -0.4, Band: 0.9}},
			"B and A are a tie: 0.4 +/- 0.9 dB apart; B costs 10.00 USD less", "B and A are a tie: 0,4 ± 0,9 dB apart; B costs $10.00 less"},
		{optimizer.Build{Cost: usd(10000), Difference: optimizer.Difference{DB: 2.25, Band: 0.5}},
			"B is 2.2 +/- 0.5 dB louder than A, and costs the same", "B is 2,2 ± 0,5 dB louder than A, and costs the same"},
		{optimizer.Build{Cost: usd(12000), Difference: optimizer.Difference{DB: -2, Band: 0.5}},
			"B is 2.0 +/- 0.5 dB quieter than A, and costs 20.00 USD more", "B is 2,0 ± 0,5 dB quieter than A, and costs $20.00 more"},
	} {
		if got := Standing(Terminal{}, "B", a, c.b); got != c.terminal {
			t.Errorf("%q, want %q", got, c.terminal)
		}
		if got := Standing(foreign{}, "B", a, c.b); got != c.another {
			t.Errorf("%q, want %q", got, c.another)
		}
	}
}

// What the level does to ears and what to mind in the wiring is said once.
func TestWarningsAreNotRepeated(t *testing.T) {
	b := optimizer.Build{Reading: optimizer.Reading{DB: 150, Hz: 1000}}
	b.Plan.Caution = "mind the load"
	heard := Hearing(b)
	if heard.Caution == "" || !strings.HasPrefix(HearingWords(b), "150.0 dB at 1000 Hz is 150.0 dBA; permitted: ") { // no weight at 1 kHz (IEC 61672-1)
		t.Fatalf("%+v, %s", heard, HearingWords(b))
	}
	b.Warnings = []string{heard.Caution, "a thin cable", b.Plan.Caution}
	if got := Warnings(b); len(got) != 1 || got[0] != "a thin cable" || len(b.Warnings) != 3 {
		t.Errorf("%q of %q", got, b.Warnings)
	}
}

// A tax of nothing is no line, unless others stand beside it.
func TestBill(t *testing.T) {
	b := optimizer.Build{Deals: []optimizer.AppliedDeal{{Name: "pair", Times: 2, Saving: usd(500)}}, Taxes: []optimizer.TaxLine{{PPM: 0, Sum: usd(100)}}}
	if got := Bill(b); len(got) != 1 || got[0].What != "deal" || got[0].Sum != usd(-500) {
		t.Errorf("%+v", got)
	}
	b.Taxes = append(b.Taxes, optimizer.TaxLine{PPM: 75000, Sum: usd(1000), Tax: usd(75)})
	if got := Bill(b); len(got) != 3 || got[2].Name != "7.5 %" || got[2].On != usd(1000) || got[2].Sum != usd(75) {
		t.Errorf("%+v", got)
	}
}

func TestChosen(t *testing.T) {
	v := &advice.Verdict{Answer: advice.Possible}
	if head, lines := Verdict(Terminal{}, &optimizer.Build{}, v); head == "" || len(lines) != 0 {
		t.Errorf("%q %q of a search that was stopped", head, lines)
	}
	if got := Chosen(Terminal{}, v); got != "" {
		t.Error(got)
	}
	v.Range = &advice.Range{Least: usd(5000), Price: usd(6000)}
	if got := Chosen(foreign{}, v); got != "At $49.99 or less for one piece, before tax, all other prices kept; it costs $60.00 now." {
		t.Error(got)
	}
	v.Answer, v.Range = advice.InBest, &advice.Range{In: true, Free: true, Most: usd(7000), Price: usd(6000)}
	if got := Chosen(Terminal{}, v); got != "It is; and this build stays the best up to 70.00 USD for one piece, before tax. It costs 60.00 USD now." {
		t.Error(got)
	}
}

// Cheaper builds that no meter tells from the first come first, then those that
// tie and cost no less.
func TestTies(t *testing.T) {
	builds := []optimizer.Build{{Rank: 1, Cost: usd(10000)}}
	for i, b := range []optimizer.Build{
		{Cost: usd(9000), Tie: true, Difference: optimizer.Difference{DB: -0.4, Band: 0.9}},
		{Cost: usd(8000), Difference: optimizer.Difference{DB: -0.04, Band: 0.01}},
		{Cost: usd(7000), Difference: optimizer.Difference{DB: -3, Band: 1}},
		{Cost: usd(10000), Tie: true, Difference: optimizer.Difference{DB: -0.5, Band: 0.9}},
		{Cost: usd(11000), Difference: optimizer.Difference{DB: -0.05, Band: 0.01}},
	} {
		b.Rank = i + 2
		builds = append(builds, b)
	}
	want := []string{"3 is 0,04 dB below 1, less than a meter shows; it costs $20.00 less", "2 is within 0,4 dB ± 0,9 of 1: a tie; it costs $10.00 less", "5 ties with 1 and costs no less"}
	if got := Ties(foreign{}, builds); !slices.Equal(got, want) {
		t.Errorf("%q", got)
	}
	if got := Ties(foreign{}, nil); got != nil {
		t.Errorf("%q of none", got)
	}
}

// What would be noticed and may not be there is said with its sign and chance.
func TestProbably(t *testing.T) {
	a := optimizer.Build{Cost: usd(10000)}
	b := optimizer.Build{Cost: usd(9000), Difference: optimizer.Difference{DB: -1.5, Band: 2, Chance: 0.84}}
	if got, want := Standing(Terminal{}, "B", a, b), "B is probably quieter than A, not certain (8 in 10): 1.5 +/- 2.0 dB apart; B costs 10.00 USD less"; got != want {
		t.Errorf("%q, want %q", got, want)
	}
	b.Difference.DB = 1.5
	b.Difference.Chance = 0.4 // the middle of the draws lies elsewhere
	if got, want := Probably(b.Difference, "A"), "perhaps louder than A, not certain (4 in 10)"; got != want {
		t.Errorf("%q, want %q", got, want)
	}
	if got, want := Difference(Terminal{}, b), "+1.5 +/- 2.0 (4 in 10)"; got != want {
		t.Errorf("%q, want %q", got, want)
	}
}

// No time a day stands beside a level that harms at once.
func TestPermittedAtOnce(t *testing.T) {
	loud := optimizer.Build{Reading: optimizer.Reading{DB: 141, Hz: 40}}
	if got := Hearing(loud); got.Permitted != "no time without protection" || got.Caution == "" {
		t.Errorf("%+v", got)
	}
	soft := optimizer.Build{Reading: optimizer.Reading{DB: 95, Hz: 1000}}
	if got := Hearing(soft); got.Permitted != Permitted(95) || got.Permitted == "no time without protection" {
		t.Errorf("%+v", got)
	}
}

package answer

import (
	"fmt"
	"math/big"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"loudfor/catalog"
	"loudfor/cmd/internal/facts"
	"loudfor/cmd/internal/style"
	"loudfor/cmd/internal/table"
	"loudfor/model/amplifier"
	"loudfor/model/bass"
	"loudfor/model/hookup"
	"loudfor/optimizer"
)

func usd(minor int64) catalog.Money { return catalog.Money{Minor: minor, Currency: "USD"} }

// example is a build with a figure in every place that the answer shows.
func example(rank int, cost int64, level float64) optimizer.Build {
	amp := &catalog.Part{SKU: "AM-1", Kind: catalog.KindAmplifier, Name: "some amplifier", Store: "Some Shop", Price: usd(9900), Priced: true}
	sub := &catalog.Part{SKU: "SU-1", Kind: catalog.KindSubwoofer, Price: usd(5000), Priced: true}
	b := optimizer.Build{
		Rank: rank, Cost: usd(cost),
		Lines: []optimizer.Line{
			{Part: amp, Count: 1, Cost: usd(9900)},
			{Part: sub, Count: 3, Owned: 1, Cost: usd(10000)},
		},
		Taxes:     []optimizer.TaxLine{{PPM: 75000, Sum: usd(19900), Tax: usd(cost - 19900)}},
		Reading:   optimizer.Reading{DB: level, Band: 2.5, Hz: 45.25, Place: "dash", Openings: "doors open"},
		Music:     optimizer.Music{DB: 110, Bass: 121, FrontLimits: true},
		Plan:      hookup.Plan{Mode: amplifier.Bridged, Outputs: 2, Load: 4, Words: "wire the coils in series"},
		Operation: bass.Operation{Hz: 45.25, Level: level, Volts: 30, Amps: 6, Load: 5, Watts: 300, Apparent: 360, Travel: 0.0117, Limit: bass.LimitTravel},
		Warnings:  []string{"a warning"},
		Assumed:   []string{"A: x assumed (s)", "A: y assumed (s)", "B: z assumed"},
	}
	b.Bass.Amplifier, b.Bass.Amplifiers = amp, 2
	b.Bass.Driver.Xmax = 0.009
	b.Front = optimizer.Front{DB: 112, Power: optimizer.FromBass, Amplifier: amp, Given: 50, Usable: 20, HighPass: 80, HighPassBy: "the amplifier"}
	return b
}

func question() facts.Question {
	return facts.Question{Brief: catalog.Brief{Celsius: 20, FrontWatts: 10, Cap: usd(25000), TaxPPM: 75000, Place: "dash", Openings: "doors open"}, Vehicle: catalog.Vehicle{Name: "some car"}, Parts: 2}
}

func write(t interface{ Fatal(...any) }, f func(*Page)) string {
	var out strings.Builder
	page := New(&out, style.Style{})
	f(page)
	if err := page.Close(); err != nil {
		t.Fatal(err)
	}
	return out.String()
}

func says(t *testing.T, text string, wanted ...string) {
	t.Helper()
	flat := strings.Join(strings.Fields(text), " ")
	for _, want := range wanted {
		if !strings.Contains(flat, want) {
			t.Errorf("the answer does not say %q:\n%s", want, text)
		}
	}
}

// What the customer pays, wires and meters is there, each with its unit.
func TestPickSaysEverything(t *testing.T) {
	second, third, fourth := example(2, 20893, 130.96), example(3, 19893, 130.6), example(4, 23000, 130.5)
	second.Difference = optimizer.Difference{DB: -0.04, Band: 0.01}
	third.Tie, third.Difference = true, optimizer.Difference{DB: -0.4, Band: 0.9}
	fourth.Tie, fourth.Difference = true, optimizer.Difference{DB: -0.5, Band: 0.9}
	r := optimizer.Result{Outcome: optimizer.Optimal, Builds: []optimizer.Build{example(1, 21393, 131), second, third, fourth},
		Proof: optimizer.Proof{Combinations: big.NewInt(1234567), Evaluated: big.NewInt(567), Dropped: []optimizer.Drop{{Reason: optimizer.DropCap, Count: big.NewInt(1234000)}}}}
	text := write(t, func(p *Page) { p.Pick(question(), r) })
	says(t, text,
		"131.0 +/- 2.5 dB", "45 Hz", "213.93 USD", "some amplifier; 2 x SU-1",
		"tax 7.5 %", "14.93", "left of the cap 36.07", "sum, USD", "(1 owned)",
		"Wire the coils in series.", "bridged; 2 of them, each wired so",
		"30.0 V and 6.00 A at each output: 5.00 ohm, nominally 4 ohm.", "300 W real, 360 VA apparent",
		"cone travel (11.7 mm one way, rated 9.00 mm)",
		"3 is within 0.4 dB +/- 0.9 of 1: a tie; it costs 15.00 USD less",
		"2 is 0.04 dB below 1, less than a meter shows; it costs 5.00 USD less",
		"4 ties with 1 and costs no less",
		"50.0 W a side, of which 20.0 W are usable", "the front is the weaker side",
		"dBA; permitted:", "a warning", "A: x assumed; y assumed (s)", "B: z assumed",
		"1,234,567 combinations", "567 of them computed", "over the cap, even with the cheapest rest: 1,234,000", "Proven best",
		"Fuse the power cable within about 45 cm of the battery.", "Noise rules")
	if cheap, dear := strings.Index(text, "3 is within"), strings.Index(text, "2 is 0.04"); cheap > dear {
		t.Error("the cheapest of the ties is not said first")
	}
}

// Each outcome is told as what it is.
func TestOutcomes(t *testing.T) {
	pick := func(r optimizer.Result) string {
		r.Proof.Combinations, r.Proof.Evaluated = big.NewInt(9), big.NewInt(1)
		return write(t, func(p *Page) { p.Pick(question(), r) })
	}
	early := pick(optimizer.Result{Outcome: optimizer.Feasible, Stop: optimizer.StopDeadline, Builds: []optimizer.Build{example(1, 100, 120)}, Proof: optimizer.Proof{GapDB: 0.7}})
	says(t, early, "stopped early (time limit)", "louder than 1 by more than 0.7 dB")
	says(t, pick(optimizer.Result{Outcome: optimizer.Unknown, Stop: optimizer.StopCancelled}), "before it found anything (cancelled)")
	none := pick(optimizer.Result{Outcome: optimizer.Infeasible, Conflicts: [][]optimizer.Requirement{
		{{Kind: optimizer.RequireCap, Words: "no more than 250.00 USD", Remedy: "31.00 USD more in the cap"}},
		{{Kind: optimizer.RequireMust, Words: "SU-1 must be in it", Remedy: "do without SU-1"}, {Kind: optimizer.RequireSpace, Words: "within 1 x 1 x 1 cm", Remedy: "make more room"}},
	}})
	says(t, none, "No build satisfies the brief.", "This requirement alone blocks every build", "cap: no more than 250.00 USD", "31.00 USD more in the cap",
		"cannot hold together either", "One of these 2 has to change, and one of every other group:", "make more room")
	for _, text := range []string{early, none} {
		if strings.Contains(text, "Proven best") {
			t.Errorf("a proof is claimed that is none:\n%s", text)
		}
	}
}

func TestMusicIsSaidFirstWhereItIsTheGoal(t *testing.T) {
	q := question()
	q.Brief.Goal = catalog.GoalMusic
	b := example(1, 100, 120)
	b.Music.Band = 3
	text := write(t, func(p *Page) { p.PredictInFull(q, b) })
	says(t, text, "Build: music 110.0 +/- 3.0 dB; reading 120.0 +/- 2.5 dB at 45 Hz at the dash, doors open")
}

// What can hurt is said whatever a screen holds; the rest is counted.
func TestHazardsAreNeverLeftOut(t *testing.T) {
	b := example(1, 20000, 120)
	b.Warnings = nil
	var problems []catalog.Problem
	for i := range 80 {
		b.Warnings = append(b.Warnings, fmt.Sprintf("remark %d", i))
		problems = append(problems, catalog.Problem{Severity: catalog.Severity(1 + i%2), Summary: fmt.Sprintf("P-%d: odd", i), Detail: fmt.Sprintf("mend %d", i)})
	}
	b.Hazards = []string{"KIT: its fuse protects no cable"}
	b.Warnings = append(b.Warnings, b.Hazards...)
	text := write(t, func(p *Page) { p.Predict(question(), b, "more") })
	says(t, text, "- KIT: its fuse protects no cable.", "more warnings: --full says them.")
	if strings.Count(text, "protects no cable") != 1 {
		t.Error("said twice")
	}
	problems = append(problems, catalog.Problem{Severity: catalog.Info, Summary: "KIT: the kit has no fuse", Detail: "add one", Hazard: true})
	text = write(t, func(p *Page) { p.Checked(problems, "more") })
	says(t, text, "- KIT: the kit has no fuse. Add one.", "more kinds of finding.")
	if lines := strings.Count(text, "\n"); lines > 40 {
		t.Errorf("%d lines", lines)
	}
}

// However long names and remarks are, the answer stays on the page.
func TestAnswersStayOnThePage(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		b := example(1, rapid.Int64Range(0, 1e12).Draw(t, "cost"), rapid.Float64Range(60, 170).Draw(t, "level"))
		words := rapid.StringMatching(`[a-z ]{0,300}`)
		b.Lines[0].Part.Name = words.Draw(t, "name")
		b.Plan.Words = words.Draw(t, "plan")
		b.Warnings = []string{words.Draw(t, "warning")}
		b.Assumed = []string{words.Draw(t, "assumption")}
		for i := range 63 {
			b.Curve = append(b.Curve, bass.Operation{Hz: 20 + float64(i), Level: rapid.Float64Range(0, 150).Draw(t, "point"), Limit: bass.Limit(i % 7)})
		}
		q := question()
		q.Brief.Name = words.Draw(t, "brief")[:]
		if len(q.Brief.Name) > 30 {
			q.Brief.Name = q.Brief.Name[:30]
		}
		r := optimizer.Result{Outcome: optimizer.Optimal, Builds: []optimizer.Build{b}}
		text := write(t, func(p *Page) { p.Pick(q, r) }) + write(t, func(p *Page) { p.PredictInFull(q, b) }) +
			write(t, func(p *Page) { p.SmallSignal(q, b, 2.83, b.Curve) })
		for line := range strings.SplitSeq(text, "\n") {
			if table.Cells(line) > table.Most {
				t.Fatalf("%d cells: %s", table.Cells(line), line)
			}
		}
	})
}

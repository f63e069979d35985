package hookup

import (
	"fmt"
	"math"
	"slices"
	"testing"

	"pgregory.net/rapid"

	"loudfor/model/amplifier"
)

const tight = 1e-9

func loads(plans []Plan) []float64 {
	var all []float64
	for _, p := range plans {
		all = append(all, p.Load)
	}
	return all
}

func TestCommonCases(t *testing.T) {
	// Wiring charts of the trade (common practice, no source), and by hand.
	for _, c := range []struct {
		drivers, coils int
		coil           float64
		outputs        int
		want           []float64
	}{
		{1, 1, 4, 1, []float64{4}},
		{1, 2, 4, 1, []float64{2, 8}},
		{1, 2, 2, 1, []float64{1, 4}},
		{2, 1, 4, 1, []float64{2, 8}},
		{2, 2, 4, 1, []float64{1, 4, 16}},
		{2, 2, 2, 1, []float64{0.5, 2, 8}},
		{3, 1, 4, 1, []float64{4. / 3, 12}},
		{3, 2, 4, 1, []float64{4. / 6, 8. / 3, 6, 24}},
		{4, 1, 4, 1, []float64{1, 4, 16}},
		{4, 2, 2, 1, []float64{0.25, 1, 4, 16}},
		{1, 4, 4, 1, []float64{1, 4, 16}},
		{1, 2, 4, 2, []float64{4}},           // each coil its own channel
		{2, 2, 4, 2, []float64{2, 8}},        // each driver its own output
		{2, 2, 4, 4, []float64{4}},           // each coil its own output
		{3, 2, 4, 2, []float64{4. / 3, 12}},  // like coils of three drivers on two channels
		{2, 1, 4, 3, nil},                    // two coils do not divide by three
		{3, 1, 4, 2, nil},                    // nor three by two
		{3, 2, 4, 4, nil},                    // six by four
		{6, 1, 8, 3, []float64{4, 16}},       // pairs on three outputs
		{2, 2, math.Inf(1), 1, nil},          // no such coil
		{0, 2, 4, 1, nil}, {1, 0, 4, 1, nil}, // no coils
		{1, 1, 4, 0, nil}, {1, 1, -4, 1, nil}, {1 << 40, 1 << 40, 4, 1, nil},
	} {
		got := loads(Enumerate(c.drivers, c.coils, c.coil, amplifier.Bridged, c.outputs, 0))
		if !slices.EqualFunc(got, c.want, func(a, b float64) bool { return math.Abs(a-b) < tight }) {
			t.Errorf("%d drivers x %d coils x %g ohm on %d outputs: %v, want %v", c.drivers, c.coils, c.coil, c.outputs, got, c.want)
		}
	}
}

func TestMinimumLoad(t *testing.T) {
	// Just either side of the tolerance of 1 %.
	for minimum, want := range map[float64]int{1: 3, 1.005: 3, 1.02: 2, 4: 2, 4.1: 1, 17: 0} {
		if got := len(Enumerate(2, 2, 4, amplifier.Mono, 1, minimum)); got != want {
			t.Errorf("minimum %g ohm: %d plans, want %d", minimum, got, want)
		}
	}
	if got := len(Enumerate(3, 1, 4, amplifier.Mono, 1, 1.33)); got != 2 {
		t.Errorf("1.333 ohm on an output for 1.33 ohm: %d plans, want 2", got)
	}
}

func TestSimplestRealisation(t *testing.T) {
	// 2 x 2 x 4 ohm to 4 ohm: series inside, parallel between; not the other way.
	p := Enumerate(2, 2, 4, amplifier.Bridged, 1, 4)[0]
	if p.Load != 4 || p.InnerSeries != 2 || p.outerParallel() != 2 {
		t.Errorf("%+v", p)
	}
	// Two drivers on two outputs: a driver each, rather than a coil of both.
	p = Enumerate(2, 2, 4, amplifier.Stereo, 2, 0)[0]
	if p.Split != 1 {
		t.Errorf("%+v", p)
	}
}

func TestWords(t *testing.T) {
	for _, c := range []struct {
		drivers, coils, outputs int
		mode                    amplifier.Mode
		load                    float64
		want                    string
		caution                 bool
	}{
		{1, 1, 1, amplifier.Mono, 4, "connect the driver by itself: 4 ohm on the mono output", false},
		{1, 2, 1, amplifier.Bridged, 8, "wire the driver's two 4 ohm coils in series (8 ohm): 8 ohm on the bridged output", false},
		{2, 1, 1, amplifier.Bridged, 2, "wire the two drivers in parallel: 2 ohm on the bridged output", false},
		{2, 2, 1, amplifier.Bridged, 4, "wire each driver's two 4 ohm coils in series (8 ohm); wire the two drivers in parallel: 4 ohm on the bridged output", false},
		{2, 1, 2, amplifier.Bridged, 4, "connect each driver to an output of its own: 4 ohm on each of two bridged outputs", true},
		{4, 2, 2, amplifier.Bridged, 4, "wire each driver's two 4 ohm coils in series (8 ohm); wire the drivers in groups of two, the drivers of a group in parallel: 4 ohm on each of two bridged outputs", true},
		{1, 2, 2, amplifier.Stereo, 4, "connect each of the driver's two coils to an output of its own: 4 ohm on each of two channels", true},
		{3, 2, 2, amplifier.Stereo, 4. / 3, "wire the first coils of the three drivers, likewise their second coils, in parallel: 1.33 ohm on each of two channels", true},
		{1, 4, 2, amplifier.Stereo, 2, "wire the driver's four 4 ohm coils into two sets of two, the coils of a set in parallel (2 ohm): 2 ohm on each of two channels", true},
		{4, 1, 1, amplifier.Paralleled, 4, "wire the four drivers as two strings of two drivers in series, the strings in parallel: 4 ohm on the paralleled output", false},
	} {
		found := false
		for _, p := range Enumerate(c.drivers, c.coils, 4, c.mode, c.outputs, 0) {
			if math.Abs(p.Load-c.load) > tight {
				continue
			}
			found = true
			if p.Words != c.want {
				t.Errorf("got  %q\nwant %q", p.Words, c.want)
			}
			if (p.Caution != "") != c.caution {
				t.Errorf("%q: caution %q", p.Words, p.Caution)
			}
		}
		if !found {
			t.Errorf("no plan of %g ohm for %+v", c.load, c)
		}
	}
}

// anyPlans draws a system that has at least one wiring.
func anyPlans(t *rapid.T) (drivers, coils, outputs int, coil float64, plans []Plan) {
	drivers = rapid.IntRange(1, 8).Draw(t, "drivers")
	coils = rapid.IntRange(1, 4).Draw(t, "coils")
	outputs = rapid.IntRange(1, 6).Draw(t, "outputs")
	coil = rapid.SampledFrom([]float64{1, 2, 3.2, 4, 8}).Draw(t, "coil")
	plans = Enumerate(drivers, coils, coil, amplifier.Stereo, outputs, 0)
	return
}

func TestEveryPlanIsWhatItSays(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		drivers, coils, outputs, coil, plans := anyPlans(t)
		for i, p := range plans {
			if p.Outputs*p.Series*p.Parallel != drivers*coils {
				t.Fatalf("coils left over: %+v", p)
			}
			if i > 0 && p.Load <= plans[i-1].Load {
				t.Fatalf("loads not rising: %v", loads(plans))
			}
			seen := map[[2]int]int{}
			for _, n := range p.Networks() {
				if got := n.Load(coil); math.Abs(got-p.Load) > tight*p.Load {
					t.Fatalf("network has %g ohm, plan %g ohm", got, p.Load)
				}
				n.Walk(func(driver, coil int) { seen[[2]int{driver, coil}]++ })
			}
			if len(seen) != drivers*coils {
				t.Fatalf("%d coils drawn, %d there: %+v", len(seen), drivers*coils, p)
			}
			for place, times := range seen {
				if times != 1 || place[0] >= drivers || place[1] >= coils {
					t.Fatalf("coil %v drawn %d times", place, times)
				}
			}
		}
		if outputs == 1 && len(plans) != len(divisors(drivers*coils)) {
			t.Fatalf("%d plans, %d divisors", len(plans), len(divisors(drivers*coils)))
		}
	})
}

func TestStricterMinimumOnlyRemoves(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		drivers, coils, outputs, coil, all := anyPlans(t)
		minimum := rapid.Float64Range(0, 32).Draw(t, "minimum")
		some := Enumerate(drivers, coils, coil, amplifier.Stereo, outputs, minimum)
		var want []string
		for _, p := range all {
			if p.Load >= minimum*(1-amplifier.LoadTolerance) {
				want = append(want, p.Words)
			}
		}
		var got []string
		for _, p := range some {
			got = append(got, p.Words)
		}
		if !slices.Equal(got, want) {
			t.Fatalf("got %q, want %q", got, want)
		}
	})
}

func ExampleEnumerate() {
	for _, p := range Enumerate(2, 2, 4, amplifier.Bridged, 1, 4) {
		fmt.Println(p.Words)
	}
	// Output:
	// wire each driver's two 4 ohm coils in series (8 ohm); wire the two drivers in parallel: 4 ohm on the bridged output
	// wire each driver's two 4 ohm coils in series (8 ohm); wire the two drivers in series: 16 ohm on the bridged output
}

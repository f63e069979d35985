package driver_test

import (
	"fmt"
	"testing"

	"loudfor/model/air"
	"loudfor/model/driver"
)

// valueTwelve is what a shelf card says of a 12-inch value driver.
var valueTwelve = driver.Card{
	Size: 0.3048, Coils: 2, CoilLoad: 4,
	Fs: 31, Qts: 0.60, Vas: 0.058, Xmax: 0.009, Power: 250,
}

func ExampleComplete() {
	d, notes, err := driver.Complete(valueTwelve, air.At(20))
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("moving mass %.0f g, Bl %.1f N/A a coil, %.1f dB at 1 W\n", 1000*d.Mms, d.Bl, d.Sensitivity(air.At(20)))
	for _, n := range notes {
		if n.Kind == driver.Assumed {
			fmt.Printf("assumed %s %.3g (spread %.0f %%)\n", n.Quantity, n.Value, 100*n.Spread)
		}
	}
	// Output:
	// moving mass 155 g, Bl 8.7 N/A a coil, 86.1 dB at 1 W
	// assumed Qms 5.5 (spread 35 %)
	// assumed Sd 0.0491 (spread 4 %)
	// assumed Re 3.4 (spread 8 %)
	// assumed Le 0.00187 (spread 50 %)
}

func BenchmarkComplete(b *testing.B) {
	a := air.At(20)
	for b.Loop() {
		if _, _, err := driver.Complete(valueTwelve, a); err != nil {
			b.Fatal(err)
		}
	}
}

package front_test

import (
	"fmt"

	"loudfor/model/front"
)

func ExampleStage_Level() {
	pair := front.Stage{
		Size: 0.165, Sensitivity: 90, Load: 4, Power: 60,
		Watts: 50, HighPass: 80,
	}
	level, usable, limit, notes := pair.Level(front.Room{Length: 2.4, Width: 1.36, Height: 1.12})
	fmt.Printf("%.1f dB with %.0f W a side: %v\n", level, usable, limit)
	for _, n := range notes {
		fmt.Printf("assumed %s: %.3g\n", n.Quantity, n.Value)
	}
	// Output:
	// 110.1 dB with 17 W a side: cone travel
	// assumed fs: 65
	// assumed Sd: 0.013
	// assumed Xmax: 0.0035
	// assumed mean absorption of the cabin: 0.4
	// assumed distance from speaker to ears: 1
}

func ExampleHeadUnitCeiling() {
	fmt.Printf("%.1f W\n", front.HeadUnitCeiling(14.4, 4, 4))
	// Output: 22.5 W
}

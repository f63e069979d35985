package enclosure_test

import (
	"fmt"

	"loudfor/model/air"
	"loudfor/model/enclosure"
)

// A carpenter has an 85 mm tube and wants 35 Hz from 45 litres.
func ExamplePort_LengthFor() {
	p := enclosure.Port{Count: 1, Diameter: 0.085, FlangedEnds: 1}
	p.Length = p.LengthFor(35, 0.045, air.At(20))
	fmt.Printf("%.0f mm\n", p.Length*1000)
	fmt.Printf("%.1f Hz\n", p.Tuning(0.045, air.At(20)))
	// Output:
	// 245 mm
	// 35.0 Hz
}

func ExampleBox_Check() {
	b := enclosure.Box{Kind: enclosure.Vented, Drivers: 1, Volume: 0.02,
		Port: enclosure.Port{Count: 1, Diameter: 0.1, Length: 0.9}}
	fmt.Println(b.Check())
	// Output:
	// port length 0.9 m: a straight port that long does not fit into the box
}

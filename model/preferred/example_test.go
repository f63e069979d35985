package preferred_test

import (
	"fmt"

	"loudfor/model/preferred"
)

func ExampleBlocker() {
	c := preferred.Blocker(4, 150)
	fmt.Printf("%.0f uF blocks below %.0f Hz\n", c*1e6, preferred.Corner(4, c))
	// Output: 220 uF blocks below 181 Hz
}

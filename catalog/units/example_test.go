package units_test

import (
	"fmt"

	"loudfor/catalog/units"
)

func ExampleParse() {
	q, err := units.Parse("12 in", units.Length)
	fmt.Println(q.SI, q.Text, q.Unit, err == nil)
	_, err = units.Parse("58 kg", units.Volume)
	fmt.Println(err)
	_, err = units.Parse("1,234 L", units.Volume)
	fmt.Println(err.Summary)
	// Output:
	// 0.3048 12 in in true
	// "58 kg" is a mass, not a volume; write a volume in L, m3, cm3, ft3 or in3, such as 24 L
	// "1,234" can mean 1.234 or 1234
}

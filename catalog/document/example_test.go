package document_test

import (
	"fmt"

	"loudfor/catalog/document"
	"loudfor/catalog/units"
)

func ExampleSchema() {
	type size struct{ width float64 }
	schema := document.NewSchema("a box", []document.Field[size]{{
		Spec: document.Spec{Key: "width", Shape: document.Quantity, Dim: units.Length, Range: "1 cm..2 m", Required: true},
		Set:  func(s *size, v *document.Value) { s.width = v.SI },
	}})
	file, _ := document.NewFile("box.yaml", []byte("width: 38 cm\nwidht: 3 kg\n"))
	reader, root := document.Parse(file)
	var s size
	schema.Decode(reader, root, &s, nil)
	found, _ := reader.Problems()
	fmt.Println(s.width)
	for _, p := range found {
		fmt.Println(p.Where, p.Summary+":", p.Detail)
	}
	// Output:
	// 0.38
	// box.yaml:2:1 "widht" is not a key of a box: did you mean "width"?
}

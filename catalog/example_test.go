package catalog_test

import (
	"fmt"
	"os"
	"testing/fstest"

	"loudfor/catalog"
)

func ExampleLoadFS() {
	files := fstest.MapFS{"parts.yaml": {Data: []byte(`parts:
  - sku: TM-12V
    kind: subwoofer
    price: 39.00 USD
    size: 12 in
    coils: 2 x 4 ohm
`)}}
	c, report := catalog.LoadFS(files, []string{"parts.yaml"})
	if err := report.Err(); err != nil {
		fmt.Println(err)
		return
	}
	for _, p := range c.ByKind(catalog.KindSubwoofer) {
		fmt.Println(p.SKU, p.Price, p.Subwoofer.Card.Size, "m")
	}
	// Output: TM-12V 39.00 USD 0.3048 m
}

// Every error of every file is told in one run, with its place and the way to
// mend it.
func ExampleReport() {
	files := fstest.MapFS{"parts.yaml": {Data: []byte(`parts:
  - sku: TM-12V
    kind: subwoofer
    size: 12 in
    colis: 2 x 4 ohm
    vas: 58 kg
`)}}
	_, report := catalog.LoadFS(files, []string{"parts.yaml"})
	_ = report.Write(os.Stdout, false)
	// Output:
	// error  parts.yaml:5:5  "colis" is not a key of a subwoofer
	//   line 5 is  >>colis<<: 2 x 4 ohm
	//   did you mean "coils"?
	//
	// error  parts.yaml:6:10  "58 kg" is a mass, not a volume
	//   line 6 is  vas: >>58 kg<<
	//   write a volume in L, m3, cm3, ft3 or in3, such as 24 L
	//
	// 2 errors
}

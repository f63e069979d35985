package prices_test

import (
	"fmt"
	"os"

	"loudfor/catalog"
	"loudfor/catalog/demo"
	"loudfor/catalog/prices"
)

// A clearance list with a decimal comma is laid over the catalogue.
func Example() {
	c, report := catalog.LoadFS(demo.FS, []string{demo.Parts})
	if report.Err() != nil {
		_ = report.Write(os.Stdout, false)
		return
	}
	list, report := prices.Read("clearance.csv", []byte("Article;Price (USD);Qty;Valid from\nTM-12V;29,50;3;9.5.2025\n"), prices.Options{})
	if report.Err() != nil {
		_ = report.Write(os.Stdout, false)
		return
	}
	newer, changes, report := prices.Layer(c, prices.Layering{}, list)
	fmt.Println(report.Err(), len(changes), newer.Part("TM-12V").Price, newer.Part("TM-12V").Stock)
	// Output: <nil> 1 29.50 USD 3
}

// Every mistake has its place.
func ExampleRead() {
	_, report := prices.Read("may.csv", []byte("SKU,price,date\nTM-12V,call,2025-05-09\nOR-4C,99 USD,9/5/2025\n"), prices.Options{})
	_ = report.Write(os.Stdout, false)
	// Output:
	// error  may.csv:2:8  "call" is not a price
	//   line 2 is  TM-12V,>>call<<,2025-05-09
	//   write a price, such as 39.00 USD, or clear the cell
	//
	// error  may.csv:3:14  "9/5/2025" can mean 2025-05-09 or 2025-09-05
	//   line 3 is  OR-4C,99 USD,>>9/5/2025<<
	//   write year-month-day, such as 2025-03-09
	//
	// 2 errors
}

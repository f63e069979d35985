package formats

import "fmt"

// PartsList is an example of a list of parts as export writes it: a part with
// offers, a deal, a store.
const PartsList = `kind,sku,name,parts,store,price,capacitance,trip,offers
bass blocker,B-2,,,Gate,21.00 USD,220 uF,,"20.00 USD, 2 pieces, at Pier; 22.00 USD at Yard"
deal,,two pairs,B-2 x 2,,38.00 USD,,,
store,,Pier,,,,,3.00 USD,
`

// partsLists is the part of the help about lists of parts.
func partsLists() string {
	return fmt.Sprintf(`
A list of parts (import, export), CSV or XLSX, for example:

%s
A row is a part, or a deal or a store where its kind says so. The columns are the
keys below, those of a group as "port.length", or other names that shops use. Each
cell holds one value, lists their items with ; between them:
  parts    B-2 x 2; OR-4C
  ratings  stereo 4 ohm 50 W; bridged 4 ohm 150 W claimed 14.4 V
  offers   20.00 USD, 2 pieces, at Pier; 22.00 USD at Yard
A semicolon inside an item cannot be told from one between two: export refuses it.
`, indented(PartsList))
}

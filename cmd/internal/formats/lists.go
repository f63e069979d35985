package formats

import "fmt"

// PartsList is an example of a list of parts as export writes it: a part with
// offers, a deal, a store.
const PartsList = `kind,sku,name,parts,store,price,stock,offers,gauge,length,trip
wiring kit,K-4,fat cable,,Gate,21.00 USD,,"20.00 USD, 2 pieces, at North Road; 22.00 USD at Pier",4 AWG,5 m,
deal,,two for a car,K-4 x 2,,38.00 USD,,,,,
store,,North Road,,,,,,,,3.00 USD
`

// partsLists is the part of the help about lists of parts.
func partsLists() string {
	return fmt.Sprintf(`
A list of parts (import, export), CSV or XLSX, for example:

%s
A row is a part, or a deal or a store where its kind says so. The columns are the
keys below, those of a group as "port.length", or other names that shops use. Each
cell holds one value, lists their items with ; between them:
  parts    K-4 x 2; OR-4C
  ratings  stereo 4 ohm 50 W; bridged 4 ohm 150 W claimed 14.4 V
  offers   20.00 USD, 2 pieces, at North Road; 22.00 USD at Pier
A semicolon inside an item cannot be told from one between two: export refuses it.
`, indented(PartsList))
}

package advice

import (
	"strings"
	"testing"

	"loudfor/catalog"
	"loudfor/model/supply"
	"loudfor/optimizer"
)

// Front speakers that stay as they are forbid all others, and a car whose run of cable
// nobody measured forbids no kit for its length.
func TestWhatStaysForbidsOthers(t *testing.T) {
	pair := &catalog.Part{SKU: "PAIR", Kind: catalog.KindFront, Priced: true, Stock: 1, Limit: 1, Front: &catalog.FrontSpeakers{Load: 4, Power: 50}}
	kit := &catalog.Part{SKU: "KIT", Kind: catalog.KindKit, Priced: true, Stock: 1, Limit: 1, Kit: &catalog.WiringKit{Area: supply.AreaOfGauge(8), Length: 3}}
	const stay, short = "the front speakers stay as they are", "its cable is"
	for _, c := range []struct {
		part  *catalog.Part
		rule  catalog.FrontRule
		owned []catalog.Mention
		run   float64 // m
		says  string
	}{
		{pair, catalog.FrontKeep, nil, 0, stay}, {pair, catalog.FrontEither, nil, 0, ""}, {pair, catalog.FrontReplace, nil, 0, ""},
		{pair, catalog.FrontKeep, []catalog.Mention{{SKU: "PAIR", Count: 1}}, 0, ""},
		{kit, catalog.FrontEither, nil, 4.5, short}, {kit, catalog.FrontEither, nil, 3, ""}, {kit, catalog.FrontEither, nil, 0, ""},
	} {
		d := &Desk{p: optimizer.Problem{Catalogue: &catalog.Catalogue{Parts: []*catalog.Part{c.part}}, Brief: catalog.Brief{Front: c.rule, Owned: c.owned}, Vehicle: catalog.Vehicle{CableRun: c.run}}}
		said := strings.Join(d.unfit(c.part), "; ")
		if c.says == "" && (strings.Contains(said, stay) || strings.Contains(said, short)) || !strings.Contains(said, c.says) {
			t.Errorf("%s, %v, run %g m: %q, want %q", c.part.SKU, c.rule, c.run, said, c.says)
		}
	}
}

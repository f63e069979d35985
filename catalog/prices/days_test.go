package prices

import "testing"

// Rows in any order: the last day that states a price or a stock counts.
func TestTheLastDayCounts(t *testing.T) {
	for text, want := range map[string]string{
		"KIT,Pell Street,30,5,2025-05-09\nKIT,Pell Street,33,,2025-05-01\n":                                 "30.00 USD at Pell Street, 5 in stock",
		"KIT,Pell Street,33,,2025-05-01\nKIT,Pell Street,30,5,2025-05-09\n":                                 "30.00 USD at Pell Street, 5 in stock",
		"KIT,Pell Street,,3,2025-05-09\nKIT,Pell Street,33,8,2025-05-02\nKIT,Pell Street,32,9,2025-05-01\n": "33.00 USD at Pell Street, 3 in stock",
	} {
		newer, _, report := Layer(loaded(t, several), Layering{}, list(t, text))
		if len(report.Problems) > 0 {
			t.Fatal(report.Problems)
		}
		if got := OffersOf(newer.Part("KIT")).Offer.String(); got != want {
			t.Errorf("%q: %s, want %s", text, got, want)
		}
	}
}

package catalog

import "testing"

// A deal goes with its parts: one that names a part that is left out is left
// out too, and the catalogue itself stays whole.
func TestOnly(t *testing.T) {
	c := New("USD", []*Part{{SKU: "A"}, {SKU: "B"}, {SKU: "C"}})
	c.Deals = []*Deal{{Name: "one", Parts: []Mention{{SKU: "A"}}}, {Name: "both", Parts: []Mention{{SKU: "A"}, {SKU: "B"}}}}
	small := c.Only(func(sku string) bool { return sku != "B" })
	if len(small.Parts) != 2 || small.Part("A") == nil || small.Part("B") != nil || small.Part("C") == nil {
		t.Errorf("parts %v", small.SKUs())
	}
	if len(small.Deals) != 1 || small.Deals[0].Name != "one" || small.Currency != "USD" {
		t.Errorf("deals %v", small.Deals)
	}
	if len(c.Parts) != 3 || len(c.Deals) != 2 {
		t.Error("the catalogue has changed")
	}
}

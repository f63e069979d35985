package catalog

import (
	"slices"
	"testing"
)

func TestWith(t *testing.T) {
	c, report := reload(full)
	if err := report.Err(); err != nil {
		t.Fatal(err)
	}
	before := slices.Clone(c.Parts)
	dear := *c.Part("A")
	dear.Price = Money{9999, "USD"}
	added := &Part{SKU: "AA", Kind: KindConverter, Converter: &LineConverter{4}}
	d := c.With(added, &dear)
	if !slices.Equal(c.Parts, before) || c.Part("A").Price.Minor != 105 {
		t.Error("the catalogue changed")
	}
	if d.Part("A") != &dear || d.Part("AA") != added || d.Part("B") != c.Part("B") || len(d.Parts) != len(c.Parts)+1 {
		t.Error("the parts are not in the new catalogue")
	}
	if !slices.IsSorted(d.SKUs()) {
		t.Error("not in SKU order")
	}
	if at := d.Part("B").At("volume"); d.Line(at) == "" || d.Line(at) != c.Line(at) {
		t.Error("the source lines are lost")
	}
	none := New("", []*Part{added})
	if got := none.With(&dear).Currency; got != "USD" {
		t.Errorf("currency %q", got)
	}
}

package record

import (
	"encoding/json"
	"testing"

	"loudfor/catalog"
	"loudfor/catalog/demo"
	"loudfor/model/air"
	"loudfor/optimizer/workshop"
)

// A box is the same again from its document: what is booked can be predicted and cut.
func TestBoxFromItsDocument(t *testing.T) {
	c, _ := catalog.LoadFS(demo.FS, []string{demo.Parts})
	file, problems := catalog.LoadBuildFS(demo.FS, demo.Builds+"/twelve-built.yaml")
	if problems.Err() != nil {
		t.Fatal(problems.Err())
	}
	file.Built.Where = catalog.Position{}
	slot, tube, sealed := *file.Built, *file.Built, *file.Built
	tube.Slot, tube.Tube, tube.PortLength = 0, 0.1, 0.2
	sealed.Slot, sealed.Tube, sealed.PortLength = 0, 0, 0
	for _, want := range []catalog.BuiltBox{slot, tube, sealed} {
		box, err := workshop.Make(c, &file.Brief, want)
		if err != nil {
			t.Fatal(err)
		}
		text, err := json.Marshal(ofBuilt(box, air.At(20)))
		if err != nil {
			t.Fatal(err)
		}
		var doc Box
		if err := json.Unmarshal(text, &doc); err != nil {
			t.Fatal(err)
		}
		if got := doc.Description(); got != want {
			t.Errorf("%+v became %+v", want, got)
		}
	}
}

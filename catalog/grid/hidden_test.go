package grid

import (
	"testing"

	"github.com/xuri/excelize/v2"
)

// A cell may have several lines, whatever its program ends them with; what acts on
// what is shown is refused in its cell.
func TestLinesInACell(t *testing.T) {
	with := func(text string) []byte {
		return sheetOf(t, 1, func(f *excelize.File, sheet string) {
			if err := f.SetCellStr(sheet, "C2", text); err != nil {
				t.Fatal(err)
			}
		})
	}
	for name, content := range map[string][]byte{"a.xlsx": with("one\r\ntwo"), "a.csv": []byte("SKU,price,note\r\nS-1,1,\"one\r\ntwo\"\r\n")} {
		sheets, found := Read(name, content, limited())
		if len(found) != 0 || len(sheets) != 1 || sheets[0].Row(1)[2].Text != "one\ntwo" {
			t.Errorf("%s: %+v, %+v", name, sheets, found)
		}
	}
	_, found := Read("a.xlsx", with("one\u202etwo"), limited())
	only(t, found, "U+202E", "remove the character", "a.xlsx:Sheet1!C2")
}

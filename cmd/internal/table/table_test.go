package table

import (
	"strings"
	"testing"

	"pgregory.net/rapid"
)

func TestWrite(t *testing.T) {
	var out strings.Builder
	err := WriteIndented(&out, Most, "", []Column{{Title: "rank", Right: true}, {Title: "price", Right: true}, {Title: "parts", Fill: true}}, [][]string{
		{"1", "249.50 USD", strings.Repeat("a word and more ", 9)},
		{"10", "9.00 USD", "one\ntwo"},
	})
	if err != nil {
		t.Fatal(err)
	}
	want := `
rank       price  parts
----  ----------  ---------------------------------------------------------------------------------
   1  249.50 USD  a word and more a word and more a word and more a word and more a word and more a
                  word and more a word and more a word and more a word and more
  10    9.00 USD  one
                  two
`[1:]
	if out.String() != want {
		t.Errorf("got\n%s\nwant\n%s", out.String(), want)
	}
}

// No text, however long its words or wide its runes, leaves the page.
func TestNeverWiderThanThePage(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		rows := make([][]string, rapid.IntRange(0, 4).Draw(t, "rows"))
		for i := range rows {
			rows[i] = []string{
				rapid.StringMatching(`[a-z0-9.]{0,12}`).Draw(t, "short"),
				rapid.StringMatching(`[a-zé漢 ]{0,300}`).Draw(t, "long"),
				rapid.StringMatching(`[a-z ]{0,60}`).Draw(t, "capped"),
			}
		}
		var out strings.Builder
		if err := WriteIndented(&out, Most, "", []Column{{Title: "a"}, {Title: "b", Fill: true}, {Title: "c", Width: 20}}, rows); err != nil {
			t.Fatal(err)
		}
		for line := range strings.SplitSeq(out.String(), "\n") {
			if Cells(line) > Most {
				t.Fatalf("%d cells: %q", Cells(line), line)
			}
		}
	})
}

// Wrapping loses no letter and adds none.
func TestWrapKeepsTheLetters(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		text := rapid.StringMatching(`[a-zé漢 ]{0,200}`).Draw(t, "text")
		width := rapid.IntRange(2, 40).Draw(t, "width")
		squeeze := func(s string) string { return strings.Join(strings.Fields(s), "") }
		if got := squeeze(strings.Join(Wrap(text, width), "")); got != squeeze(text) {
			t.Fatalf("%q became %q", text, got)
		}
	})
}

// A number stays with its unit and its band; on a line too narrow for that, only
// words are kept whole.
func TestWrapKeepsUnits(t *testing.T) {
	for _, c := range []struct {
		text  string
		width int
		want  string
	}{
		{"music at 103.1 +/- 7.1 dB, then", 20, "music at|103.1 +/- 7.1 dB,|then"},
		{"falls to 12.5 V.", 14, "falls to|12.5 V."},
		{"103.1 +/- 7.1 dB", 9, "103.1 +/-|7.1 dB"},
		{"on the 2 A side", 9, "on the|2 A side"},
		{"dB stands alone", 4, "dB|stan|ds|alon|e"},
	} {
		if got := strings.Join(Wrap(c.text, c.width), "|"); got != c.want {
			t.Errorf("%q in %d: %q, want %q", c.text, c.width, got, c.want)
		}
	}
}

// A name keeps its column, be it of several words, a paragraph is filled anew, and what
// fits stays.
func TestFit(t *testing.T) {
	for _, c := range []struct{ text, want string }{
		{"tool name    what it is for", "tool name    what it is\n             for"},
		{"  -q, --all  only the answer", "  -q, --all  only the\n             answer"},
		{"a paragraph of words that is\nwider\n\nand a\nshort one", "a paragraph of words that\nis wider\n\nand a\nshort one"},
		{"    deep code of many words here", "    deep code of many\n    words here"},
	} {
		if got := Fit(26, c.text); got != c.want {
			t.Errorf("%q: %q, want %q", c.text, got, c.want)
		}
	}
}

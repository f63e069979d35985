package document

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"go.yaml.in/yaml/v3"
	"pgregory.net/rapid"
)

// lineOf is a line of a file that may be right or broken: items, keys, quotes
// and brackets over several lines, anchors, blocks of text, remarks.
var lineOf = rapid.Custom(func(t *rapid.T) string {
	if rapid.IntRange(0, 9).Draw(t, "plain") < 7 {
		return rapid.SampledFrom([]string{"  - sku: A", "  - sku: B", "    kind: b", "    note:", "    text: |", "      - no item", "  - {sku: C, kind: [b]}", "    list:", "      - a", "  # remark"}).Draw(t, "line")
	}
	indent := strings.Repeat(" ", rapid.SampledFrom([]int{0, 2, 2, 2, 4, 4, 4, 6}).Draw(t, "indent"))
	return indent + rapid.SampledFrom([]string{
		"- sku: A", "- sku: B", "kind: b", "kind: 'b'", "note: |", "note: |+", "note: >+", "note: |1", "note: >-", "text", "- a", "-", "- \"open", "close\"", "note: 'it''s",
		"list: [1, 2", "]", "{a: b}", "- {a: b,", "}", "- &one x", "- *one", "one: &one 5", "two: *one", "# remark", "", "\ttab", "---", "...", "key:", "- - x",
		"? a", ": b", "!!str 5", "- !!int 5", "é: ü", "n: ~", "- 'x' # remark", "- *two",
	}).Draw(t, "line")
})

// plainLine is a line of an item with which the whole surely can be read.
var plainLine = rapid.SampledFrom([]string{"  - sku: A", "  - sku: B # remark", "", "# remark"})

// values writes what a node holds and where, down to its leaves.
func values(b *strings.Builder, n *yaml.Node, shift int) {
	fmt.Fprintf(b, "(%d %d %q %q %q %d:%d", n.Kind, n.Style, n.Tag, n.Value, n.Anchor, n.Line+shift, n.Column)
	if n.Alias != nil {
		fmt.Fprintf(b, " to %d:%d", n.Alias.Line+shift, n.Alias.Column)
	}
	for _, c := range n.Content {
		values(b, c, shift)
	}
	b.WriteByte(')')
}

// Where every piece can be parsed, the pieces hold what the file as a whole
// does, value for value and place for place.
func TestPiecesAreTheWhole(t *testing.T) {
	parted := 0
	rapid.Check(t, func(t *rapid.T) {
		text := rapid.SampledFrom([]string{"parts:\n", "# remark\nparts: \n", "parts:\n  - sku: Z\n", "parts:\n- sku: Z\n"}).Draw(t, "head") +
			strings.Join(rapid.SliceOfN(rapid.SampledFrom([]*rapid.Generator[string]{plainLine, lineOf}).Draw(t, "kind"), 1, 12).Draw(t, "lines"), rapid.SampledFrom([]string{"\n", "\n", "\r\n"}).Draw(t, "end"))
		f := &File{Name: "a.yaml", Text: []byte(text)}
		cut := pieces(f, "parts", rapid.IntRange(1, 30).Draw(t, "least"))
		if len(cut) < 2 {
			return
		}
		var got strings.Builder
		for _, p := range cut {
			r, root := ParsePiece(f, p)
			if root == nil || r.Failed() {
				return // the caller reads the whole
			}
			for _, item := range root.Content[1].Content {
				values(&got, item, r.shift)
			}
		}
		parted++
		r, root := Parse(f)
		if root == nil || r.Failed() {
			t.Fatalf("%q: %d pieces can be read, the whole cannot: %+v", text, len(cut), r.found)
		}
		var want strings.Builder
		for _, item := range root.Content[1].Content {
			values(&want, item, 0)
		}
		if got.String() != want.String() {
			t.Fatalf("%q: pieces\n%s\nwhole\n%s", text, got.String(), want.String())
		}
	})
	if parted == 0 && !testing.Short() { // a few draws may miss it
		t.Error("no file was read in pieces")
	}
}

// The quick ways over lines that nothing ends but LF, and over those of an item,
// find what a look at each byte does.
func TestQuickLines(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		text := []byte(strings.Join(rapid.SliceOf(rapid.SampledFrom([]string{"a", " ", "\n", "\n", "\r", "\u0085", "\u2028", "é"})).Draw(t, "text"), ""))
		lines, more := starts(text)
		want, wantMore, differ := []int{0}, []int{0}, false
		for i := 0; i < len(text); {
			n := ends(text, i)
			if n > 0 {
				want = append(want, i+n)
			} else if n = further(text, i); n > 0 {
				differ = true
			}
			if n > 0 {
				wantMore = append(wantMore, i+n)
			}
			i += max(1, n)
		}
		if !differ {
			wantMore = nil
		}
		if !slices.Equal(lines, want) || !slices.Equal(more, wantMore) {
			t.Fatalf("%q: %v %v, want %v %v", text, lines, more, want, wantMore)
		}
	})
	for _, c := range []struct {
		line string
		want bool
	}{{"   a", true}, {"  a", false}, {"  ", false}, {"   ", true}, {" \t a", false}, {"", false}} {
		if got := furtherIn([]byte(c.line), 2); got != c.want {
			t.Errorf("%q is further in than 2: %v", c.line, got)
		}
	}
}

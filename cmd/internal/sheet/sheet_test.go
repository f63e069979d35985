package sheet

import (
	"encoding/xml"
	"errors"
	"io"
	"strings"
	"testing"

	"loudfor/cmd/internal/style"
	"loudfor/cmd/internal/table"
)

// sample has every kind of block, and text that each format must escape.
func sample() Sheet {
	return Sheet{
		Title: "A & B <sheet>",
		Facts: []Fact{{"car", "a_small_sedan"}, {"build", "2 x D-12 | box"}},
		Sections: []Section{{
			Title: "Everything *once*",
			Blocks: []Block{
				Paragraph("Running text, long enough to be wrapped on a terminal: " + strings.Repeat("word ", 30)),
				Warning("Never <this>."),
				List{"one", "two"},
				Steps{"first", "second"},
				Table{[]table.Column{{Title: "what"}, {Title: "found", Right: true}}, [][]string{{"a|b", "1"}, {"c", Pen}}},
				Drawing{Caption: "Picture", Text: "o--o\n", SVG: `<svg xmlns="http://www.w3.org/2000/svg"><text>o</text></svg>` + "\n"},
				Drawing{Caption: "Letters only", Text: "<-->\n"},
			},
		}},
	}
}

func written(t *testing.T, f Format) string {
	t.Helper()
	var b strings.Builder
	s := sample()
	if err := s.Write(&b, f, style.Style{}); err != nil {
		t.Fatal(err)
	}
	return b.String()
}

func TestTerminal(t *testing.T) {
	want := `A & B <sheet>
  car            a_small_sedan
  build          2 x D-12 | box

Everything *once*
  Running text, long enough to be wrapped on a terminal: word word word word word word word word
  word word word word word word word word word word word word word word word word word word word
  word word word
  ! Never <this>.
  - one
  - two
  1. first
  2. second

  what     found
  ----  --------
  a|b          1
  c     ________

  Picture:
  o--o

  Letters only:
  <-->
`
	if got := written(t, Terminal); got != want {
		t.Errorf("got\n%s", got)
	}
}

func TestMarkdown(t *testing.T) {
	got := written(t, Markdown)
	for _, want := range []string{"# A &amp; B &lt;sheet>\n", "- **car:** a\\_small\\_sedan\n", "## Everything \\*once\\*\n\n",
		"**Never &lt;this>.**\n\n", "- one\n- two\n\n", "1. first\n2. second\n\n", "a\\|b", "```\no--o\n```\n"} {
		if !strings.Contains(got, want) {
			t.Errorf("%q is not in\n%s", want, got)
		}
	}
}

// The page is well formed, escapes its text, keeps its pictures, leaves room
// for a pen, and asks for nothing from elsewhere.
func TestPage(t *testing.T) {
	got := written(t, HTML)
	d := xml.NewDecoder(strings.NewReader(got))
	d.Strict, d.AutoClose, d.Entity = false, xml.HTMLAutoClose, xml.HTMLEntity
	depth := 0
	for {
		token, err := d.Token()
		if errors.Is(err, io.EOF) {
			break
		}
		if err != nil {
			t.Fatalf("%v in\n%s", err, got)
		}
		switch e := token.(type) {
		case xml.StartElement:
			depth++
			for _, a := range e.Attr {
				if a.Name.Local == "src" || a.Name.Local == "href" {
					t.Errorf("<%s> asks for %s", e.Name.Local, a.Value)
				}
			}
		case xml.EndElement:
			depth--
		}
	}
	if depth != 0 {
		t.Errorf("%d elements are left open", depth)
	}
	for _, want := range []string{"<title>A &amp; B &lt;sheet&gt;</title>", "<p class=\"warning\">Never &lt;this&gt;.</p>", "<ol>\n<li>first</li>",
		`<td class="fill"></td>`, `<td class="right">1</td>`, "<text>o</text>", "<pre>&lt;--&gt;\n</pre>", "@media print"} {
		if !strings.Contains(got, want) {
			t.Errorf("%q is not in\n%s", want, got)
		}
	}
	for _, not := range []string{"<script", "@import", "url("} {
		if strings.Contains(got, not) {
			t.Errorf("the page has %q", not)
		}
	}
}

func TestFormats(t *testing.T) {
	for _, word := range Formats() {
		if f, ok := ParseFormat(strings.ToUpper(word)); !ok || formatWords[f] != word {
			t.Errorf("%q is %v, %t", word, f, ok)
		}
	}
	if _, ok := ParseFormat("papyrus"); ok {
		t.Error("papyrus is a format")
	}
	s := sample()
	if err := s.Write(io.Discard, Format(9), style.Style{}); err == nil {
		t.Error("format 9 is written")
	}
	if err := s.Write(full{}, Terminal, style.Style{}); err == nil {
		t.Error("a full disk is not told")
	}
}

type full struct{}

func (full) Write([]byte) (int, error) { return 0, errors.New("disk full") }

package manual

import (
	"io/fs"
	"strings"
	"testing"

	"loudfor/cmd/internal/table"
)

// Every page is in the order, has a title, fits a terminal, and leaves no mark of
// Markdown in it; as HTML it keeps its headings and tables.
func TestPages(t *testing.T) {
	files, err := fs.Glob(pages, "topics/*.md")
	if err != nil || len(files) != len(order) {
		t.Errorf("%d files, %d in the order: %v", len(files), len(order), err)
	}
	for _, topic := range Topics() {
		if topic.Title == "" || strings.Contains(topic.Title, "#") || len(topic.Title) > 80 {
			t.Errorf("%s: %q", topic.Name, topic.Title)
		}
		const width = 100
		shown := Terminal(width, topic.Text)
		for i, line := range strings.Split(shown, "\n") {
			if table.Cells(line) > width {
				t.Errorf("%s:%d is %d cells wide: %s", topic.Name, i+1, table.Cells(line), line)
			}
			if strings.Contains(line, "```") || strings.Contains(line, "**") || strings.Contains(line, "](") {
				t.Errorf("%s:%d: %s", topic.Name, i+1, line)
			}
		}
		page, err := HTML(topic.Text)
		if err != nil || !strings.HasPrefix(page, "<h1>") || strings.Contains(topic.Text, "\n| --- ") != strings.Contains(page, "<table>") {
			t.Errorf("%s: %v, %.80s", topic.Name, err, page)
		}
	}
	if _, ok := Find("nothing"); ok {
		t.Error("a page that is none")
	}
}

func TestTerminal(t *testing.T) {
	const text = "# A page\n\nSay `x` and **y**, see [that](there).\n\n- one\n\n| key | what |\n| --- | --- |\n| `a\\|b` | for |\n\n```yaml\nkey: `kept`\n```\n"
	const want = "A PAGE\n\nSay x and y, see that.\n\n  - one\n\nkey  what\n---  ----\na|b  for\n\nkey: `kept`\n"
	if got := Terminal(100, text); got != want {
		t.Errorf("%q", got)
	}
	page, err := HTML("a <script>alert(1)</script>\n")
	if err != nil || strings.Contains(page, "<script>") {
		t.Errorf("%s, %v", page, err)
	}
}

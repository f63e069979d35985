// Package manual is the manual inside the program: one page of Markdown for each
// topic, shown in a terminal, by man, and in a browser.
//
//	for _, t := range manual.Topics() {
//		fmt.Println(t.Name, t.Title)
//	}
//	fmt.Print(manual.Terminal(80, t.Text))
//
// Every example in the pages is run by the tests of cmd/loudfor, so that what a
// page shows is what the program prints.
package manual

import (
	"bytes"
	"embed"
	"fmt"
	"strings"

	"github.com/yuin/goldmark"
	"github.com/yuin/goldmark/extension"
)

//go:embed topics/*.md
var pages embed.FS

// Topic is one page.
type Topic struct {
	Name  string
	Title string // its first line
	Text  string // Markdown
}

// order is that of the pages: as they are needed.
var order = []string{"start", "answers", "reasons", "prices", "bay", "page", "catalogue", "lists", "briefs", "boxes", "readings", "model", "limits", "scripts"}

// Topics are all pages.
func Topics() []Topic {
	out := make([]Topic, len(order))
	for i, name := range order {
		text, err := pages.ReadFile("topics/" + name + ".md")
		if err != nil {
			panic(err) // the pages are part of the program
		}
		first, _, _ := strings.Cut(string(text), "\n")
		out[i] = Topic{name, strings.TrimPrefix(first, "# "), string(text)}
	}
	return out
}

// Find is the page of a name.
func Find(name string) (Topic, bool) {
	for _, t := range Topics() {
		if t.Name == name {
			return t, true
		}
	}
	return Topic{}, false
}

var toHTML = goldmark.New(goldmark.WithExtensions(extension.Table))

// HTML is a page for a browser: only what Markdown says, since raw HTML in it is
// left out.
func HTML(text string) (string, error) {
	var out bytes.Buffer
	if err := toHTML.Convert([]byte(text), &out); err != nil {
		return "", fmt.Errorf("manual: %w", err)
	}
	return out.String(), nil
}

package counter

import (
	"slices"
	"strings"
	"testing"

	"golang.org/x/net/html"
	"golang.org/x/net/html/atom"
)

// fields are the names and values that a browser would send with a form of a page.
func fields(t *testing.T, page, action string) (all [][2]string) {
	t.Helper()
	doc, err := html.Parse(strings.NewReader(page))
	if err != nil {
		t.Fatal(err)
	}
	for form := range doc.Descendants() {
		if form.DataAtom != atom.Form || attribute(form, "action") != action || attribute(form, "method") != "post" {
			continue
		}
		for n := range form.Descendants() {
			if n.DataAtom == atom.Input && !slices.Contains([]string{"checkbox", "radio", "file"}, attribute(n, "type")) {
				all = append(all, [2]string{attribute(n, "name"), attribute(n, "value")})
			}
		}
		return all
	}
	t.Fatalf("no form goes to %s", action)
	return nil
}

func attribute(n *html.Node, name string) string {
	for _, a := range n.Attr {
		if a.Key == name {
			return a.Val
		}
	}
	return ""
}

package counter

import (
	"bytes"
	"encoding/base64"
	"fmt"
	"net/http"
	"slices"
	"strings"

	"golang.org/x/net/html"
	"golang.org/x/net/html/atom"

	"loudfor/catalog/letterhead"
)

// A page as a file: complete in itself, with its style in it and nothing to click,
// so that it can be sent, kept, and read without the program.

// filePolicy is for a browser that opens the file: it has no scripts to run and
// nothing to load.
const filePolicy = "default-src 'none'; style-src 'unsafe-inline'; img-src data:"

// left are the elements that make no sense in a file, by name.
var left = []atom.Atom{atom.Script, atom.Noscript, atom.Link, atom.Form, atom.Nav, atom.Aside, atom.Button}

// leftClasses are those known by their class.
var leftClasses = []string{"noprint", "top", "skip", "news", "moved", "wait"}

// scripted are the attributes that the page's script reads.
var scripted = []string{"data-live", "data-waits", "data-summary", "data-generation", "data-address"}

// asFile makes a file of a page.
func asFile(page []byte, shop *letterhead.Shop) ([]byte, error) {
	doc, err := html.Parse(bytes.NewReader(page))
	if err != nil {
		return nil, err
	}
	for n := range doc.Descendants() {
		switch n.DataAtom {
		case atom.Head:
			n.AppendChild(element("meta", "http-equiv", "Content-Security-Policy", "content", filePolicy))
			style := element("style")
			style.AppendChild(&html.Node{Type: html.TextNode, Data: string(assets["style.css"].content)})
			n.AppendChild(style)
		case atom.Img:
			embedded(n, &shop.Logo)
		case atom.Details:
			n.Attr = append(n.Attr, html.Attribute{Key: "open"})
		}
	}
	prune(doc)
	var out bytes.Buffer
	err = html.Render(&out, doc)
	return out.Bytes(), err
}

func element(name string, pairs ...string) *html.Node {
	n := &html.Node{Type: html.ElementNode, Data: name, DataAtom: atom.Lookup([]byte(name))}
	for i := 0; i+1 < len(pairs); i += 2 {
		n.Attr = append(n.Attr, html.Attribute{Key: pairs[i], Val: pairs[i+1]})
	}
	return n
}

// embedded puts a picture into the file.
func embedded(n *html.Node, p *letterhead.Picture) {
	for i := range n.Attr {
		if n.Attr[i].Key == "src" {
			n.Attr[i].Val = "data:" + p.Kind + ";base64," + base64.StdEncoding.EncodeToString(p.Content)
		}
	}
}

// prune leaves out what a file has no use for; of a link its words stay.
func prune(n *html.Node) {
	for child := n.FirstChild; child != nil; {
		next := child.NextSibling
		switch {
		case unwanted(child):
			n.RemoveChild(child)
		case child.DataAtom == atom.A && child.Namespace == "":
			child.Data, child.DataAtom = "span", atom.Span
			child.Attr = slices.DeleteFunc(child.Attr, func(a html.Attribute) bool { return a.Key != "class" })
			prune(child)
		default:
			child.Attr = slices.DeleteFunc(child.Attr, func(a html.Attribute) bool {
				return a.Key == "href" && child.Namespace == "svg" || slices.Contains(scripted, a.Key)
			})
			prune(child)
		}
		child = next
	}
}

func unwanted(n *html.Node) bool {
	if n.Type != html.ElementNode {
		return n.Type == html.CommentNode
	}
	if slices.Contains(left, n.DataAtom) && n.Namespace == "" {
		return true
	}
	for _, a := range n.Attr {
		if a.Key == "class" && slices.ContainsFunc(strings.Fields(a.Val), func(c string) bool { return slices.Contains(leftClasses, c) }) {
			return true
		}
	}
	return false
}

// wantsFile: the view is asked for as a file.
func (v *visit) wantsFile() bool { return v.URL.Query().Get("as") == "file" }

// sendFile offers a page as a file.
func (c *Counter) sendFile(v *visit, view string, page []byte) error {
	file, err := asFile(page, v.stock.shop)
	if err != nil {
		return err
	}
	v.w.Header().Set("Content-Disposition", fmt.Sprintf("attachment; filename=%q", "loudfor-"+view+".html"))
	return writeDocument(v.w, file)
}

// writeDocument answers with a file of ours, in which nothing may run.
func writeDocument(w http.ResponseWriter, document []byte) error {
	w.Header().Set("Content-Security-Policy", filePolicy+"; sandbox; frame-ancestors 'none'")
	w.Header().Set("Content-Type", "text/html; charset=utf-8")
	_, _ = w.Write(document) // a visitor who left has nothing to be told
	return nil
}

// showLogo is the picture at the head of a quote.
func (c *Counter) showLogo(v *visit) error {
	logo := v.stock.shop.Logo
	if logo.Kind == "" {
		return notFound{}
	}
	v.w.Header().Set("Content-Type", logo.Kind)
	_, _ = v.w.Write(logo.Content)
	return nil
}

package counter

import (
	"html/template"

	"loudfor/cmd/internal/manual"
)

// The manual in the browser: the pages that help shows in the terminal.

type helpBody struct {
	Topics []manual.Topic
	Text   template.HTML // of the program itself, never of a catalogue; empty: the list
}

func (c *Counter) showHelp(v *visit) error {
	name := v.PathValue("topic")
	body := helpBody{Topics: manual.Topics()}
	title := "Help"
	if name != "" {
		t, ok := manual.Find(name)
		if !ok {
			return notFound{}
		}
		text, err := manual.HTML(t.Text)
		if err != nil {
			return err
		}
		title, body.Text = t.Title, template.HTML(text)
	}
	p := c.page(v, nil, "help", title)
	p.Body = body
	return c.show(v, p, "help")
}

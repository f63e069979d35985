package catalog

import (
	"maps"
	"slices"
	"strings"

	"go.yaml.in/yaml/v3"

	"loudfor/catalog/document"
)

// A brief key by key, as texts: for whoever asks for its values one at a time,
// such as a form or a command line. They are read by the table that files are
// read by, so that each means the same there and is refused in the same words.

// BriefSpecs describe the keys of a brief, in the order of its file.
func BriefSpecs() []document.Spec { return briefSchema.Specs() }

// single are the tables of one key each; no key is required of them.
var single = func() map[string]*document.Schema[BuildFile] {
	all := map[string]*document.Schema[BuildFile]{}
	for _, f := range briefFields(false) {
		f.Required = false
		all[f.Key] = document.NewSchema("a brief", []briefField{f})
	}
	return all
}()

// Mentions are the parts under a key: owned, must or never; nil for others.
func (b *Brief) Mentions(key string) *[]Mention {
	switch key {
	case "owned":
		return &b.Owned
	case "must":
		return &b.Must
	case "never":
		return &b.Never
	}
	return nil
}

// Said is the value of a key as the brief's file would say it: several texts for
// a list, one for anything else, none for what equals its default. An unknown key
// has none.
func (b *Brief) Said(key string) []string {
	if list := b.Mentions(key); list != nil {
		return mentionTexts(*list)
	}
	switch key {
	case "stores":
		return slices.Clone(b.Stores)
	case "steps":
		return stepTexts(b)
	case "name": // as it is: the file may have to quote it
		return nonEmpty(b.Name)
	case "vehicle":
		return nonEmpty(b.Vehicle)
	case "place":
		return nonEmpty(b.Place)
	case "openings":
		return nonEmpty(b.Openings)
	}
	s := single[key]
	if s == nil {
		return nil
	}
	w := document.NewWriter("", "")
	s.Write(w, &BuildFile{Brief: *b}, &BuildFile{Brief: DefaultBrief()})
	text, err := w.Text()
	if err != nil {
		return nil
	}
	value := strings.TrimPrefix(text, key+":")
	if lines := strings.TrimPrefix(value, "\n"); lines != value { // a group stands further in
		return nonEmpty(strings.TrimSuffix(strings.ReplaceAll("\n"+lines, "\n  ", "\n"), "\n")[1:])
	}
	return nonEmpty(strings.TrimSpace(value))
}

func nonEmpty(text string) []string {
	if text == "" {
		return nil
	}
	return []string{text}
}

// Say gives a key the value that texts say, or its default where there are none.
// What cannot be read is reported, and the brief stays as it was. A problem's
// file is the key.
func (b *Brief) Say(key string, texts ...string) *Report {
	said := *b
	said.unsay(key)
	f := BuildFile{Brief: said}
	f.Brief.Keys = maps.Clone(b.Keys)
	if f.Brief.Keys == nil {
		f.Brief.Keys = map[string]Position{}
	}
	report := &Report{}
	texts = slices.DeleteFunc(slices.Clone(texts), func(t string) bool { return strings.TrimSpace(t) == "" })
	if len(texts) > 0 {
		report = say(single[key], &f, key, key, texts)
	}
	if report.Err() == nil {
		f.Brief.Keys[key] = Position{File: key}
		*b = f.Brief
	}
	return report
}

// unsay puts a key back to its default.
func (b *Brief) unsay(key string) {
	switch key {
	case "tax":
		b.TaxPPM, b.TaxByKind, b.LabourTax = 0, nil, nil
	case "labour":
		b.Labour = nil
	case "owned", "must", "never":
		*b.Mentions(key) = nil
	case "stores":
		b.Stores = nil
	case "steps":
		b.Steps = nil
	default:
		if s := single[key]; s != nil {
			var usual document.Value
			f := BuildFile{Brief: *b}
			s.Fields[0].Get(&BuildFile{Brief: DefaultBrief()}, &usual)
			s.Fields[0].Set(&f, &usual)
			*b = f.Brief
		}
	}
}

// say reads the texts of one key into a brief. Problems name what said it in
// place of a file: neither a form nor a flag has lines.
func say(s *document.Schema[BuildFile], to *BuildFile, key, by string, texts []string) *Report {
	report := &Report{}
	at := Position{File: by}
	if s == nil {
		report.Add(Problem{Summary: "no key is called " + key, Where: at})
		return report
	}
	text, err := asFile(&s.Fields[s.Find(key)].Spec, texts)
	if err != nil {
		report.Add(Problem{Summary: err.Error(), Where: at})
		return report
	}
	r, root := document.Parse(&document.File{Name: by, Text: text})
	if root != nil {
		s.Decode(r, root, to, nil)
	}
	found, _ := r.Problems()
	for _, p := range found {
		p.Where, p.Context, p.Length, p.Related = at, "", 0, nil
		report.Add(p)
	}
	return report
}

// asFile is the file that would say the texts of one key.
func asFile(s *document.Spec, texts []string) ([]byte, error) {
	text := strings.TrimSpace(texts[0])
	switch {
	case s.Shape == document.Texts:
		return yaml.Marshal(map[string]any{s.Key: texts})
	case s.Key == "tax" && text[0] != '{':
		text = percent(text)
	case s.Shape == document.Groups || s.Else != nil: // a value with a form of its own
		return []byte(s.Key + ":\n  " + strings.ReplaceAll(strings.ReplaceAll(text, "\r", ""), "\n", "\n  ") + "\n"), nil
	case (s.Shape == document.Flag || s.Shape == document.Whole) && plain(text):
		return []byte(s.Key + ": " + text + "\n"), nil
	}
	return yaml.Marshal(map[string]any{s.Key: text})
}

// plain tells whether a text is one word or number, which needs no quotes.
func plain(text string) bool {
	return strings.Trim(text, "abcdefghijklmnopqrstuvwxyzABCDEFGHIJKLMNOPQRSTUVWXYZ0123456789") == ""
}

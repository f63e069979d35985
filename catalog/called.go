package catalog

import (
	"fmt"
	"slices"
	"strings"
	"unicode"
)

// People call a part by its name, not by a shop's number. Wherever a SKU is
// written, words that fit one part alone mean it; where several fit, the choice
// is the user's.

// Called are the parts that words may mean: that of the SKU, else those whose
// SKU differs in case only, else those that have the words as their name, else
// those whose name, maker and SKU hold all of the words.
func (c *Catalogue) Called(words string) []*Part {
	if p := c.Part(words); p != nil {
		return []*Part{p}
	}
	for _, fits := range []func(*Part) bool{
		func(p *Part) bool { return strings.EqualFold(p.SKU, words) },
		func(p *Part) bool { return p.Name != "" && strings.EqualFold(p.Name, strings.TrimSpace(words)) },
	} {
		if found := c.those(fits); len(found) > 0 {
			return found
		}
	}
	wanted := wordsOf(words)
	if len(wanted) == 0 {
		return nil
	}
	return c.those(func(p *Part) bool {
		if p.Name == "" {
			return false
		}
		has := wordsOf(p.Name + " " + p.Maker + " " + p.SKU)
		return !slices.ContainsFunc(wanted, func(w string) bool { return !slices.Contains(has, w) })
	})
}

func (c *Catalogue) those(fits func(*Part) bool) (found []*Part) {
	for _, p := range c.Parts {
		if fits(p) {
			found = append(found, p)
		}
	}
	return found
}

func wordsOf(text string) []string {
	return strings.FieldsFunc(strings.ToLower(text), func(r rune) bool { return !unicode.IsLetter(r) && !unicode.IsDigit(r) })
}

// Resolve puts SKUs in place of names that mean one part. What means none or
// several stays, and is reported when the list is checked.
func (c *Catalogue) Resolve(list []Mention) []Mention {
	list = slices.Clone(list)
	for i := range list {
		if found := c.Called(list[i].SKU); len(found) == 1 {
			list[i].SKU = found[0].SKU
		}
	}
	return list
}

// Resolve does so for all parts that a brief names.
func (b *Brief) Resolve(c *Catalogue) {
	b.Owned, b.Must, b.Never = c.Resolve(b.Owned), c.Resolve(b.Must), c.Resolve(b.Never)
}

// mostChoices is how many parts of a name are listed.
const mostChoices = 6

// Choice says which parts some words may mean; empty where there are none.
func (c *Catalogue) Choice(words string) string {
	found := c.Called(words)
	switch len(found) {
	case 0:
		return ""
	case 1:
		return fmt.Sprintf("did you mean %q?", found[0].SKU)
	}
	var names []string
	for _, p := range found[:min(len(found), mostChoices)] {
		names = append(names, fmt.Sprintf("%s (%s)", p.SKU, p.Name))
	}
	if more := len(found) - len(names); more > 0 {
		names = append(names, fmt.Sprintf("and %d more", more))
	}
	return fmt.Sprintf("several parts are called so; write the SKU of one: %s", strings.Join(names, ", "))
}

package answer

import (
	"cmp"
	"fmt"
	"maps"
	"math"
	"slices"
	"strings"

	"loudfor/catalog"
	"loudfor/catalog/prices"
	"loudfor/cmd/internal/facts"
	"loudfor/cmd/internal/reprice"
	"loudfor/cmd/internal/table"
	"loudfor/optimizer"
	"loudfor/optimizer/workshop"
)

// Reprice writes what new prices change for one brief; lists names where they
// come from.
func (p *Page) Reprice(q facts.Question, lists string, r reprice.Result) {
	title := "What the new prices change"
	if q.Brief.Name != "" {
		title += ": " + q.Brief.Name
	}
	p.heading(title)
	p.pair("cap", "%s, everything included", q.Brief.Cap)
	p.asked(q, "; ranked by "+goalWords(q.Brief.Goal))
	p.pair("catalogue", "%s", catalogueWords(q))
	p.pair("prices", "%s; %s", lists, partsChanged(len(r.Changes)))
	p.head(outcomeWords(r))
	p.oldAndNew(r)
	for _, text := range aftermath(r) {
		p.item("%s", text)
	}
	p.priceChanges(r)
	p.rebuilt(q, r.Boxes, r.After, r.Before)
	p.head("How this is known")
	p.settled(r)
	if r.After != nil {
		p.remarks(*r.After)
		p.cautions()
	}
}

func partsChanged(n int) string {
	if n == 1 {
		return "1 part has another price, stock or shop"
	}
	return fmt.Sprintf("%d parts have another price, stock or shop", n)
}

// outcomeWords is the answer in a line.
func outcomeWords(r reprice.Result) string {
	switch {
	case r.Before == nil && r.After == nil:
		return "No build satisfies the brief, at the old prices or the new"
	case r.Before == nil:
		return "There is a build now; there was none"
	case r.After == nil:
		return "No build satisfies the brief any more"
	case !r.Changed:
		return "The best build stays, at the same price"
	case sameParts(r):
		return "The best build stays, at another price"
	}
	return "Another build is the best now"
}

func sameParts(r reprice.Result) bool {
	a, b := optimizer.BestOf(r.Before), optimizer.BestOf(r.After)
	b.Cost = a.Cost
	return a.Same(b)
}

// oldAndNew puts both answers side by side.
func (p *Page) oldAndNew(r reprice.Result) {
	if r.Before == nil && r.After == nil {
		return
	}
	columns := []table.Column{{Title: "", Width: 8}}
	var builds []*optimizer.Build
	if r.Before != nil {
		columns, builds = append(columns, table.Column{Title: "old", Fill: true}), append(builds, r.Before)
	}
	if r.After != nil && (r.Before == nil || r.Changed) {
		columns, builds = append(columns, table.Column{Title: "new", Fill: true}), append(builds, r.After)
	}
	var rows [][]string
	row := func(name string, cell func(*optimizer.Build) string) {
		cells := []string{name}
		for _, b := range builds {
			cells = append(cells, cell(b))
		}
		rows = append(rows, cells)
	}
	row("price", func(b *optimizer.Build) string { return b.Cost.String() })
	row("reading", func(b *optimizer.Build) string { return facts.Reading(facts.Terminal{}, *b) })
	row("limit", func(b *optimizer.Build) string { return facts.Limit(*b) })
	row("hearing", func(b *optimizer.Build) string { return facts.Hearing(*b).Words(facts.Terminal{}) })
	row("music", func(b *optimizer.Build) string { return facts.Banded(b.Music.DB, b.Music.Band) })
	row("parts", func(b *optimizer.Build) string { return facts.Bought(b.Lines) })
	if slices.ContainsFunc(builds, func(b *optimizer.Build) bool {
		return slices.ContainsFunc(b.Lines, func(l optimizer.Line) bool { return len(l.From) > 0 })
	}) {
		row("bought", func(b *optimizer.Build) string { return shopWords(b.Lines) })
	}
	p.table(margin, columns, rows)
}

// shopWords says what is bought at which shop, the shops by name.
func shopWords(lines []optimizer.Line) string {
	at := map[string][]string{}
	for _, l := range lines {
		for _, f := range l.Purchases() {
			at[f.Store] = append(at[f.Store], facts.Times(f.Count, l.Part.SKU))
		}
	}
	var words []string
	for _, store := range slices.Sorted(maps.Keys(at)) {
		words = append(words, fmt.Sprintf("%s: %s", cmp.Or(store, "anywhere"), strings.Join(at[store], ", ")))
	}
	return strings.Join(words, "; ")
}

// aftermath says how the answers differ, and what has become of the old one.
func aftermath(r reprice.Result) (all []string) {
	say := func(format string, args ...any) { all = append(all, fmt.Sprintf(format, args...)) }
	if r.Changed && r.Before != nil && r.After != nil {
		say("%s", differs(r))
	}
	if r.Before != nil && r.Changed && !sameParts(r) {
		switch {
		case r.Now.Minor != r.Before.Cost.Minor:
			say("the old build costs %s now%s", r.Now, above(r))
		default:
			say("the old build still costs %s", r.Now)
		}
	}
	for _, text := range r.Gone {
		say("the old build cannot be bought as it was: %s", text)
	}
	if r.Otherwise {
		say("this program predicts or prices the quoted build otherwise than the quote does: quote it again, whatever the prices")
	}
	return all
}

// differs says how far the new answer is from the old one, in words.
func differs(r reprice.Result) string {
	var words []string
	if !sameParts(r) {
		d := r.After.Difference
		text := fmt.Sprintf("%s +/- %s dB", facts.Fixed(math.Abs(d.DB), 1), facts.Fixed(d.Band, 1))
		switch {
		case facts.Tied(*r.After):
			words = append(words, "as loud as the old one, as far as anyone can tell ("+facts.Against(facts.Terminal{}, *r.After)+" dB: a tie)")
		case d.Uncertain():
			words = append(words, facts.Probably(d, "the old one")+", "+text)
		case d.DB > 0:
			words = append(words, text+" louder")
		default:
			words = append(words, text+" quieter")
		}
	}
	return "the new build is " + strings.Join(append(words, costsWords(r.Before.Cost, r.After.Cost)), ", and ")
}

func costsWords(before, after catalog.Money) string {
	switch {
	case after.Minor > before.Minor:
		return facts.Less(after, before).String() + " dearer"
	case after.Minor < before.Minor:
		return facts.Less(before, after).String() + " cheaper"
	}
	return "costs the same"
}

func above(r reprice.Result) string {
	if r.Over.Minor == 0 {
		return ""
	}
	return ", " + r.Over.String() + " above the cap"
}

// mostHarmless is how many changes are shown that do not matter: a
// distributor's list has thousands.
const mostHarmless = 20

// priceChanges lists what the lists changed, with those that matter first.
func (p *Page) priceChanges(r reprice.Result) {
	if len(r.Changes) == 0 {
		return
	}
	title := "Price changes, and whether they matter to this brief"
	p.head(title)
	columns := []table.Column{{Title: "part"}, {Title: "old", Fill: true}, {Title: "new", Fill: true}, {Title: "of"}, {Title: "matters", Width: 22}}
	var rows [][]string
	harmless := 0
	for _, wanted := range []bool{true, false} {
		for _, c := range r.Changes {
			if slices.Contains(r.Matters, c.SKU) != wanted {
				continue
			}
			if !wanted {
				if harmless++; harmless > mostHarmless {
					continue
				}
			}
			rows = append(rows, []string{c.SKU, c.Old.String(), c.New.String(), dayWords(c.Date), mattersWords(r, c.SKU, wanted)})
		}
	}
	p.table(margin, columns, rows)
	if harmless > mostHarmless {
		p.say("%d more do not matter.", harmless-mostHarmless)
	}
}

func dayWords(d prices.Date) string {
	if d.IsZero() {
		return "-"
	}
	return d.String()
}

// mattersWords says in a word or two why a change matters.
func mattersWords(r reprice.Result, sku string, matters bool) string {
	in := func(b *optimizer.Build) bool {
		return b != nil && slices.ContainsFunc(b.Lines, func(l optimizer.Line) bool { return l.Part.SKU == sku && l.Count > l.Owned })
	}
	switch {
	case !matters && r.Complete && (in(r.Before) || in(r.After)):
		switch several, changed := shopsOf(r, sku); {
		case several:
			return "no: the builds pay the same"
		case changed:
			return "no: a deal decides what it costs"
		}
		return "no: enough is left"
	case !matters && r.Complete:
		return "no"
	case !matters:
		return "not looked at"
	case builtOf(r, sku):
		return "yes: boxes are built of it"
	case in(r.Before) && in(r.After):
		return "yes: in both builds"
	case in(r.After):
		return "yes: in the new build"
	case in(r.Before):
		return "yes: in the old build"
	}
	return "yes: alone, or undone alone, it changes the best build"
}

// builtOf says whether a part is material or work of a box that matters.
func builtOf(r reprice.Result, sku string) bool {
	return r.Boxes != nil && slices.ContainsFunc(r.Boxes.Boxes, func(b *workshop.Box) bool { return b.Sheet.SKU == sku || b.Workshop.SKU == sku })
}

// shopsOf says whether a changed part is sold by several shops, and whether its
// price is another.
func shopsOf(r reprice.Result, sku string) (several, changed bool) {
	for _, c := range r.Changes {
		if c.SKU == sku {
			return len(c.Old.Others)+len(c.New.Others) > 0, c.Old.Price != c.New.Price
		}
	}
	return false, false
}

// settled says why the answer can be trusted.
func (p *Page) settled(r reprice.Result) {
	if r.Searched {
		p.say("The whole catalogue was searched again at the new prices.")
	} else {
		p.say("Without a search: no part became cheaper or easier to get, and the best build buys none that became dearer or scarcer; so nothing can have overtaken it.")
	}
	if r.Complete {
		p.say("A change matters if, made alone, it changes the old best build or its price, or if, undone alone, it changes the new one; each was proved or searched for.")
	}
}

package counter

import (
	"context"
	"slices"
	"strings"

	"loudfor/cmd/internal/facts"
	"loudfor/optimizer"
)

// Side by side: two or three builds, line by line, so that the difference is
// seen and not remembered.

// keyVersus holds the code of one of the builds; it stands several times.
const keyVersus = "v"

const mostVersus = 3

type versusBody struct {
	Words   []string // what else is to be said
	Columns []versusColumn
	Lines   []versusLine
	Empty   bool
	Builds  string
}

type versusColumn struct {
	Title, Level, Band, Price string
	Build, Without, Quote     string
}

// versusLine is one line of the comparison; Differs marks where the columns do
// not say the same.
type versusLine struct {
	Name    string
	Cells   []string
	Differs bool
}

func (c *Counter) showVersus(v *visit) error {
	q, err := c.question(v)
	if err != nil {
		return err
	}
	var codes []string
	for _, code := range some(v.URL.Query(), keyVersus) {
		if len(codes) < mostVersus && !slices.Contains(codes, code) {
			codes = append(codes, code)
		}
	}
	body := &versusBody{Builds: q.link(pathBuilds), Empty: len(codes) == 0}
	var builds []optimizer.Build
	for _, code := range codes {
		b, err := c.build(v.context(), q, code)
		if err != nil {
			return err
		}
		builds = append(builds, b)
	}
	if len(builds) == 1 {
		// One alone is compared with the best for the budget.
		if r, err := c.ranking(v.context(), q); err == nil {
			for i := range r.Builds {
				if code := codeOf(r.Builds[i].Lines); code != codes[0] {
					b, err := c.build(v.context(), q, code)
					if err != nil {
						return err
					}
					codes, builds = append(codes, code), append(builds, b)
					break
				}
			}
		}
	}
	if len(builds) > 1 {
		if builds, err = c.compare(v, q, codes, builds); err != nil {
			return err
		}
		body.Words = v.voice.apart(builds)
	}
	v.voice.fillVersus(body, q, codes, builds)
	p := c.page(v, q, "versus", "Side by side")
	p.Asked = v.voice.asked(q)
	p.Body = body
	return c.show(v, p, "versus")
}

// compare fills in how far the builds are apart.
func (c *Counter) compare(v *visit, q *question, codes []string, builds []optimizer.Build) ([]optimizer.Build, error) {
	own := slices.Clone(builds)
	_, key := q.ladderQuestion() // the cap does not matter for given parts
	return c.compared.get(v.context(), key+"\x00"+strings.Join(codes, "\x00"), func(ctx context.Context) ([]optimizer.Build, error) {
		problem, err := c.problem(ctx, q, q.job.Brief)
		if err != nil {
			return nil, err
		}
		return own, optimizer.Compare(ctx, problem, own)
	})
}

// apart says what lies between the builds. They stand in one car, so that this
// is known better than any of the levels.
func (v voice) apart(builds []optimizer.Build) (words []string) {
	for i, b := range builds[1:] {
		words = append(words, facts.Standing(v, facts.Letter(i+1), builds[0], b)+".")
	}
	return words
}

func (v voice) fillVersus(body *versusBody, q *question, codes []string, builds []optimizer.Build) {
	for i, b := range builds {
		h := v.headline(q, b)
		column := versusColumn{Title: facts.Letter(i), Level: h.Level, Band: h.Band, Price: h.Price, Build: h.Build, Quote: h.Quote}
		if len(codes) > 1 {
			column.Without = q.versusLink(codes, i)
		}
		body.Columns = append(body.Columns, column)
	}
	line := func(name string, cells []string) {
		l := versusLine{Name: facts.Capital(name), Cells: cells}
		l.Differs = slices.ContainsFunc(cells, func(text string) bool { return text != cells[0] })
		body.Lines = append(body.Lines, l)
	}
	of := func(name string, cell func(*optimizer.Build) string) {
		var cells []string
		for i := range builds {
			cells = append(cells, cell(&builds[i]))
		}
		line(name, cells)
	}
	if len(builds) == 0 {
		return
	}
	for _, row := range facts.SideBySide(v, q.job.Brief, builds) {
		switch row.Name {
		case "price": // stands in the head of the column
		case "front":
			of("bass", func(b *optimizer.Build) string { return v.kindWords(b, bassKinds) })
			of("amplifier", func(b *optimizer.Build) string { return v.kindWords(b, powerKinds) })
			of("front", func(b *optimizer.Build) string { return facts.Front(v, b.Front) })
			of("everything else", func(b *optimizer.Build) string { return v.kindWords(b, restKinds) })
			of("wiring", func(b *optimizer.Build) string { return facts.Sentence(b.Plan.Words) })
		default:
			line(row.Name, row.Cells)
		}
	}
}

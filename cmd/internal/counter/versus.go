package counter

import (
	"context"
	"fmt"
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
	problem, own := c.problem(q, q.job.Brief), slices.Clone(builds)
	_, key := q.ladderQuestion() // the cap does not matter for given parts
	return c.compared.get(v.context(), key+"\x00"+strings.Join(codes, "\x00"), func(ctx context.Context) ([]optimizer.Build, error) {
		return own, optimizer.Compare(ctx, problem, own)
	})
}

// apart says what lies between the builds. They stand in one car, so that this
// is known better than any of the levels.
func (v voice) apart(builds []optimizer.Build) (words []string) {
	for i, b := range builds[1:] {
		text := fmt.Sprintf("%c is %s dB ± %s against A", 'B'+i, v.Signed(b.Difference.DB), v.DB(b.Difference.Band))
		if b.Tie {
			text += ": a tie"
		}
		switch dearer := less(b.Cost, builds[0].Cost); {
		case dearer.Minor > 0:
			text += ", and costs " + v.Money(dearer) + " more"
		case dearer.Minor < 0:
			text += ", and costs " + v.Money(less(builds[0].Cost, b.Cost)) + " less"
		}
		words = append(words, text+".")
	}
	return words
}

func (v voice) fillVersus(body *versusBody, q *question, codes []string, builds []optimizer.Build) {
	for i, b := range builds {
		h := v.headline(q, b)
		column := versusColumn{Title: string(rune('A' + i)), Level: h.Level, Band: h.Band, Price: h.Price, Build: h.Build, Quote: h.Quote}
		if len(codes) > 1 {
			column.Without = q.versusLink(codes, i)
		}
		body.Columns = append(body.Columns, column)
	}
	line := func(name string, cell func(*optimizer.Build) string) {
		l := versusLine{Name: name}
		for i := range builds {
			text := cell(&builds[i])
			l.Differs = l.Differs || i > 0 && text != l.Cells[0]
			l.Cells = append(l.Cells, text)
		}
		body.Lines = append(body.Lines, l)
	}
	line("Reading", func(b *optimizer.Build) string {
		return v.banded(b.Reading.DB, b.Reading.Band) + " at " + v.Figure(b.Reading.Hz, 0) + " Hz"
	})
	line("Music", func(b *optimizer.Build) string { return v.banded(b.Music.DB, b.Music.Band) })
	line("What limits it", func(b *optimizer.Build) string { return facts.Limit(*b) })
	line("Bass", func(b *optimizer.Build) string { return v.kindWords(b, bassKinds) })
	line("Amplifier", func(b *optimizer.Build) string { return v.kindWords(b, powerKinds) })
	line("Front", func(b *optimizer.Build) string { return facts.Front(b.Front) })
	line("Everything else", func(b *optimizer.Build) string { return v.kindWords(b, restKinds) })
	line("Hookup", func(b *optimizer.Build) string { return facts.Sentence(b.Plan.Words) })
	line("Clamp", func(b *optimizer.Build) string {
		o := b.Operation
		return facts.Three(o.Volts) + " V, " + facts.Three(o.Amps) + " A, " + facts.Three(o.Load) + " Ω, " + facts.Three(o.Watts) + " W"
	})
	line("Current at full power", func(b *optimizer.Build) string { return facts.Three(b.Demand) + " A" })
	line("Counts to the ear", func(b *optimizer.Build) string {
		h := v.hearing(*b)
		return h.DBA + " dBA; permitted: " + h.Permitted
	})
}

package generate

import (
	"math"

	"loudfor/catalog"
)

// Shops price and list in ways that no scatter about a quality has: by the
// shelf, in steps, one thing under two numbers. Equal prices and equal parts are
// where a search has to break ties by the thousand.

// Style is a way of keeping a shop.
type Style int

const (
	Steps  Style = iota // prices in steps of ten
	Shelf               // one price for all parts of a kind: 70, 90 or 110
	Twins               // half of all parts stand there under a second number, at the same price
	Series              // few makers, whose long series differ a little from one to the next
	Owned               // a part in six is the customer's own already
	Twice               // every part stands there under a second number, at another price
	StyleCount
)

func (s Style) String() string {
	return [StyleCount]string{"steps", "shelf", "twins", "series", "owned", "twice"}[s]
}

// Styled makes about n parts in a style, and says what the customer owns.
func Styled(n int, seed uint64, tightness Tightness, style Style) (c *catalog.Catalogue, owned []catalog.Mention) {
	switch style {
	case Twins:
		c = Catalogue(n*2/3, seed, tightness)
		for i, p := range c.Parts[:len(c.Parts):len(c.Parts)] {
			if i%2 == 0 {
				c.Parts = append(c.Parts, again(p, p.Price.Minor))
			}
		}
	case Twice:
		c = Catalogue(n/2, seed, tightness)
		for i, p := range c.Parts[:len(c.Parts):len(c.Parts)] {
			c.Parts = append(c.Parts, again(p, p.Price.Minor+int64(i%7-3)*100))
		}
	case Series:
		c = series(n, seed, tightness)
	default:
		c = Catalogue(n, seed, tightness)
	}
	for i, p := range c.Parts {
		switch style {
		case Steps:
			p.Price.Minor = max(1, (p.Price.Minor+500)/1000) * 1000
		case Shelf:
			p.Price.Minor = 7000 + int64(p.Kind)%3*2000
		case Owned:
			if i%6 == 0 {
				owned = append(owned, catalog.Mention{SKU: p.SKU, Count: 1})
			}
		}
	}
	return c, owned
}

// again is a part under a second number.
func again(p *catalog.Part, price int64) *catalog.Part {
	q := *p
	q.SKU, q.Price.Minor = p.SKU+"B", max(1, price)
	return &q
}

// seriesLength is how many members a series has.
const seriesLength = 25

// series makes series: each member of one is a little stronger, larger or thicker
// than the one before, and a little dearer.
func series(n int, seed uint64, tightness Tightness) *catalog.Catalogue {
	heads := Catalogue(max(1, n/seriesLength), seed, tightness)
	c := &catalog.Catalogue{Currency: heads.Currency}
	for _, head := range heads.Parts {
		for i := range seriesLength {
			c.Parts = append(c.Parts, member(head, i))
		}
	}
	return c
}

func member(head *catalog.Part, i int) *catalog.Part {
	p, more := *head, math.Pow(1.02, float64(i))
	p.SKU += string(rune('a' + i))
	p.Price.Minor = int64(float64(p.Price.Minor)*more/100) * 100
	switch {
	case p.Subwoofer != nil:
		s := *p.Subwoofer
		s.Card.Power, s.Card.Xmax, p.Subwoofer = s.Card.Power*more, s.Card.Xmax*more, &s
	case p.Amplifier != nil:
		a := *p.Amplifier
		a.Spec.Ratings = append(a.Spec.Ratings[:0:0], a.Spec.Ratings...)
		for k := range a.Spec.Ratings {
			a.Spec.Ratings[k].Watts = math.Round(a.Spec.Ratings[k].Watts * more)
		}
		p.Amplifier = &a
	case p.Enclosure != nil:
		e := *p.Enclosure
		e.Box.Volume *= more
		p.Enclosure = &e
	case p.Loaded != nil:
		l := *p.Loaded
		l.Card.Power, l.Card.Xmax, p.Loaded = l.Card.Power*more, l.Card.Xmax*more, &l
	case p.Front != nil:
		f := *p.Front
		f.Power, p.Front = math.Round(f.Power*more), &f
	case p.Source != nil && p.Source.Power > 0:
		s := *p.Source
		s.Power, p.Source = s.Power*more, &s
	case p.Kit != nil:
		k := *p.Kit
		k.Length, p.Kit = k.Length/more, &k
	}
	return &p
}

package program

import (
	"context"
	"fmt"
	"math"
	"sync"

	"loudfor/catalog"
	"loudfor/optimizer/build"
	"loudfor/optimizer/completion"
	"loudfor/optimizer/linear"
	"loudfor/optimizer/pricing"
)

// Selection is a problem's integer program.
type Selection struct {
	Program *linear.Program // maximises the level

	t     *completion.Lists
	base  build.Level // level 0 of the program
	level int         // the variable with the level
	parts []countOf
	cost  []linear.Term // the sum of weighed prices
	pay   []linear.Term // what to make least for the lowest price
}

// countOf is a part with its variables: pieces bought, pieces owned.
type countOf struct {
	item          *pricing.Item
	name          string
	bought, owned int           // places of the variables, or absent
	uses          []linear.Term // what it is used for
}

const absent = -1

// Chosen is what a solution of the program stands for.
type Chosen struct {
	DB    float64
	Cost  catalog.Money // tax included
	Parts []catalog.Mention
}

// Formulate tabulates the levels of the parts at hand and makes the program, without
// what is quieter than the floor in dB (0: no floor). The error is the context's.
func Formulate(ctx context.Context, parts *completion.Lists, floor float64) (*Selection, error) {
	f := &formulation{t: parts, floor: build.Silent + 1, tops: make(map[*pricing.Item]build.Level), topped: make(map[slot][]system)}
	if floor > 0 {
		f.floor = build.Level(math.Floor(floor * build.StepsPerDB))
	}
	f.shelve()
	f.stages()
	if err := f.tabulate(ctx); err != nil {
		return nil, err
	}
	f.dropUndriven()
	return f.program(), nil
}

// Loudest is the first question: the highest level.
func (s *Selection) Loudest() *linear.Program { return s.Program }

// Cheapest is the second question: the lowest price at which a level is reached.
// Asked apart from the first, it needs no weight between decibels and money, and
// so no tolerance.
func (s *Selection) Cheapest(at Chosen) *linear.Program {
	return s.Program.With(false, s.pay, linear.Row{
		Name: "reach", Note: "the level of the first question",
		Terms: []linear.Term{{Variable: s.level, Factor: 1}}, Relation: linear.AtLeast, Limit: int64(build.Round(at.DB) - s.base),
	})
}

// Read gives what values of the variables stand for.
func (s *Selection) Read(values []int64) Chosen {
	c := Chosen{DB: (s.base + build.Level(values[s.level])).DB()}
	sum, _ := linear.Sum(s.cost, values)
	c.Cost = s.t.Money(s.t.Tax.Figure(sum))
	for _, p := range s.parts {
		n := 0
		for _, v := range []int{p.bought, p.owned} {
			if v != absent {
				n += int(values[v])
			}
		}
		if n > 0 {
			c.Parts = append(c.Parts, catalog.Mention{SKU: p.item.Part.SKU, Count: n})
		}
	}
	return c
}

// formulation is a program in the making.
type formulation struct {
	t     *completion.Lists
	floor build.Level
	// tops are the loudest front stages, with music: on spare channels of each
	// amplifier, and without (nil). Where there is none, there is no entry.
	tops map[*pricing.Item]build.Level

	sources, converts, blockers []*pricing.Item
	kits                        []kitClass
	pairs                       []completion.Speakers

	blocks  []block
	options []option
	trial   []int // the options, in the order in which they are tried
	systems []system
	seen    int               // systems tabulated
	topped  map[slot][]system // of those that reach the top
	driven  sync.Map          // []wired by driveKey

	ways    []frontWay
	waysAll int
}

// title is what the program's text begins with.
func (f *formulation) title() []string {
	t := f.t
	goal := "the reading"
	if t.Music() {
		goal = "the music level"
	}
	lines := []string{
		"The choice of car-audio parts for one brief, as an integer program.",
		"",
		"level is " + goal + " in thousandths of a decibel above the base.",
	}
	if t.Brief.Cap != (catalog.Money{}) {
		lines = append(lines, fmt.Sprintf("The cap is %s, tax and labour included.", t.Brief.Cap))
	}
	lines = append(lines, fmt.Sprintf("A price is in units of %d millionths of a minor unit, with its tax; labour", t.Tax.Unit),
		fmt.Sprintf("for a piece is part of it, and labour for the build, %d, is off the cap.", t.Tax.Fixed))
	if f.floor > build.Silent+1 {
		lines = append(lines, fmt.Sprintf("What is quieter than %.3f dB is left out: it is in no build that reaches that.", f.floor.DB()))
	}
	lines = append(lines,
		fmt.Sprintf("%d systems within the cap were tabulated by the model; %d remain that no other beats.", f.seen, len(f.systems)),
		fmt.Sprintf("%d front stages pass the rules; %d remain that no other beats.", f.waysAll, len(f.ways)),
		"Beaten: another costs no more, is no less loud, draws no more current and",
		"connects wherever it does.",
		"", "Variables:")
	return lines
}

package refresh

import (
	"container/list"
	"context"
	"errors"
	"fmt"
	"io/fs"
	"path"
	"reflect"
	"slices"
	"sync"

	"loudfor/catalog"
	"loudfor/cmd/library"
	"loudfor/model/parallel"
)

// Source gives a bundle, packed, by its hash, or a ranking by its key.
type Source func(ctx context.Context, hash string) ([]byte, error)

// reader reads bundles once, and remembers what many questions have in common: cars as
// long as it lives, catalogues as long as they are asked for. It may be asked from many
// goroutines at once.
type reader struct {
	source Source
	keep   func(ctx context.Context, key string, found any) error // nil: nowhere
	cars   library.Library
	shelf  memory[*shelf]
	others memory[any]
}

// mostOthers is how many files of cars and briefs, and rankings of the centre, are
// remembered: those of 60 cars for 12 caps and 2 goals fit twice. mostShelves is how many
// catalogues are: a shop's of today and of the last time, the centre's, and one more.
const (
	mostOthers  = 4096
	mostShelves = 4
)

func newReader(source Source, keep func(context.Context, string, any) error) *reader {
	return &reader{source: source, keep: keep, shelf: memory[*shelf]{most: mostShelves}, others: memory[any]{most: mostOthers}}
}

// shelf is a catalogue that was read.
type shelf struct {
	*library.Shelf
	name  string         // no other shelf of the reader has it
	likes memory[*shelf] // this one as a state of another
}

// files opens a bundle.
func (l *reader) files(ctx context.Context, b Bundle) (fs.FS, error) {
	content, err := l.source(ctx, b.Hash)
	if err != nil {
		return nil, err
	}
	return unpack(content)
}

// located puts the name of a bundle before those of its files in messages.
func located(b Bundle, report *catalog.Report) error {
	for i := range report.Problems {
		p := &report.Problems[i]
		if path.Base(b.Name) != p.Where.File {
			p.Where.File = path.Join(b.Name, p.Where.File)
		}
	}
	return report.Err()
}

// catalogue opens that of a bundle.
func (l *reader) catalogue(ctx context.Context, b Bundle) (*shelf, error) {
	return l.shelf.of(b.Hash, func() (*shelf, error) {
		files, err := l.files(ctx, b)
		if err != nil {
			return nil, err
		}
		c, report := catalog.LoadFS(files, []string{"."})
		return &shelf{Shelf: l.cars.Shelf(c), name: b.Hash, likes: memory[*shelf]{most: 2}}, located(b, report)
	})
}

// vehicles are the cars of some bundles.
func (l *reader) vehicles(ctx context.Context, bundles []Bundle) (all []catalog.Vehicle, err error) {
	for _, b := range bundles {
		some, err := l.others.of("cars "+b.Hash, func() (any, error) {
			files, err := l.files(ctx, b)
			if err != nil {
				return nil, err
			}
			some, report := catalog.LoadVehiclesFS(files, ".")
			return some, located(b, report)
		})
		if err != nil {
			return nil, err
		}
		all = append(all, some.([]catalog.Vehicle)...)
	}
	return all, nil
}

// brief is that of a bundle, or one of defaults.
func (l *reader) brief(ctx context.Context, g *Group, q Question) (catalog.Brief, error) {
	if len(g.Briefs) == 0 {
		return catalog.DefaultBrief(), nil
	}
	b := g.Briefs[q.Brief]
	brief, err := l.others.of("brief "+b.Hash, func() (any, error) {
		files, err := l.files(ctx, b)
		if err != nil {
			return nil, err
		}
		entries, err := fs.ReadDir(files, ".")
		if err != nil || len(entries) != 1 {
			return nil, fmt.Errorf("%s: a brief is one file: %w", b.Name, err)
		}
		brief, report := catalog.LoadBriefFS(files, entries[0].Name())
		return brief, located(b, report)
	})
	if err != nil {
		return catalog.Brief{}, err
	}
	return brief.(catalog.Brief), nil
}

// as is the shelf as a state of another: with the cards of that one, whose prices,
// stocks and shops differ. Nil where more than that differs, or a part is new.
func (s *shelf) as(base *shelf) *shelf {
	like, _ := s.likes.of(base.name, func() (*shelf, error) {
		c := s.Catalogue
		if c.Currency != base.Catalogue.Currency || !reflect.DeepEqual(plainDeals(c), plainDeals(base.Catalogue)) || !reflect.DeepEqual(plainShops(c), plainShops(base.Catalogue)) {
			return nil, nil
		}
		here := make(map[string]*catalog.Part, len(c.Parts))
		for _, p := range c.Parts {
			here[p.SKU] = p
		}
		var changed []*catalog.Part
		for _, p := range base.Catalogue.Parts {
			q := *p
			at := here[p.SKU]
			if delete(here, p.SKU); at == nil { // not sold here
				q.Stock, q.Offers = 0, nil
			} else if q.Price, q.Priced, q.Stock, q.Store, q.Offers = at.Price, at.Priced, at.Stock, at.Store, at.Offers; !reflect.DeepEqual(plain(*at), plain(q)) {
				return nil, nil
			}
			if q.Price != p.Price || q.Priced != p.Priced || q.Stock != p.Stock || q.Store != p.Store || !slices.EqualFunc(q.Offers, p.Offers, sameOffer) {
				changed = append(changed, &q)
			}
		}
		if len(here) > 0 {
			return nil, nil
		}
		return &shelf{Shelf: base.With(base.Catalogue.With(changed...)), name: s.name + " as " + base.name}, nil
	})
	return like
}

func sameOffer(a, b catalog.Offer) bool {
	return a.Store == b.Store && a.Price == b.Price && a.Stock == b.Stock
}

// plain is a part without where it stands, and without its offers.
func plain(p catalog.Part) catalog.Part {
	p.Where, p.Keys, p.Offers = catalog.Position{}, nil, nil
	return p
}

func plainDeals(c *catalog.Catalogue) (all []catalog.Deal) {
	for _, d := range c.Deals {
		deal := *d
		deal.Where, deal.Keys = catalog.Position{}, nil
		deal.Parts = append([]catalog.Mention(nil), deal.Parts...)
		for i := range deal.Parts {
			deal.Parts[i].Where = catalog.Position{}
		}
		all = append(all, deal)
	}
	return all
}

func plainShops(c *catalog.Catalogue) (all []catalog.Store) {
	for _, s := range c.Shops {
		shop := *s
		shop.Where = catalog.Position{}
		all = append(all, shop)
	}
	return all
}

// memory keeps the last few of what was made, and makes each once.
type memory[T any] struct {
	most  int
	mutex sync.Mutex
	known map[string]*list.Element
	order list.List
}

type made[T any] struct {
	key   string
	mutex sync.Mutex
	done  bool
	value T
	err   error
}

// of is what is kept under a key, or else made. A context that ended, or a fault of the
// program, is forgotten.
func (m *memory[T]) of(key string, work func() (T, error)) (T, error) {
	m.mutex.Lock()
	if m.known == nil {
		m.known = map[string]*list.Element{}
	}
	at := m.known[key]
	if at == nil {
		at = m.order.PushFront(&made[T]{key: key})
		m.known[key] = at
		if m.order.Len() > m.most {
			last := m.order.Back()
			delete(m.known, last.Value.(*made[T]).key)
			m.order.Remove(last)
		}
	}
	m.order.MoveToFront(at)
	m.mutex.Unlock()
	one := at.Value.(*made[T])
	one.mutex.Lock()
	defer one.mutex.Unlock()
	if !one.done {
		if one.value, one.err = work(); !passing(one.err) {
			one.done = true
		}
	}
	return one.value, one.err
}

// passing says that an error is not about what was asked: asked again, there may be an
// answer.
func passing(err error) bool {
	var fault *parallel.Fault
	return err != nil && (errors.Is(err, context.Canceled) || errors.Is(err, context.DeadlineExceeded) || errors.As(err, &fault) || errors.Is(err, errAway))
}

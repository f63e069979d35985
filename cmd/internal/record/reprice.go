package record

import (
	"slices"

	"loudfor/catalog"
	"loudfor/catalog/prices"
	"loudfor/cmd/internal/reprice"
	"loudfor/model/air"
	"loudfor/optimizer"
)

// RepriceSchema names the shape of the answer of "reprice".
const RepriceSchema = "loudfor/reprice/1"

// Reprice is the answer of "reprice", for one brief or for a job book.
type Reprice struct {
	Schema  string `json:"schema"`
	Changed bool   `json:"changed" doc:"whether any answer changed, or is predicted otherwise; the exit status is 4 then"`
	Origin
	Answers []Repriced `json:"answers" doc:"one for the brief, or for each job of the book"`
}

// Repriced is what new prices do to one answer.
type Repriced struct {
	Job       int64         `json:"job,omitempty" doc:"of the job book; job, name and customer are left out where there is none"`
	Name      string        `json:"name,omitempty" doc:"of the job"`
	Customer  string        `json:"customer,omitempty" doc:"of the job"`
	Error     string        `json:"error,omitempty" doc:"why the job could not be run again; the rest means nothing then"`
	Currency  string        `json:"currency,omitempty" doc:"of the sums"`
	Changed   bool          `json:"changed" doc:"another best build, or another price of it"`
	Searched  bool          `json:"searched" doc:"false: proved without a search"`
	Otherwise bool          `json:"predicted_otherwise,omitempty" doc:"true where this program predicts or prices what was quoted otherwise; else left out"`
	Old       *Build        `json:"old" doc:"the best build before, as for pick; null: there is none"`
	New       *Build        `json:"new" doc:"the best build after; its difference is to the old one"`
	OldNow    *Amount       `json:"old_costs_now,omitempty" doc:"the old build at the new prices"`
	OverCap   *Amount       `json:"old_over_cap,omitempty" doc:"by how much that is above the cap"`
	Gone      []string      `json:"old_unavailable,omitempty" doc:"what of it cannot be bought"`
	Changes   []PriceChange `json:"changes" doc:"what the lists changed; others: what other shops take; matters: whether the change, made or undone alone, changes the answer, left out where that was not looked at (most of a whole job book's)"`

	BuiltBoxes []Box `json:"built_boxes,omitempty" doc:"as for pick: boxes of the two builds, at the new prices; left out where they have none"`
}

// PriceChange is one part whose price, stock or shop is another.
type PriceChange struct {
	SKU     string `json:"sku"`
	Old     Offer  `json:"old"`
	New     Offer  `json:"new"`
	Date    string `json:"date,omitempty"`
	Where   string `json:"where,omitempty"`
	Matters *bool  `json:"matters,omitempty"`
}

// Offer is what a part costs, where, and how many there are; what is not
// stated is left out.
type Offer struct {
	Price *Amount `json:"price,omitempty"`
	Store string  `json:"store,omitempty"`
	Stock *int    `json:"stock,omitempty"`

	Others []Offer `json:"others,omitempty"` // what other shops take
}

// OfReprice is the document of a reprice.
func OfReprice(from Origin, results []reprice.Result) Reprice {
	doc := Reprice{Schema: RepriceSchema, Origin: from, Answers: []Repriced{}}
	for _, r := range results {
		one := ofRepriced(r)
		doc.Changed = doc.Changed || one.Changed || one.Otherwise
		doc.Answers = append(doc.Answers, one)
	}
	return doc
}

func ofRepriced(r reprice.Result) Repriced {
	one := Repriced{Job: r.Job, Name: r.Name, Customer: r.Customer, Changes: []PriceChange{}}
	if r.Err != nil {
		one.Error = r.Err.Error()
		return one
	}
	one.Currency, one.Changed, one.Searched, one.Otherwise = r.Problem.Brief.Cap.Currency, r.Changed, r.Searched, r.Otherwise
	one.Old, one.New = repricedBuild(r.Before), repricedBuild(r.After)
	if one.New != nil && one.Old != nil && r.Changed {
		one.New.Difference = difference(r.After.Difference)
	}
	if r.Before != nil {
		one.OldNow, one.Gone = amount(r.Now), r.Gone
		if r.Over.Minor > 0 {
			one.OverCap = amount(r.Over)
		}
	}
	for _, b := range []*optimizer.Build{r.After, r.Before} {
		if b == nil || r.Boxes == nil {
			continue
		}
		if box := r.Boxes.Of(b); box != nil && !slices.ContainsFunc(one.BuiltBoxes, func(known Box) bool { return known.SKU == box.Part.SKU }) {
			one.BuiltBoxes = append(one.BuiltBoxes, ofBuilt(box, air.At(r.Problem.Brief.Celsius)))
		}
	}
	for _, c := range r.Changes {
		change := PriceChange{SKU: c.SKU, Old: ofOffers(c.Old), New: ofOffers(c.New), Date: c.Date.String()}
		if c.Where != (catalog.Position{}) {
			change.Where = c.Where.String()
		}
		if matters := slices.Contains(r.Matters, c.SKU); matters || r.Complete {
			change.Matters = &matters
		}
		one.Changes = append(one.Changes, change)
	}
	return one
}

func repricedBuild(b *optimizer.Build) *Build {
	if b == nil {
		return nil
	}
	doc := ofBuild(*b)
	doc.Rank, doc.Difference = 1, nil
	return &doc
}

func ofOffers(o prices.Offers) Offer {
	doc := ofOffer(o.Offer)
	for _, other := range o.Others {
		doc.Others = append(doc.Others, ofOffer(other))
	}
	return doc
}

func ofOffer(o prices.Offer) (doc Offer) {
	if o.Priced {
		doc.Price = amount(o.Price)
	}
	if o.Stock != catalog.Unlimited {
		doc.Stock = &o.Stock
	}
	doc.Store = o.Store
	return doc
}

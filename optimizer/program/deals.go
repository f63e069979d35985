package program

import (
	"fmt"

	"loudfor/catalog"
	"loudfor/optimizer/linear"
	"loudfor/optimizer/pricing"
)

// Deals in the program: how often each is taken, and what it takes off the sum.
// A piece is in one deal at most, so of each part the deals together ask for no
// more pieces than are bought. Owned pieces are used up before one is bought, as
// the search has it: else the program would buy what the customer owns, for the
// sake of a set. Nothing forces a deal to be taken: the solver takes what saves.

func (w *wording) deals() {
	asked := make(map[*pricing.Item][]linear.Term)
	note := "deals from so many pieces on"
	for i, o := range w.t.Deals {
		if !w.within(o) {
			continue
		}
		name, words := fmt.Sprintf("d%d", i+1), fmt.Sprintf("deal %q", o.Terms.Name)
		times := w.p.Add(linear.Variable{Name: name, Kind: linear.Whole, Most: int64(min(o.Times, w.mostPieces())), Note: words + ", how often"})
		w.pay(times, -o.Saving)
		it := o.Uses[0].Item
		switch d := o.Terms; d.Form {
		case catalog.DealSet:
			for _, u := range o.Uses {
				asked[u.Item] = append(asked[u.Item], linear.Term{Variable: times, Factor: int64(u.Count)})
			}
		case catalog.DealEvery:
			asked[it] = append(asked[it], linear.Term{Variable: times, Factor: int64(d.Every)})
		case catalog.DealFrom:
			on := w.p.Add(linear.Variable{Name: name + "_on", Note: words + ", whether"})
			pieces := w.p.Add(linear.Variable{Name: name + "_pcs", Kind: linear.Whole, Most: int64(w.mostPieces()), Note: words + ", on how many pieces"})
			asked[it] = append(asked[it], one(pieces))
			w.p.Bind(linear.Row{Name: name + "_from", Note: note, Relation: linear.AtLeast,
				Terms: []linear.Term{one(pieces), {Variable: on, Factor: -int64(d.From)}}})
			w.p.Bind(linear.Row{Name: name + "_none", Relation: linear.AtMost,
				Terms: []linear.Term{one(pieces), {Variable: on, Factor: -int64(w.mostPieces())}}})
			saves := []linear.Term{one(times), minus(pieces)}
			if !d.All && d.From > 1 {
				saves = append(saves, linear.Term{Variable: on, Factor: int64(d.From - 1)})
			}
			w.p.Bind(linear.Row{Name: name + "_save", Relation: linear.AtMost, Terms: saves})
			note = ""
		}
	}
	w.ownedFirst()
	note = "a piece is in one deal at most, and owned pieces in none"
	for _, c := range w.s.parts {
		if terms := asked[c.item]; terms != nil {
			w.p.Bind(linear.Row{Name: "deals_" + c.name, Note: note, Relation: linear.AtMost, Terms: append(terms, minus(c.bought))})
			note = ""
		}
	}
}

// ownedFirst keeps pieces from being bought while owned ones lie idle; without a
// deal that never pays.
func (w *wording) ownedFirst() {
	note := "nothing is bought of a part in a deal while an owned piece lies idle"
	for _, c := range w.s.parts {
		if !c.item.Dealt || c.bought == absent || c.owned == absent {
			continue
		}
		buys := w.p.Add(linear.Variable{Name: c.name + "_buy", Note: c.item.Part.SKU + ", whether any is bought"})
		w.p.Bind(linear.Row{Name: "buys_" + c.name, Note: note, Relation: linear.AtMost,
			Terms: []linear.Term{one(c.bought), {Variable: buys, Factor: -w.p.Variables[c.bought].Most}}})
		w.p.Bind(linear.Row{Name: "idle_" + c.name, Relation: linear.AtLeast,
			Terms: []linear.Term{one(c.owned), {Variable: buys, Factor: -w.p.Variables[c.owned].Most}}})
		note = ""
	}
}

// within says whether all parts of an offer can be bought in the program.
func (w *wording) within(o *pricing.Deal) bool {
	for _, u := range o.Uses {
		at, known := w.of[u.Item]
		if !known || w.s.parts[at].bought == absent {
			return false
		}
	}
	return true
}

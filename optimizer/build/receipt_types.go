package build

import (
	"loudfor/catalog"
)

// AppliedDeal is a deal that a build's price contains.
type AppliedDeal struct {
	Name   string
	Times  int           // sets, or pieces at the lower price
	Saving catalog.Money // of all of them, before tax
}

// LabourLine is work that a build's price contains.
type LabourLine struct {
	Name  string
	Count int // pieces, or 1 for the build
	Each  catalog.Money
	Cost  catalog.Money // of all of it, before tax
}

// TaxLine is all that is taxed at one rate.
type TaxLine struct {
	PPM int64 // millionths
	Sum catalog.Money
	// Tax is rounded so that the taxes of all lines add up to the one rounding
	// of the total: each is the rounded tax of the lines so far less that of
	// the lines before.
	Tax catalog.Money
}

// Purchase says how many pieces of a line are bought where.
type Purchase struct {
	Store string
	Count int
	Each  catalog.Money
}

// Purchases says where the pieces that are bought come from: one entry for each
// shop, none where all are owned.
func (l *Line) Purchases() []Purchase {
	n := l.Count - l.Owned
	if n <= 0 || len(l.From) > 0 {
		return l.From
	}
	return []Purchase{{Store: l.Part.Store, Count: n, Each: l.Part.Price}}
}

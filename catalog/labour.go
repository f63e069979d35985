package catalog

import (
	"slices"
	"strings"
)

// Work is sold by the piece or by the job, and is part of what everything may
// cost.

// Labour is one line of work: its price for each piece of a kind, or once for
// a build.
type Labour struct {
	Name  string
	Price Money
	Per   Kind // KindCount: once a build
	// Installed counts the pieces that the customer owns as well; else only
	// those that are bought.
	Installed bool
	TaxPPM    int64
	Taxed     bool // the line states TaxPPM itself; else the brief's for labour
	Where     Position
}

// LabourLines are the lines of a vehicle and of a brief; a line of the brief
// takes the place of one of the same name.
func LabourLines(b *Brief, v *Vehicle) []Labour {
	out := slices.DeleteFunc(slices.Clone(v.Labour), func(l Labour) bool {
		return slices.ContainsFunc(b.Labour, func(m Labour) bool { return strings.EqualFold(l.Name, m.Name) })
	})
	return append(out, b.Labour...)
}

// TaxOn is the tax on parts of a kind, in millionths.
func (b *Brief) TaxOn(k Kind) int64 {
	if ppm, ok := b.TaxByKind[k]; ok {
		return ppm
	}
	return b.TaxPPM
}

// TaxOnLabour is the tax on a line of work, in millionths.
func (b *Brief) TaxOnLabour(l *Labour) int64 {
	switch {
	case l.Taxed:
		return l.TaxPPM
	case b.LabourTax != nil:
		return *b.LabourTax
	}
	return b.TaxPPM
}

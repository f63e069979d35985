// Package versus is a comparison of builds that stand side by side in one car:
// what it holds, for those that write it as a page and as JSON.
//
//	v := versus.Versus{Rivals: rivals, Here: builds}
//	for _, c := range versus.Controls {
//		fmt.Println(c.Name, c.Has(v.Here[0]))
//	}
//
// Limit: it only holds the figures; package optimizer makes them.
package versus

import (
	"loudfor/catalog"
	"loudfor/optimizer"
)

// Rival is one of the builds of a comparison.
type Rival struct {
	Name  string // as the command line names it
	Parts []catalog.Mention
	Mode  string
	Load  float64 // ohm
}

// Spot is where a meter can be, and in which state the car, with what each
// build does there.
type Spot struct {
	Place, Openings string
	Builds          []optimizer.Build
}

// Versus is a comparison. Differences are to the first build.
type Versus struct {
	Rivals []Rival
	Here   []optimizer.Build // at the brief's place
	Spots  []Spot            // every place and every opening; none on open ground
}

// Package workshop lets the search consider boxes that the shop builds itself:
// which box, of which sheet, for which driver, and what it costs.
//
//	shop, err := workshop.Stock(ctx, problem)
//	if err != nil {
//		return err
//	}
//	problem.Catalogue = shop.Catalogue // the ready-made boxes and the built ones
//	r, err := optimizer.Pick(ctx, problem)
//	if b := shop.Of(&r.Builds[0]); b != nil {
//		b.Joinery.Panels // the cut list of the winner's box
//	}
//
// Make works out one box that a build file describes.
//
// # How it is searched
//
// A built box is made an ordinary enclosure: its price is that of the material
// and the work, its volume, port and outside are those of the joinery. So the
// exact search ranks it against every ready-made box without knowing that it is
// built, and its proof and its recheck hold for the catalogue with it.
//
// What is continuous (volume, width and length of the port) becomes a choice of
// parts in two steps.
//
//  1. For every driver and number of drivers worth it, a grid of sealed and
//     vented boxes is worked out, each as a carpenter would build it, and
//     predicted with a few amplifiers from the weakest to the strongest that
//     the cap has room for. What is louder than all that is no dearer goes into
//     the catalogue.
//  2. The search ranks builds; for the first few of them the box is refined for
//     the very amplifier, cable and money of the build: a finer grid, then
//     Nelder and Mead's simplex from its best points (gonum's optimize), then
//     whole millimetres. The refined boxes go into the catalogue, and it is
//     ranked again, until the best build gains less than Tolerance.
//
// # What exactness then means
//
// Of the catalogue with the boxes in it, the ranking is proved as ever. Of all
// boxes that could be built it is not: no bound over volumes and ports is
// computed. For the winner's own driver, amplifier and money its box is within
// GridTolerance of the best of a fine grid (a test holds this); another driver
// with a box cut to its own amplifier is missed only if the grid's box for it
// falls behind further than its refinement would win back.
//
// # Price
//
// Material is paid for by whole sheets, each box nested by itself, or by the
// area where the sheet says so: an offcut is worth nothing until somebody buys
// it. Sheets that the customer owns are free. Work is paid for by the hour,
// rounded half up to the minor unit. A built box is sold as an enclosure, so the
// whole of its price bears the tax on enclosures, and labour lines for
// enclosures apply to it.
//
// # Limits
//
// Cuboids of package joinery with a slot or sealed; the boxes of a build are
// alike. Grids are of boxes that stand alone in the space; two of them are
// ranked where they happen to fit.
package workshop

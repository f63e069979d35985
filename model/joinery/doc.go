// Package joinery makes boxes that a carpenter can build: from an outside size,
// a sheet's thickness and a port to panels, volumes, a cut list and its plan on
// stock sheets.
//
//	d := joinery.Design{
//		Outside: joinery.Size{0.60, 0.38, 0.36}, Thickness: 0.018,
//		Drivers: 1, Mount: joinery.Mount{Size: 0.3048, Cutout: 0.28, Depth: 0.14},
//		Slot: 0.045, PortLength: 0.52,
//	}
//	box, err := d.Build()
//	if err != nil {
//		return err // names the number that does not fit
//	}
//	box.Enclosure // what package enclosure predicts with
//	plan, err := joinery.Nest(box.Panels, joinery.Stock{Length: 2.44, Width: 1.22, Kerf: 0.003})
//
// Draw finds the outside size for an inside volume and proportions within a
// space.
//
// # The box
//
// A cuboid with butt joints: front and back cover everything, top and bottom lie
// between them over the whole width, the sides stand between all four. So no
// panel needs any but straight cuts, and the inside is the outside less two
// thicknesses each way. The drivers sit in a row in the front. A slot port runs
// along the right side over the whole height, and where it is too long for
// that, on along the back; a round port is a tube in the front, right of the
// drivers. Ring braces part the width.
//
// Coordinates run from the inside lower left front corner, seen from the front:
// x to the right, y to the back, z up. Lengths in m, volumes in m3.
//
// # Limits
//
// Cuboids only; one thickness for all panels; one port; no lining, no double
// front. What bolts on from outside (a grille) is not looked at. Openings and
// rings are cut out of whole panels: what falls out is waste.
package joinery

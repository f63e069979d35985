package catalog

import (
	"slices"

	"loudfor/catalog/units"
	"loudfor/model/cabin"
)

// A place of a brief is a name that its vehicle knows, or a point in the car:
// "120 40 90 cm" from the front, from the left and from the floor, as a
// vehicle file writes its own places. A point becomes a place of the vehicle
// under the words that the brief uses for it, so that nothing further on has
// to know where places come from.

// placed is the vehicle with the brief's place among its own; known is false
// when the words are neither a name of a place nor a point. err says why a
// point cannot be in the car.
func (b *Brief) placed(v Vehicle) (with Vehicle, known bool, err error) {
	if _, ok := v.Body.Place(b.Place); ok {
		return v, true, nil
	}
	const coordinates = 3
	three, bad := units.Lengths(b.Place, coordinates)
	if bad != nil {
		return v, false, nil
	}
	p := cabin.Point{X: three[0].SI, Y: three[1].SI, Z: three[2].SI}
	if err := v.Body.Cavity.CheckPlace(p); err != nil {
		return v, true, err
	}
	v.Body.Places = append(slices.Clip(v.Body.Places), cabin.NamedPlace{Name: b.Place, Point: p})
	return v, true, nil
}

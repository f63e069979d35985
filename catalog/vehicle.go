package catalog

import (
	"fmt"

	"loudfor/model/cabin"
)

// What nobody stated about a car is taken from its body style and said to be
// assumed. The supply figures are typical of cars of the size (common
// practice, no source); a builder reads the alternator's label instead.

// assumedSupply is one row of what is assumed for a body style.
type assumedSupply struct {
	style             string
	alternator, cable float64
	space             Size3
}

var assumedSupplies = []assumedSupply{
	{"small sedan", 70, 4.5, Size3{0.95, 0.45, 0.50}},
	{"sedan", 90, 5, Size3{1.00, 0.55, 0.50}},
	{"small hatch", 70, 4, Size3{0.90, 0.40, 0.50}},
	{"wagon", 90, 5, Size3{1.00, 0.70, 0.60}},
	{"compact SUV", 110, 4.5, Size3{1.00, 0.60, 0.65}},
	{"SUV", 130, 5.5, Size3{1.05, 0.80, 0.70}},
	{"single-cab pickup", 110, 3, Size3{1.30, 0.25, 0.55}},
	{"van", 130, 5.5, Size3{1.20, 1.00, 1.00}},
}

// otherwise is assumed for a body that is not in the table.
var otherwise = assumedSupply{"", 90, 5, Size3{1.00, 0.55, 0.50}}

// assumedStandby is the current that a car takes with the engine running and
// the lights and the blower on, A (common practice, no source).
const assumedStandby = 30

// OpenField is no car: a box on open ground.
func OpenField() Vehicle {
	return Vehicle{
		Name: OpenFieldName, OpenField: true,
		Body:       cabin.Body{Name: OpenFieldName},
		Alternator: otherwise.alternator, Standby: assumedStandby, CableRun: otherwise.cable,
		Assumed: []string{"half space, 1 m from the box", supplyWords(otherwise.alternator, assumedStandby)},
	}
}

// FromBody makes a vehicle of a body style, with an assumed supply and space.
func FromBody(body cabin.Body) Vehicle {
	v := Vehicle{Name: body.Name, Body: body, Assumed: append([]string(nil), body.Assumed...)}
	v.assume(body.Name)
	return v
}

// assume fills in what is not stated.
func (v *Vehicle) assume(style string) {
	row := otherwise
	for _, s := range assumedSupplies {
		if s.style == style {
			row = s
		}
	}
	if v.Alternator == 0 {
		v.Alternator = row.alternator
		v.Assumed = append(v.Assumed, fmt.Sprintf("an alternator of %g A", v.Alternator))
	}
	if v.Standby == 0 {
		v.Standby = assumedStandby
		v.Assumed = append(v.Assumed, fmt.Sprintf("the car itself takes %g A", v.Standby))
	}
	if v.CableRun == 0 {
		v.CableRun = row.cable
		v.Assumed = append(v.Assumed, fmt.Sprintf("%g m of cable from the battery to the boot", v.CableRun))
	}
	if v.Space == (Size3{}) {
		v.Space = row.space
		v.Assumed = append(v.Assumed, fmt.Sprintf("%.0f x %.0f x %.0f cm free for boxes", 100*v.Space.Width, 100*v.Space.Depth, 100*v.Space.Height))
	}
}

func supplyWords(alternator, standby float64) string {
	return fmt.Sprintf("an alternator of %g A, of which the car takes %g A", alternator, standby)
}

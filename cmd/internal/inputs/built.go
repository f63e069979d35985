package inputs

import (
	"context"
	"errors"

	"loudfor/catalog"
	"loudfor/optimizer"
	"loudfor/optimizer/workshop"
)

// Boxes that are built become parts of the catalogue before anything is asked
// of it: the one that a build file describes, or those that the workshops could
// build for a brief. So every command knows them, and means the same.

// describe makes the box that a build file describes.
func (j *Job) describe(all *catalog.Report) error {
	if j.Built == nil {
		return nil
	}
	box, err := workshop.Make(j.Catalogue, &j.Brief, *j.Built)
	var fault *workshop.Fault
	switch {
	case errors.As(err, &fault):
		all.Add(j.BuiltProblem(fault.Key, fault.Summary, fault.Detail))
		return all.Err()
	case err != nil:
		return err
	}
	j.Box, j.Catalogue = box, j.Catalogue.With(box.Part)
	return nil
}

// BuildBoxes works out the boxes that the workshops could build for the brief
// and puts them into the catalogue.
func (j *Job) BuildBoxes(ctx context.Context, workers int) error {
	shop, err := workshop.Stock(ctx, optimizer.Problem{Catalogue: j.Catalogue, Brief: j.Brief, Vehicle: j.Vehicle, Workers: workers})
	if err != nil {
		return err
	}
	j.Shop, j.Catalogue = shop, shop.Catalogue
	return nil
}

package inputs

import (
	"loudfor/catalog"
)

// Shelf is what can be read once and asked many times: the parts, every car,
// and the brief that stands for all questions that name no other. A page that
// answers one budget after another reads its files when they change, and not
// at every move.
type Shelf struct {
	Catalogue *catalog.Catalogue
	Vehicles  []catalog.Vehicle // of the files; body styles are known besides
	Brief     catalog.Brief
	Invented  bool            // the parts come from the demo
	Remarks   *catalog.Report // what is odd but bearable
}

// LoadShelf reads all files of a request, whose Build is not used. As in Load
// everything that is wrong comes back in one error, the brief held against the
// catalogue included.
func LoadShelf(r Request) (Shelf, error) {
	r.Build = ""
	r = r.Settled()
	job, err := Load(r)
	if err != nil {
		return Shelf{}, err
	}
	// The cars were read a moment ago without an error, and their remarks are
	// among the job's.
	vehicles := r.vehicles(&catalog.Report{})
	return Shelf{Catalogue: job.Catalogue, Vehicles: vehicles, Brief: job.Brief, Invented: job.Invented, Remarks: job.Remarks}, nil
}

// Job holds another brief against the shelf.
func (s *Shelf) Job(b catalog.Brief) (Job, error) {
	vehicle, report := catalog.CheckBrief(b, s.Catalogue, s.Vehicles)
	report.Sort(0)
	job := Job{BuildFile: catalog.BuildFile{Brief: b}, Catalogue: s.Catalogue, Vehicle: vehicle, Invented: s.Invented, Remarks: report}
	return job, report.Err()
}

package inputs

import (
	"loudfor/catalog"
)

// LoadBuilds reads given builds that are to stand in a job's car: of each file
// only the parts and their hookup count, the rest is the job's brief. Every
// mistake of every file comes back in one error. Boxes that the files have
// built go into the job's catalogue, so each needs a SKU of its own.
func LoadBuilds(r Request, job *Job, names []string) ([]catalog.BuildFile, error) {
	all := &catalog.Report{}
	var builds []catalog.BuildFile
	for _, name := range names {
		r := r
		r.Build = name
		f, err := r.file(all)
		if err != nil {
			return nil, err
		}
		if all.Err() == nil {
			f.Brief.Vehicle, f.Brief.Place, f.Brief.Openings = job.Vehicle.Name, job.Brief.Place, job.Brief.Openings
			own := Job{BuildFile: f, Catalogue: job.Catalogue}
			if err := own.describe(all); err != nil && all.Err() == nil {
				return nil, err
			}
			job.Catalogue = own.Catalogue
			f.Parts = job.Catalogue.Resolve(f.Parts)
			_, report := catalog.CheckBuild(f, job.Catalogue, []catalog.Vehicle{job.Vehicle})
			all.Merge(report)
			f.Brief = job.Brief
		}
		builds = append(builds, f)
	}
	all.Sort(0)
	return builds, all.Err()
}

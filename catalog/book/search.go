package book

import (
	"slices"
	"strings"
)

// Search says which jobs are wanted. Empty fields want all.
type Search struct {
	Word  string // of customer, job, car, note, or a part of the latest quote
	State State
	// Called tells what else a part is called than its SKU; nil: nothing.
	Called func(sku string) string
}

// Among leaves the jobs that a search wants, whatever the case of its letters;
// several words have to be there all.
func (s Search) Among(jobs []JobSummary) []JobSummary {
	words := strings.Fields(strings.ToLower(s.Word))
	return slices.DeleteFunc(slices.Clone(jobs), func(j JobSummary) bool {
		if s.State != "" && j.State != s.State {
			return true
		}
		text := strings.ToLower(s.text(&j))
		return slices.ContainsFunc(words, func(w string) bool { return !strings.Contains(text, w) })
	})
}

// text is all that is searched of a job.
func (s Search) text(j *JobSummary) string {
	words := []string{j.Customer, j.Name, j.Vehicle, j.Note}
	if j.Latest != nil {
		for _, l := range j.Latest.Lines {
			words = append(words, l.SKU)
			if s.Called != nil {
				words = append(words, s.Called(l.SKU))
			}
		}
	}
	return strings.Join(words, "\n")
}

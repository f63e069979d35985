package record

import (
	"loudfor/catalog"
	"loudfor/cmd/internal/refresh"
)

// The names of the shapes of "refresh".
const (
	RefreshSchema       = "loudfor/refresh/1"
	RefreshStatusSchema = "loudfor/refresh-status/1"
	EstimateSchema      = "loudfor/estimate/1"
)

// Refresh is the answer of "refresh"; the answers to the jobs are in its results.
type Refresh struct {
	Schema   string          `json:"schema"`
	Results  string          `json:"results" doc:"the file of results, one row a job"`
	Jobs     int             `json:"jobs" doc:"how many there are"`
	Computed int             `json:"computed" doc:"different ones that were not kept already"`
	New      int             `json:"new" doc:"not asked the last time"`
	Changed  int             `json:"changed" doc:"with another build than the last time, or another price of it"`
	Nothing  int             `json:"no_build" doc:"for which no build exists"`
	Failed   int             `json:"failed" doc:"set aside, each with its error in the results; the exit status is 1 then"`
	Dearer   []RefreshDearer `json:"dearer" doc:"what costs more than the last time, the steepest first, at most ten"`
	Wins     []RefreshCount  `json:"wins" doc:"the parts that most answers hold"`
	Empty    []RefreshCount  `json:"shops_without" doc:"the shops with most jobs for which no build exists"`
	Errors   []RefreshCount  `json:"errors" doc:"what went wrong, and how often"`
}

// RefreshDearer is one answer that costs more.
type RefreshDearer struct {
	Shop     string  `json:"shop"`
	Car      string  `json:"car"`
	Brief    string  `json:"brief"`
	Cap      string  `json:"cap"`
	Goal     string  `json:"goal"`
	Place    string  `json:"place"`
	Openings string  `json:"openings"`
	Build    string  `json:"build"`
	Currency string  `json:"currency"`
	Was      *Amount `json:"was"`
	Costs    *Amount `json:"costs"`
}

// RefreshCount is how often something is.
type RefreshCount struct {
	What string `json:"what"`
	N    int    `json:"n"`
}

// OfRefresh is the document of a refresh.
func OfRefresh(s *refresh.Summary) Refresh {
	doc := Refresh{RefreshSchema, s.Results, s.Jobs, s.Computed, s.New, s.Changed, s.Nothing, s.Failed, []RefreshDearer{}, counts(s.Wins), counts(s.Empty), counts(s.Errors)}
	for _, d := range s.Dearer {
		now := catalog.Money{Minor: d.Was.Minor + d.By, Currency: d.Was.Currency}
		doc.Dearer = append(doc.Dearer, RefreshDearer{d.Shop, d.Car, d.Brief, d.Cap, d.Goal, d.Place, d.Openings, d.Build, d.Currency, amount(d.Was), amount(now)})
	}
	return doc
}

func counts(all []refresh.Count) []RefreshCount {
	out := []RefreshCount{}
	for _, c := range all {
		out = append(out, RefreshCount(c))
	}
	return out
}

// RefreshStatus is the answer of "refresh status".
type RefreshStatus struct {
	Schema string `json:"schema"`
	refresh.Status
}

// Estimate is the answer of "refresh --dry-run".
type Estimate struct {
	Schema    string `json:"schema"`
	Shops     int    `json:"shops" doc:"of the plan"`
	Cars      int    `json:"cars" doc:"of the plan"`
	Questions int    `json:"questions" doc:"for each car of each shop"`
	Jobs      int    `json:"jobs" doc:"shops x cars x questions"`
	Kept      int    `json:"kept" doc:"jobs that are answered already"`
	Missing   int    `json:"missing" doc:"different ones that have to be computed"`
	Sampled   int    `json:"sampled" doc:"jobs that were answered to find out"`
	CPU       Figure `json:"cpu_s" doc:"guess of the time of one core for all that is missing, s"`
}

// OfEstimate is its document.
func OfEstimate(e *refresh.Estimate) Estimate {
	return Estimate{EstimateSchema, e.Shops, e.Cars, e.Questions, e.Jobs, e.Kept, e.Missing, e.Sampled, Number(e.CPU.Seconds())}
}

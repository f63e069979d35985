package record

import (
	"strings"

	"loudfor/catalog"
	"loudfor/cmd/internal/solver"
	"loudfor/optimizer"
	every "loudfor/optimizer/audit"
	"loudfor/optimizer/build"
	"loudfor/optimizer/linear"
)

// AuditSchema is the shape of "audit".
const AuditSchema = "loudfor/audit/2"

// Audit is the answer of "audit": the search's answer, what a look at every block
// makes of it, and each solver that was asked. Times are left out, so that the same
// question has the same document.
type Audit struct {
	Schema   string `json:"schema"`
	Currency string `json:"currency"`
	Cap      Amount `json:"cap"`
	Goal     string `json:"goal"`
	Vehicle  string `json:"vehicle"`
	Origin
	Outcome string  `json:"outcome"`
	LevelDB *Figure `json:"level_db,omitempty"`
	Cost    *Amount `json:"cost,omitempty"`
	Parts   []Piece `json:"parts,omitempty"`
	*AuditBlocks
	Drivers  []AuditBest   `json:"drivers,omitempty"`
	Unknowns int           `json:"unknowns,omitempty"`
	Rows     int           `json:"rows,omitempty"`
	Solvers  []AuditSolver `json:"solvers,omitempty"`
	Agree    *bool         `json:"agree,omitempty"` // every solver confirms; left out where none was asked
}

// AuditBlocks is what a look at every block found.
type AuditBlocks struct {
	Verdict string         `json:"verdict"` // confirmed, refuted or not settled
	Blocks  int            `json:"blocks"`
	Settled map[string]int `json:"settled"`
	AsLoud  int            `json:"as_loud"`
	Better  *AuditBuild    `json:"better,omitempty"`
	Fault   string         `json:"fault,omitempty"`
	Left    []string       `json:"left,omitempty"`
	Trusted []string       `json:"trusted"`
}

// AuditBest is the loudest build of one driver; of the driver alone, if there is none.
type AuditBest struct {
	SKU     string  `json:"sku"`
	LevelDB *Figure `json:"level_db,omitempty"`
	Cost    *Amount `json:"cost,omitempty"`
	Parts   []Piece `json:"parts,omitempty"`
}

// AuditBuild is a build that refutes.
type AuditBuild struct {
	LevelDB *Figure `json:"level_db,omitempty"` // left out where any build refutes
	Cost    Amount  `json:"cost"`
	Parts   []Piece `json:"parts"`
}

// AuditSolver is what one solver found.
type AuditSolver struct {
	Name    string  `json:"name"`
	Version string  `json:"version,omitempty"`
	Status  string  `json:"status"` // optimal, infeasible or stopped
	LevelDB *Figure `json:"level_db,omitempty"`
	Cost    *Amount `json:"cost,omitempty"`
	Parts   []Piece `json:"parts,omitempty"`
	Agree   bool    `json:"agree"`
	Error   string  `json:"error,omitempty"`
}

// Piece is a part with how many of it.
type Piece struct {
	SKU   string `json:"sku"`
	Count int    `json:"count"`
}

// OfAudit is the document of an audit.
func OfAudit(b catalog.Brief, v catalog.Vehicle, from Origin, r *optimizer.Result, e *every.Report, drivers []every.Best, p *linear.Program, findings []solver.Finding) Audit {
	doc := Audit{Schema: AuditSchema, Currency: b.Cap.Currency, Cap: money(b.Cap), Goal: goal(b.Goal), Vehicle: v.Name, Origin: from, Outcome: r.Outcome.String()}
	if len(r.Builds) > 0 {
		best := &r.Builds[0]
		level, cost := Level(best.Objective), money(best.Cost)
		doc.LevelDB, doc.Cost, doc.Parts = &level, &cost, pieces(build.Mentions(best.Lines))
	}
	if e != nil {
		doc.AuditBlocks = &AuditBlocks{Verdict: e.Verdict.String(), Blocks: e.Blocks, Settled: map[string]int{}, AsLoud: e.Equal, Fault: e.Fault, Left: e.Left, Trusted: every.Trusted()}
		for step, n := range e.Settled {
			doc.Settled[strings.ReplaceAll(every.Step(step).String(), " ", "_")] = n
		}
		if f := e.Better; f != nil {
			doc.Better = &AuditBuild{Cost: money(f.Cost), Parts: pieces(f.Parts)}
			if len(r.Builds) > 0 {
				level := Level(f.Level.DB())
				doc.Better.LevelDB = &level
			}
		}
	}
	for _, d := range drivers {
		one := AuditBest{SKU: d.Driver.SKU}
		if f := d.Found; f != nil {
			level, cost := Level(f.Level.DB()), money(f.Cost)
			one.LevelDB, one.Cost, one.Parts = &level, &cost, pieces(f.Parts)
		}
		doc.Drivers = append(doc.Drivers, one)
	}
	if p != nil {
		doc.Unknowns, doc.Rows = len(p.Variables), len(p.Rows)
	}
	agree := true
	for i := range findings {
		f := &findings[i]
		s := AuditSolver{Name: f.Name, Version: f.Version, Status: f.Status.String(), Agree: f.Agrees(r)}
		switch {
		case f.Fault != nil:
			s.Status, s.Error = linear.Stopped.String(), f.Fault.Error()
		case f.Status == linear.Optimal:
			level, cost := Level(f.Chosen.DB), money(f.Chosen.Cost)
			s.LevelDB, s.Cost = &level, &cost
			s.Parts = pieces(f.Chosen.Parts)
		}
		agree = agree && s.Agree
		doc.Agree = &agree
		doc.Solvers = append(doc.Solvers, s)
	}
	return doc
}

func pieces(list []catalog.Mention) (all []Piece) {
	for _, m := range list {
		all = append(all, Piece{m.SKU, m.Count})
	}
	return all
}

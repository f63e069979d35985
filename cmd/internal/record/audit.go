package record

import (
	"loudfor/catalog"
	"loudfor/cmd/internal/solver"
	"loudfor/optimizer"
	"loudfor/optimizer/linear"
)

// AuditSchema is the shape of "audit".
const AuditSchema = "loudfor/audit/1"

// Audit is the answer of "audit": the search's answer, and each solver's.
// Times are left out, so that the same question has the same document.
type Audit struct {
	Schema   string `json:"schema"`
	Currency string `json:"currency"`
	Cap      Amount `json:"cap"`
	Goal     string `json:"goal"`
	Vehicle  string `json:"vehicle"`
	Origin
	Outcome  string        `json:"outcome"`
	LevelDB  *Figure       `json:"level_db,omitempty"`
	Cost     *Amount       `json:"cost,omitempty"`
	Unknowns int           `json:"unknowns"`
	Rows     int           `json:"rows"`
	Solvers  []AuditSolver `json:"solvers"`
	Agree    *bool         `json:"agree,omitempty"` // every solver confirms; left out where none was asked
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
func OfAudit(b catalog.Brief, v catalog.Vehicle, from Origin, r optimizer.Result, p *linear.Program, findings []solver.Finding) Audit {
	doc := Audit{Schema: AuditSchema, Currency: b.Cap.Currency, Cap: money(b.Cap), Goal: goal(b.Goal), Vehicle: v.Name, Origin: from,
		Outcome: r.Outcome.String(), Unknowns: len(p.Variables), Rows: len(p.Rows), Solvers: []AuditSolver{}}
	if len(r.Builds) > 0 {
		level, cost := Level(r.Builds[0].Objective), money(r.Builds[0].Cost)
		doc.LevelDB, doc.Cost = &level, &cost
	}
	agree := true
	for i := range findings {
		f := &findings[i]
		s := AuditSolver{Name: f.Name, Version: f.Version, Status: f.Status.String(), Agree: f.Agrees(&r)}
		switch {
		case f.Fault != nil:
			s.Status, s.Error = linear.Stopped.String(), f.Fault.Error()
		case f.Status == linear.Optimal:
			level, cost := Level(f.Chosen.DB), money(f.Chosen.Cost)
			s.LevelDB, s.Cost = &level, &cost
			for _, m := range f.Chosen.Parts {
				s.Parts = append(s.Parts, Piece{m.SKU, m.Count})
			}
		}
		agree = agree && s.Agree
		doc.Agree = &agree
		doc.Solvers = append(doc.Solvers, s)
	}
	return doc
}

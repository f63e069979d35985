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
	Outcome string  `json:"outcome" doc:"as for pick"`
	LevelDB *Figure `json:"level_db,omitempty" doc:"of the best build by this program's search: what the goal ranks by; not there when no build exists"`
	Cost    *Amount `json:"cost,omitempty" doc:"of that build, all in"`
	Parts   []Piece `json:"parts,omitempty" doc:"of that build"`
	*AuditBlocks
	Drivers  []AuditBest   `json:"drivers,omitempty" doc:"with --each-driver: the loudest build of each; sku alone where there is none"`
	Unknowns int           `json:"unknowns,omitempty" doc:"size of the integer program; with --solver or --lp"`
	Rows     int           `json:"rows,omitempty" doc:"the same"`
	Solvers  []AuditSolver `json:"solvers,omitempty" doc:"with --solver: what each that is installed found; status: optimal, infeasible, or stopped (perhaps with error), which proves nothing"`
	Agree    *bool         `json:"agree,omitempty" doc:"true where every solver found the same level and price, or that no build exists; not there when none was asked"`
}

// AuditBlocks is what a look at every block found.
type AuditBlocks struct {
	Verdict string         `json:"verdict" doc:"confirmed, refuted or not settled, by a look at every block that fits (a driver, so many times, in so many of one box); it and all to trusted are left out with --lp"`
	Blocks  int            `json:"blocks" doc:"how many fit"`
	Settled map[string]int `json:"settled" doc:"{step: blocks} over_the_cap, no_wiring, itself (cone, coil or port do not stand the level), envelope (of all sources that the money left over buys), one_by_one, as_loud (but no build of it comes before), better, not_settled; they add up to blocks"`
	AsLoud  int            `json:"as_loud" doc:"complete builds as loud and no dearer that were met, it included"`
	Better  *AuditBuild    `json:"better,omitempty" doc:"a build that comes before; only if refuted"`
	Fault   string         `json:"fault,omitempty" doc:"what is wrong with the build itself; only if refuted"`
	Left    []string       `json:"left,omitempty" doc:"why it is not settled, in words"`
	Trusted []string       `json:"trusted" doc:"what a confirmation still rests on, in words"`
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
		doc.LevelDB, doc.Cost, doc.Parts = new(Level(best.Objective)), amount(best.Cost), pieces(build.Mentions(best.Lines))
	}
	if e != nil {
		doc.AuditBlocks = &AuditBlocks{Verdict: e.Verdict.String(), Blocks: e.Blocks, Settled: map[string]int{}, AsLoud: e.Equal, Fault: e.Fault, Left: e.Left, Trusted: every.Trusted()}
		for step, n := range e.Settled {
			doc.Settled[strings.ReplaceAll(every.Step(step).String(), " ", "_")] = n
		}
		if f := e.Better; f != nil {
			doc.Better = &AuditBuild{Cost: money(f.Cost), Parts: pieces(f.Parts)}
			if len(r.Builds) > 0 {
				doc.Better.LevelDB = new(Level(f.Level.DB()))
			}
		}
	}
	for _, d := range drivers {
		one := AuditBest{SKU: d.Driver.SKU}
		if f := d.Found; f != nil {
			one.LevelDB, one.Cost, one.Parts = new(Level(f.Level.DB())), amount(f.Cost), pieces(f.Parts)
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
			s.LevelDB, s.Cost, s.Parts = new(Level(f.Chosen.DB)), amount(f.Chosen.Cost), pieces(f.Chosen.Parts)
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

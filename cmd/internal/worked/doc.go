// Package worked holds systems that handbooks work out by hand against the
// whole way that a user's files take: units, completion of the card, wiring,
// box and open field. It has no code that runs.
//
// The same formulas are tested closer to the circuit in model/bass; here it is
// the files in testdata/worked that have to give the handbook's curve.
//
//	go test ./cmd/internal/worked
package worked

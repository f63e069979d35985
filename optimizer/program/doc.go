// Package program writes the choice of parts as an integer program, for outside solvers
// to check the search.
//
//	s, err := program.Formulate(ctx, lists, 0)
//	chosen := s.Read(solve(s.Loudest()))
//
// The model's levels are not linear in anything, but there are finitely
// many of them: a system is one bass block on one choice of bass amplifiers,
// best wiring, fed through cable of one resistance; its level is tabulated. The
// program then chooses parts under the rules of package optimizer, one
// row for each rule, and one system whose parts they are.
//
// Taken over from what the search stands on: the shelf (what can be had, and for how much),
// the figures of single parts (currents, resistances, what a source gives a
// speaker), and the model. Not taken over: groups, classes, horizons, bounds,
// envelopes, costs to reach, dominance, and the way in which anything is combined.
//
// A program with one column for each of the systems would be too large for
// any solver, so what cannot matter is left out first. Each reduction keeps the
// optimum and its price, by exchange: a solution with what is left out becomes,
// with its substitute, one that is no less loud and no dearer, and keeps every
// rule.
//
//  1. Over the cap: block, amplifiers, the cheapest kit of that resistance, the
//     cheapest source and the cheapest pair together are above the cap.
//  2. Beaten systems: another on the same kits, no dearer, no less loud, drawing
//     no more current, and taking speaker wires if this one does. The
//     substitute's amplifier must be in plenty and not owned, unless it is the
//     same one in the same number, and the beaten one's not named by must; where
//     spare channels drive the front, only systems on the same amplifier compare.
//     Where there are deals, what beats counts at its price without them, and
//     what is beaten at what a build is cheaper without it, at least: every piece
//     that goes spoils one deal at most. This holds for 3 as well.
//  3. Beaten front stages: the same with cost, level, current and speaker wires,
//     among those that ask the same of the source.
//  4. Sources, kits, converters: of those alike in every figure that the rules
//     ask for, the cheapest, and every one in a deal; a kit also must carry no
//     less.
//  5. Below the floor, if one is asked for: systems (and for music front stages)
//     quieter than the floor are in no build that reaches it. A caller who holds
//     the search's answer sets the floor below it: if the solver then finds that
//     very level, nothing that was left out is better; if the answer is wrong, the
//     solver finds another level or none. A system is taken to be below the
//     floor where it is on the best conductor among the kits, or where the block
//     is whatever drives it (bass.Prepared.Ceiling), or where a source that is
//     weaker in nothing is, connected alike. So here, and only here, a law of the
//     model is relied on (a better source or feed never reads lower), and a
//     breach would have to be as large as the floor is below the answer to hide
//     anything.
//  6. For music, bass above the loudest front stage counts as being as loud as
//     that: the lower of the two is the same.
//
// Idle parts: the rules about the front's own amplifier and about blockers are
// in the columns of the front, the one about converters is a row.
//
// The search breaks further ties by pieces and SKUs; the program does not.
package program

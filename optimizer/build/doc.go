// Package build holds what a question to the optimizer and its answer are made
// of: a Problem (a catalogue, a brief, a vehicle), a Build (a complete set of
// parts with its wiring and what it will do), a Result or a LadderResult, the
// Proof that goes with it, and, where nothing can be built, the Requirements
// that block. It computes nothing but what one of them says of itself.
//
// It is apart so that the recheck of a build (package verify), which imports
// this package and nothing else of the optimizer, cannot know anything of the
// search, and so that the parts of the optimizer need not know each other.
//
// Terms:
//
//   - Level: decibels in whole thousandths (StepsPerDB), in which builds are
//     compared. Silent is below every level, Loudest above.
//   - objective: what the brief's goal ranks by, the reading or the balanced
//     level with music.
//   - open: not looked at, by a search that was stopped. Result.OpenBound is a
//     level that nothing open exceeds; LadderResult.OpenFront says it by price.
//   - shop set: shops that one question goes to; see ShopSet.
package build

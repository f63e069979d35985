// Package layout holds the tests of the project's own shape. It has no code
// that runs: its tests read every Go file of the module and fail when
//
//   - an import points against cmd -> optimizer -> catalog -> model,
//   - a package inside the optimizer imports another one that its row of the
//     table of imports does not name,
//   - what lies in a folder called testing is imported by the program,
//   - model reaches for anything of the project outside model,
//   - model or optimizer touches files, the network, the clock, the terminal
//     or chance without a seed,
//   - a top-level folder appears that the design does not know.
//
// Run them alone with
//
//	go test ./cmd/internal/layout
//
// Limits: the files are parsed, not type-checked, so that the tests need
// nothing but the sources; a forbidden function that is passed around under
// another name is not found.
package layout

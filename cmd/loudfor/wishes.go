package main

import (
	"github.com/spf13/cobra"

	"loudfor/cmd/internal/inputs"
)

// wishes are the flags that pick and predict share: where the files are, and
// what overrides the brief.
type wishes struct {
	request inputs.Request
	workers int
	seed    uint64
}

// shelfFlags say where the parts are.
func shelfFlags(cmd *cobra.Command, r *inputs.Request) {
	f := cmd.Flags()
	f.StringArrayVarP(&r.Catalog, "catalog", "c", nil, "file or folder of `parts`; may be given several times (default: those of the folder, else the built-in demo)")
	f.BoolVar(&r.Demo, "demo", false, "the built-in demo, whatever files lie in the folder")
}

// skipFlag says what to do with bad parts.
func skipFlag(cmd *cobra.Command, r *inputs.Request) {
	cmd.Flags().BoolVar(&r.SkipBad, "skip-bad", false, "leave out parts and deals with mistakes, and say which, instead of refusing the catalogue")
}

func (w *wishes) flags(cmd *cobra.Command) {
	f := cmd.Flags()
	r := &w.request
	shelfFlags(cmd, r)
	skipFlag(cmd, r)
	f.StringVar(&r.Vehicles, "vehicles", "", "`file` or folder of vehicles (default: those beside the parts, then the body styles)")
	f.StringVar(&r.Vehicle, "vehicle", "", "`name` of the vehicle, in place of the brief's")
	f.StringVar(&r.Cap, "cap", "", "the most `money` that it may cost, everything included: \"500 USD\" or 500")
	f.StringVar(&r.Goal, "goal", "", "the `goal` to rank by: reading or music")
	f.StringVar(&r.Place, "place", "", "the `place` of the meter: dash, kick panel, headrest ...")
	f.StringVar(&r.Openings, "openings", "", "which `openings` are open: shut, windows open, doors open ...")
	f.StringArrayVar(&r.Own, "own", nil, "a `part` in the customer's hands, which costs nothing: \"HU-OLD\" or \"TM-12V x 2\"; may be repeated")
	f.StringArrayVar(&r.Must, "must", nil, "a `part` that has to be in the build; may be repeated")
	f.StringArrayVar(&r.Never, "never", nil, "a `part` that must not be in the build; may be repeated")
	f.StringVar(&r.Space, "space", "", "`size` that is free for boxes: \"95 x 45 x 50 cm\"")
	f.StringVar(&r.Front, "front", "", "`what` happens to the front speakers: keep, replace or either")
	f.StringVar(&r.Tax, "tax", "", "`rate` on everything: \"7.5 %\"")
	f.IntVar(&w.workers, "workers", 0, "how many `cores` work (0: all); never changes the answer")
	f.Uint64Var(&w.seed, "seed", 1, "`number` that starts the draws behind the bands")
	completeWith(cmd, "vehicle", completeVehicle(r))
	complete(cmd, "front", "keep", "replace", "either")
	for _, flag := range []string{"own", "must", "never"} {
		completeWith(cmd, flag, completeSKU(r))
	}
	complete(cmd, "goal", "reading", "music")
	complete(cmd, "place", "dash", "kick panel", "headrest")
	complete(cmd, "openings", "shut", "windows open", "doors open", "boot open")
}

// complete offers fixed words for a flag to the shell.
func complete(cmd *cobra.Command, flag string, words ...string) {
	completeWith(cmd, flag, cobra.FixedCompletions(words, cobra.ShellCompDirectiveNoFileComp))
}

// check refuses numbers that make no sense on the command line.
func (w *wishes) check(cmd *cobra.Command) error {
	if w.workers < 0 {
		return usageError{text: "--workers is 0 (all cores) or more", command: cmd.CommandPath()}
	}
	return nil
}

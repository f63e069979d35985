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

func (w *wishes) flags(cmd *cobra.Command) {
	f := cmd.Flags()
	r := &w.request
	f.StringArrayVarP(&r.Catalog, "catalog", "c", nil, "file or folder of `parts`; may be given several times (default: the built-in demo)")
	f.StringVar(&r.Vehicles, "vehicles", "", "`file` or folder of vehicles (default: those beside the parts, then the body styles)")
	f.StringVar(&r.Vehicle, "vehicle", "", "`name` of the vehicle, in place of the brief's")
	f.StringVar(&r.Cap, "cap", "", "the most `money` that it may cost, everything included: \"500 USD\" or 500")
	f.StringVar(&r.Goal, "goal", "", "the `goal` to rank by: reading or music")
	f.StringVar(&r.Place, "place", "", "the `place` of the meter: dash, kick panel, headrest ...")
	f.StringVar(&r.Openings, "openings", "", "which `openings` are open: shut, windows open, doors open ...")
	f.IntVar(&w.workers, "workers", 0, "how many `cores` work (0: all); never changes the answer")
	f.Uint64Var(&w.seed, "seed", 1, "`number` that starts the draws behind the bands")
	completeWith(cmd, "vehicle", completeVehicle(r))
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

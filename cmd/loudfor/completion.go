package main

import (
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"loudfor/catalog"
	"loudfor/catalog/demo"
	"loudfor/cmd/internal/inputs"
	"loudfor/model/cabin"
)

// What the shell offers while a command line is typed. Words that stand in
// files are read from the files that the line names already; a file that cannot
// be read offers nothing, since a half-typed line is no place for messages.

// completeDemo offers the demo's files for the first argument, beside those on
// the disk.
func completeDemo(folder string) cobra.CompletionFunc {
	return func(_ *cobra.Command, args []string, typed string) ([]string, cobra.ShellCompDirective) {
		var out []string
		if len(args) == 0 && strings.HasPrefix("demo:", typed[:min(len(typed), len("demo:"))]) {
			for name := range strings.SplitSeq(inputs.DemoNames(folder), ", ") {
				out = append(out, "demo:"+name)
			}
		}
		return out, cobra.ShellCompDirectiveDefault
	}
}

// completeSKU offers the SKUs of the catalogue that the line names, each with
// the name of its part.
func completeSKU(r *inputs.Request) cobra.CompletionFunc {
	return func(*cobra.Command, []string, string) ([]string, cobra.ShellCompDirective) {
		c, report := r.Parts()
		if report.Err() != nil {
			return nil, cobra.ShellCompDirectiveNoFileComp
		}
		out := make([]string, len(c.Parts))
		for i, p := range c.Parts {
			out[i] = cobra.CompletionWithDesc(p.SKU, p.Kind.String()+", "+p.Name)
		}
		return out, cobra.ShellCompDirectiveNoFileComp
	}
}

// completeVehicle offers the vehicles of the line's file, or the demo's, and
// the body styles.
func completeVehicle(r *inputs.Request) cobra.CompletionFunc {
	return func(*cobra.Command, []string, string) ([]string, cobra.ShellCompDirective) {
		vehicles, report := catalog.LoadVehiclesFS(demo.FS, demo.Vehicles)
		if r.Vehicles != "" {
			vehicles, report = catalog.LoadVehicles(r.Vehicles)
		}
		var out []string
		if report.Err() == nil {
			for _, v := range vehicles {
				out = append(out, v.Name)
			}
		}
		for _, b := range cabin.Bodies() {
			if !slices.Contains(out, b.Name) {
				out = append(out, b.Name)
			}
		}
		return out, cobra.ShellCompDirectiveNoFileComp
	}
}

// completeWith registers a completion. A flag that does not exist is a mistake
// in this program.
func completeWith(cmd *cobra.Command, flag string, f cobra.CompletionFunc) {
	if err := cmd.RegisterFlagCompletionFunc(flag, f); err != nil {
		panic(err)
	}
}

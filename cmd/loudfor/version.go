package main

import (
	"fmt"
	"runtime/debug"

	"github.com/spf13/cobra"

	"loudfor/cmd/internal/record"
)

func versionCommand(c *console) *cobra.Command {
	return &cobra.Command{
		Use:   "version",
		Short: "Say which version this is",
		Args:  atMost(0, "no argument"),
		RunE: func(*cobra.Command, []string) error {
			v := version()
			if c.json {
				return c.writeJSON(v)
			}
			text := "loudfor " + v.Version
			if v.Commit != "" {
				text += ", commit " + v.Commit
			}
			_, err := fmt.Fprintf(c.out, "%s, %s\n", text, v.Go)
			return err
		},
	}
}

// version is what the build recorded of itself; nothing has to be kept by hand.
func version() record.Version {
	v := record.Version{Schema: record.VersionSchema, Version: "unknown"}
	info, ok := debug.ReadBuildInfo()
	if !ok {
		return v
	}
	v.Version, v.Go = info.Main.Version, info.GoVersion
	if v.Version == "" {
		v.Version = "(devel)"
	}
	for _, s := range info.Settings {
		switch {
		case s.Key == "vcs.revision":
			v.Commit = s.Value[:min(len(s.Value), 12)]
		case s.Key == "vcs.modified" && s.Value == "true":
			v.Commit += " with changes"
		}
	}
	return v
}

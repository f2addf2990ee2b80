package main

import (
	"fmt"
	"runtime/debug"

	"github.com/spf13/cobra"
)

// version is set by a release build.
var version = "unreleased"

func versionCommand() *cobra.Command {
	return &cobra.Command{
		Use: "version", Short: "the version of this program", Args: exactly(0),
		RunE: func(cmd *cobra.Command, _ []string) error {
			goVersion := "unknown"
			if b, ok := debug.ReadBuildInfo(); ok {
				goVersion = b.GoVersion
			}
			_, err := fmt.Fprintf(cmd.OutOrStdout(), "wellwright %s (%s)\n", version, goVersion)
			return err
		},
	}
}

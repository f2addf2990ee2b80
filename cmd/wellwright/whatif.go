package main

import (
	"fmt"
	"strings"

	"github.com/spf13/cobra"

	"wellwright/plan"
	"wellwright/sheet"
)

func whatifCommand() *cobra.Command {
	var c common
	var coarse bool
	cmd := &cobra.Command{
		Use:   "whatif BOOK input=value...",
		Short: "change an input and see what changes in the answer",
		Long: `whatif answers the book as it is and with the inputs changed, and shows what
changes. A change moves every plausible water in proportion to the likeliest.
Inputs: ` + strings.Join(plan.Inputs(), ", ") + `.

  wellwright whatif alder.yaml iron=6 pump=8gpm`,
		Args: atLeast(2),
	}
	c.addTo(cmd)
	cmd.Flags().BoolVar(&coarse, "coarse", false, "print the first answer, from a few plausible waters and the trains already known")
	cmd.RunE = func(cmd *cobra.Command, args []string) error { return c.whatif(cmd, args[0], args[1:], coarse) }
	return cmd
}

func (c *common) whatif(cmd *cobra.Command, name string, words []string, coarse bool) error {
	changes, bad := plan.ParseChanges(words)
	if len(bad) > 0 {
		return joined(bad)
	}
	d, s, err := c.desk(cmd, name)
	if err != nil {
		return err
	}
	now, err := d.Answer()
	if err != nil {
		return err
	}
	answer := d.With(changes).Answer
	if coarse {
		answer = d.With(changes).Coarse
	}
	then, err := answer()
	if err != nil {
		return err
	}
	if c.json {
		return writeJSON(cmd.OutOrStdout(), then)
	}
	_, err = fmt.Fprint(cmd.OutOrStdout(), sheet.Whatif(words, now, then, s))
	return err
}

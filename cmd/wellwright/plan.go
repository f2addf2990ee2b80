package main

import (
	"fmt"

	"github.com/spf13/cobra"

	"wellwright/plan"
	"wellwright/sheet"
	"wellwright/unit"
)

// answering makes a command that plans a book and prints one part of the answer.
func answering(c common, use, short string, text func(plan.Answer, unit.System) string, no func(plan.Answer) bool) *cobra.Command {
	cmd := &cobra.Command{Use: use, Short: short, Args: exactly(1)}
	c.addTo(cmd)
	cmd.RunE = func(cmd *cobra.Command, args []string) error {
		d, s, err := c.desk(cmd, args[0])
		if err != nil {
			return err
		}
		a, err := d.Answer()
		if err != nil {
			return err
		}
		if c.json {
			err = writeJSON(cmd.OutOrStdout(), a)
		} else {
			_, err = fmt.Fprint(cmd.OutOrStdout(), text(a, s), sheet.Working(a))
		}
		if err == nil && no(a) {
			return errNo
		}
		return err
	}
	return cmd
}

func planCommand() *cobra.Command {
	return answering(common{}, "plan BOOK", "answer a well book whole: health, checks, forms of iron, actions, options, why not",
		sheet.Plan, noOption)
}

func optionsCommand() *cobra.Command {
	return answering(common{}, "options BOOK", "the options and what was not chosen", sheet.Options, noOption)
}

// noOption is true when no train meets every limit, though one is wanted.
func noOption(a plan.Answer) bool {
	for _, x := range a.Actions {
		if x.ID == "do-nothing" {
			return false
		}
	}
	return len(a.Options) == 0
}

func impossible(a plan.Answer) bool {
	for _, c := range a.Checks {
		if c.Verdict == "impossible" {
			return true
		}
	}
	return false
}

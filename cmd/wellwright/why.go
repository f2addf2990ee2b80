package main

import (
	"fmt"
	"strings"

	"github.com/spf13/cobra"

	"wellwright/media"
	"wellwright/sheet"
	"wellwright/stage"
	"wellwright/train"
)

// whyCommand explains any train, in the list or not, and one from somebody
// else's quote.
func whyCommand() *cobra.Command {
	var c common
	cmd := &cobra.Command{
		Use:   "why BOOK TRAIN",
		Short: "explain any train: what it needs, what it has, and which limit fails first",
		Long: `why explains any train, also one that is not in the list or stands in somebody
else's quote. Write the processes in the order the water meets them, with commas:

  wellwright why alder.yaml air-injection-filter,softener

The processes are: ` + strings.Join(processNames(), ", ") + `.

Exit status: 0 it meets every limit in the likeliest water, 1 it does not, 2 bad input.`,
		Args: atLeast(2),
	}
	c.addTo(cmd)
	cmd.RunE = func(cmd *cobra.Command, args []string) error { return c.why(cmd, args[0], args[1:]) }
	return cmd
}

func (c *common) why(cmd *cobra.Command, name string, words []string) error {
	t, err := train.Parse(strings.Join(words, " "))
	if err != nil {
		return fmt.Errorf("why: %w", err)
	}
	d, s, err := c.desk(cmd, name)
	if err != nil {
		return err
	}
	w, err := d.Why(t)
	if err != nil {
		return err
	}
	if c.json {
		err = writeJSON(cmd.OutOrStdout(), w)
	} else {
		_, err = fmt.Fprint(cmd.OutOrStdout(), sheet.Why(w, s))
	}
	if err == nil && !w.Meets {
		return errNo
	}
	return err
}

func processNames() []string {
	var ns []string
	for _, p := range media.Processes() {
		if _, stands := stage.Of(p); stands {
			ns = append(ns, string(p))
		}
	}
	return ns
}

package main

import (
	"fmt"
	"strings"

	"github.com/spf13/cobra"

	"wellwright/book"
	"wellwright/plan"
	"wellwright/sheet"
)

// factorCommand lists, opens and replaces the numbers the answers rest on.
func factorCommand() *cobra.Command {
	var c common
	var file, set, why, on string
	cmd := &cobra.Command{
		Use:   "factor [NAME]",
		Short: "list the factors, open one, or put your own value in its place for one well",
		Long: `factor lists every number the answers rest on, with its kind and source. With a
name, or a part of one, it opens what fits. To replace one for one well, name the book, the value and
the reason; the book keeps it as an entry and every sheet says so ever after:

  wellwright factor softener_iron_allowance --book alder.yaml --set 4 --why "what the resin maker asks"`,
		Args: atMost(1),
	}
	cmd.Flags().BoolVar(&c.json, "json", false, "write as JSON")
	cmd.Flags().StringVar(&file, "book", "", "the book in which the value is replaced, or whose own values are shown")
	cmd.Flags().StringVar(&c.asOf, "as-of", "", "own values as the book stood on a date, YYYY-MM-DD (default: today)")
	cmd.Flags().StringVar(&set, "set", "", "your own value")
	cmd.Flags().StringVar(&why, "why", "", "the reason, printed beside it")
	cmd.Flags().StringVar(&on, "on", "", "date of the entry, 2025-05-31 (default: now)")
	cmd.RunE = func(cmd *cobra.Command, args []string) error {
		if set != "" {
			return replaceFactor(cmd, args, ownValue{file, set, why, on})
		}
		return listFactors(cmd, &c, args, file)
	}
	return cmd
}

func listFactors(cmd *cobra.Command, c *common, args []string, file string) error {
	var p book.Present
	if file != "" {
		var err error
		if p, err = c.present(cmd, file); err != nil {
			return err
		}
	}
	set, reg := p.Factors(), plan.Register()
	var found []sheet.Shown
	for _, n := range reg.Names() {
		f, _ := reg.Find(n)
		if len(args) == 0 || strings.Contains(n, strings.ToLower(args[0])) {
			found = append(found, sheet.Shown{Factor: f, Now: set.In(f)})
		}
	}
	if len(found) == 0 {
		return fmt.Errorf("no factor is called %q; factor without a name lists them all", args[0])
	}
	if c.json {
		return writeJSON(cmd.OutOrStdout(), found)
	}
	_, err := fmt.Fprint(cmd.OutOrStdout(), sheet.Factors(found, len(args) > 0))
	return err
}

// ownValue is what a user says of a factor for one well.
type ownValue struct{ book, value, why, on string }

func replaceFactor(cmd *cobra.Command, args []string, own ownValue) error {
	switch {
	case len(args) == 0:
		return fmt.Errorf("factor: name the factor to replace")
	case own.book == "":
		return fmt.Errorf("factor %s: name the book in which to replace it, with --book", args[0])
	case own.why == "":
		return fmt.Errorf("factor %s: give the reason with --why; it is printed beside the value", args[0])
	}
	if _, ok := plan.Register().Find(args[0]); !ok {
		return fmt.Errorf("no factor is called %q; factor without a name lists them all", args[0])
	}
	on, err := dateOr(own.on)
	if err != nil {
		return err
	}
	section := book.Fields(book.Under("name", args[0]), book.Under("value", own.value), book.Under("why", own.why))
	return appendTo(cmd, own.book, book.NewEntry{On: on, Kind: book.FactorKind, Section: section})
}

package main

import (
	"github.com/spf13/cobra"

	"wellwright/plan"
	"wellwright/sheet"
)

// nextCommand says which test to make next.
func nextCommand() *cobra.Command {
	cmd := answering(common{}, "next BOOK", "the next test: what it is worth against price and wait, and the bottles to fill", sheet.Next, func(plan.Answer) bool { return false })
	cmd.Long = `next works out what each further test would change in the choice for this well,
what that is worth against its price and wait, and which bottles to fill in which
order. Fees, minutes and waits are factors: wellwright factor test_fee.

Exit status: 0 answered, whether or not a test is worth its price; 2 bad input.`
	return cmd
}

// Command wellwright plans the treatment of private household wells: from a well
// book, through the evidence and every lawful train, to a sized, priced and
// explained answer. Commands only translate; package plan answers.
package main

import (
	"errors"
	"fmt"
	"io"
	"os"
	"runtime/debug"

	"github.com/spf13/cobra"
)

func main() {
	debug.SetGCPercent(300) // a command is short: memory below the limit is cheaper than its collection
	debug.SetMemoryLimit(140 << 20)
	os.Exit(run(os.Args[1:], os.Stdin, os.Stdout, os.Stderr))
}

// exit statuses: done, the answer is "no", bad input or usage.
const (
	exitDone = 0
	exitNo   = 1
	exitBad  = 2
)

// errNo is returned when the answer is "no": it has been printed already.
var errNo = errors.New("the answer is no")

// told is an error that has been printed already.
type told struct{ error }

// run executes one command line and returns the exit status.
func run(args []string, in io.Reader, out, complaints io.Writer) int {
	root := rootCommand()
	root.SetArgs(args)
	root.SetIn(in)
	root.SetOut(out)
	root.SetErr(complaints)
	err := root.Execute()
	switch {
	case err == nil:
		return exitDone
	case errors.Is(err, errNo):
		return exitNo
	}
	if !errors.As(err, &told{}) {
		fmt.Fprintln(complaints, err)
	}
	return exitBad
}

func rootCommand() *cobra.Command {
	root := &cobra.Command{
		Use:   "wellwright",
		Short: "plan the treatment of a private household well",
		Long: `wellwright reads a well book (one plain file a well) and works out which forms
of iron are there, what must be done first, which trains of treatment can do the
work, how each is sized, set and priced, and which limit fails first.

Exit status: 0 done, 1 the answer is "no", 2 bad input or usage.`,
		SilenceUsage:  true,
		SilenceErrors: true,
	}
	root.CompletionOptions.HiddenDefaultCmd = true
	root.AddCommand(demoCommand(), newCommand(), planCommand(), checkCommand(), formsCommand(), optionsCommand(), nextCommand(),
		whyCommand(), sectionCommand(), pictureCommand(), whatifCommand(), readCommand(), correctCommand(), importCommand(), factorCommand(), calcCommand(), schemaCommand(), serveCommand(), versionCommand())
	root.AddCommand(storeCommands()...)
	return root
}

// exactly, atLeast and atMost say how many words a command takes; the complaint
// shows how to write it.
func exactly(n int) cobra.PositionalArgs { return counted(func(got int) bool { return got == n }) }

func atLeast(n int) cobra.PositionalArgs { return counted(func(got int) bool { return got >= n }) }

func atMost(n int) cobra.PositionalArgs { return counted(func(got int) bool { return got <= n }) }

func counted(fits func(int) bool) cobra.PositionalArgs {
	return func(cmd *cobra.Command, args []string) error {
		if fits(len(args)) {
			return nil
		}
		return fmt.Errorf("write: %s", cmd.UseLine())
	}
}

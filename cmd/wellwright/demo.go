package main

import (
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"strings"

	"github.com/spf13/cobra"
	"golang.org/x/term"

	"wellwright/book"
	"wellwright/demo"
	"wellwright/plan"
	"wellwright/sheet"
	"wellwright/unit"
)

// demoCommand plans the bundled wells.
func demoCommand() *cobra.Command {
	var c common
	var save string
	cmd := &cobra.Command{
		Use:   "demo [WELL]",
		Short: "plan the bundled demonstration wells, all invented",
		Long: `demo plans every bundled well and prints the heart of each answer; with the name
of one it prints that answer whole. --save writes the books into a folder, to be
looked at and changed.`,
		Args: atMost(1),
	}
	c.addTo(cmd)
	cmd.Flags().StringVar(&save, "save", "", "write the bundled books into this folder")
	cmd.RunE = func(cmd *cobra.Command, args []string) error {
		wells, err := demo.Wells()
		if err != nil {
			return err
		}
		if save != "" {
			return saveDemo(cmd.OutOrStdout(), wells, save)
		}
		return c.demo(cmd, wells, args)
	}
	return cmd
}

func (c *common) demo(cmd *cobra.Command, wells []demo.Well, args []string) error {
	if len(args) > 0 {
		found, err := named(wells, args[0])
		if err != nil {
			return err
		}
		wells = []demo.Well{found}
	}
	var all []plan.Answer
	for i, w := range wells {
		step := waiting(cmd.ErrOrStderr(), fmt.Sprintf("%d of %d: %s", i+1, len(wells), w.Name))
		a, s, err := c.demoAnswer(w, len(args) == 0 && !c.json)
		step()
		if err != nil {
			return err
		}
		all = append(all, a)
		switch {
		case c.json:
		case len(args) > 0:
			fmt.Fprint(cmd.OutOrStdout(), sheet.Plan(a, s), sheet.Working(a))
		default:
			fmt.Fprint(cmd.OutOrStdout(), sheet.Brief(w.Name, a, s))
		}
	}
	if c.json {
		return writeJSON(cmd.OutOrStdout(), all)
	}
	return nil
}

// named finds a bundled well, or says which there are.
func named(wells []demo.Well, name string) (demo.Well, error) {
	var names []string
	for _, w := range wells {
		if w.Name == name {
			return w, nil
		}
		names = append(names, w.Name)
	}
	return demo.Well{}, fmt.Errorf("no bundled well is called %q; there are %s", name, strings.Join(names, ", "))
}

// waiting says at a terminal what is being worked on; the function it returns
// wipes the line again. Elsewhere both do nothing.
func waiting(complaints io.Writer, what string) func() {
	f, ok := complaints.(*os.File)
	if !ok || !term.IsTerminal(int(f.Fd())) {
		return func() {}
	}
	fmt.Fprint(f, what)
	return func() { fmt.Fprintf(f, "\r%*s\r", len(what), "") }
}

// demoAnswer answers one bundled book as it stood on the date of its last entry;
// brief leaves out what only a whole answer shows.
func (c *common) demoAnswer(w demo.Well, brief bool) (plan.Answer, unit.System, error) {
	b, found := book.Read(w.Name+".yaml", w.Text)
	if bad := book.Mistakes(found); len(bad) > 0 {
		return plan.Answer{}, unit.US, bad[0]
	}
	on := b.Entries[len(b.Entries)-1].On
	if c.asOf != "" {
		var err error
		if on, err = c.date(); err != nil {
			return plan.Answer{}, unit.US, err
		}
	}
	p := b.Present(on)
	s, err := c.system(p)
	if err != nil {
		return plan.Answer{}, s, err
	}
	ask, err := c.ask()
	if err != nil {
		return plan.Answer{}, s, err
	}
	ask.Brief = brief
	a, err := plan.Build(p, ask)
	return a, s, err
}

// saveDemo writes the books into a folder and never over a file that is there.
func saveDemo(out io.Writer, wells []demo.Well, dir string) error {
	if err := os.MkdirAll(dir, 0o755); err != nil {
		return fmt.Errorf("save demo: %w", err)
	}
	for _, w := range wells {
		name := filepath.Join(dir, w.Name+".yaml")
		f, err := os.OpenFile(name, os.O_WRONLY|os.O_CREATE|os.O_EXCL, 0o644)
		if errors.Is(err, fs.ErrExist) {
			fmt.Fprintf(out, "%s is there already, and is left as it is\n", name)
			continue
		}
		if err != nil {
			return fmt.Errorf("save demo: %w", err)
		}
		_, err = f.Write(w.Text)
		if err = errors.Join(err, f.Close()); err != nil {
			return fmt.Errorf("save demo: %w", err)
		}
		fmt.Fprintf(out, "wrote %s\n", name)
	}
	return nil
}

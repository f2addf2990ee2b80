package main

import (
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"

	"github.com/spf13/cobra"

	"wellwright/book"
	"wellwright/demo"
	"wellwright/plan"
	"wellwright/sheet"
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
		Args: cobra.MaximumNArgs(1),
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
	s, err := c.system()
	if err != nil {
		return err
	}
	var all []plan.Answer
	for _, w := range wells {
		if len(args) > 0 && args[0] != w.Name {
			continue
		}
		a, err := c.demoAnswer(w)
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
	if len(all) == 0 {
		return fmt.Errorf("no bundled well is called %q; demo without a name shows them all", args[0])
	}
	if c.json {
		return writeJSON(cmd.OutOrStdout(), all)
	}
	return nil
}

// demoAnswer answers one bundled book as it stood on the date of its last entry.
func (c *common) demoAnswer(w demo.Well) (plan.Answer, error) {
	b, found := book.Read(w.Name+".yaml", w.Text)
	if bad := book.Mistakes(found); len(bad) > 0 {
		return plan.Answer{}, bad[0]
	}
	on := b.Entries[len(b.Entries)-1].On
	if c.asOf != "" {
		var err error
		if on, err = c.date(); err != nil {
			return plan.Answer{}, err
		}
	}
	ask, err := c.ask()
	if err != nil {
		return plan.Answer{}, err
	}
	return plan.Build(b.Present(on), ask)
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

package main

import (
	"context"
	"errors"
	"fmt"
	"strings"

	"github.com/spf13/cobra"

	"wellwright/book"
	"wellwright/store"
)

// storeCommands are the commands on a store: many books in one file.
func storeCommands() []*cobra.Command {
	return []*cobra.Command{shelveCommand(), wellsCommand(), fetchCommand(), verifyCommand(), backupCommand(), restoreCommand()}
}

// inStore opens a store, uses it and closes it.
func inStore(ctx context.Context, path string, use func(*store.SQLite) error) error {
	s, err := store.Open(ctx, path)
	if errors.Is(err, store.ErrNoStore) {
		return fmt.Errorf("%s: no such store; wellwright shelve %s BOOK begins one", path, path)
	}
	if err != nil {
		return err
	}
	return errors.Join(use(s), s.Close())
}

func wellsCommand() *cobra.Command {
	var asJSON bool
	cmd := &cobra.Command{
		Use: "wells STORE [WORD...]", Short: "list the wells of a store, or those in whose books words stand", Args: atLeast(1),
		Long: `wells lists the wells of a store by name. With words it lists those with an entry
in which every one of the words stands, and shows the place:

  wellwright wells county.wells
  wellwright wells county.wells slime sulfide

Exit status: 1 if no well is found.`,
		RunE: func(cmd *cobra.Command, args []string) error {
			return inStore(cmd.Context(), args[0], func(s *store.SQLite) error {
				found, err := lookedUp(cmd.Context(), s, args[1:])
				if err != nil {
					return err
				}
				if asJSON {
					err = writeJSON(cmd.OutOrStdout(), wellRows(found))
				} else {
					err = printWells(cmd, found)
				}
				if err == nil && len(found) == 0 {
					err = errNo
				}
				return err
			})
		},
	}
	cmd.Flags().BoolVar(&asJSON, "json", false, "write the list as JSON")
	return cmd
}

// lookedUp is the whole list, or what a search for words finds.
func lookedUp(ctx context.Context, s *store.SQLite, words []string) ([]book.Found, error) {
	if asked := strings.Join(words, " "); strings.TrimSpace(asked) != "" {
		return s.Search(ctx, asked)
	}
	list, err := s.Wells(ctx)
	found := make([]book.Found, len(list))
	for i, w := range list {
		found[i].Shelved = w
	}
	return found, err
}

func printWells(cmd *cobra.Command, found []book.Found) error {
	out := cmd.OutOrStdout()
	if len(found) == 0 {
		_, err := fmt.Fprintln(out, "no well is found")
		return err
	}
	for _, w := range found {
		line := fmt.Sprintf("%4s  %s", w.ID, nameOf(w.Shelved))
		if w.Place != "" {
			line += ", " + w.Place
		}
		fmt.Fprintf(out, "%s: %s, the latest of %s\n", line, plural(w.Entries, "entry", "entries"), w.Last.Format("2006-01-02"))
		if w.Excerpt != "" {
			fmt.Fprintf(out, "      entry %s: %s\n", w.Entry, w.Excerpt)
		}
	}
	return nil
}

// nameOf is the name of a well, or that it has none.
func nameOf(w book.Shelved) string {
	if w.Name == "" {
		return "(no name)"
	}
	return w.Name
}

// plural is a number with its word: "1 entry", "2 entries".
func plural(n int, one, many string) string {
	if n == 1 {
		return "1 " + one
	}
	return fmt.Sprint(n, " ", many)
}

// wellRow is a well in the list, for machines.
type wellRow struct {
	Well    book.ID `json:"well"`
	Name    string  `json:"name"`
	Place   string  `json:"place,omitempty"`
	Head    string  `json:"head"`
	Entries int     `json:"entries"`
	Last    string  `json:"last"`
	Entry   string  `json:"entry,omitempty"`
	Excerpt string  `json:"excerpt,omitempty"`
}

func wellRows(found []book.Found) []wellRow {
	rows := make([]wellRow, len(found))
	for i, w := range found {
		rows[i] = wellRow{Well: w.ID, Name: w.Name, Place: w.Place, Head: w.Head, Entries: w.Entries, Last: w.Last.Format("2006-01-02"), Entry: w.Entry, Excerpt: w.Excerpt}
	}
	return rows
}

func verifyCommand() *cobra.Command {
	return &cobra.Command{
		Use: "verify STORE", Short: "read all of a store and say whether it is as it was written", Args: exactly(1),
		Long: `verify reads a store through: every entry, hash, file and index, and the count of
what was acknowledged.

Exit status: 0 all is as it was written, 1 something is damaged, 2 no store can be read.`,
		RunE: func(cmd *cobra.Command, args []string) error {
			var h store.Holds
			err := inStore(cmd.Context(), args[0], func(s *store.SQLite) (err error) {
				h, err = s.Verify(cmd.Context())
				return err
			})
			if damages := damagesIn(err); len(damages) > 0 {
				for _, d := range damages {
					fmt.Fprintf(cmd.OutOrStdout(), "%s: damaged: %s\n", args[0], d.Say())
				}
				return errNo
			}
			if err != nil {
				return err
			}
			_, err = fmt.Fprintf(cmd.OutOrStdout(), "%s: %s, all as it was written\n", args[0], holding(h))
			return err
		},
	}
}

// damagesIn are all damages in an error, however they are joined.
func damagesIn(err error) []*book.DamagedError {
	switch e := err.(type) {
	case *book.DamagedError:
		return []*book.DamagedError{e}
	case interface{ Unwrap() []error }:
		var all []*book.DamagedError
		for _, one := range e.Unwrap() {
			all = append(all, damagesIn(one)...)
		}
		return all
	case interface{ Unwrap() error }:
		return damagesIn(e.Unwrap())
	}
	return nil
}

func backupCommand() *cobra.Command {
	return &cobra.Command{
		Use: "backup STORE FILE", Short: "copy a store into one new file, while it is in use, and read the copy back", Args: exactly(2),
		Long: `backup copies a store, as it stands at one moment, into one new file, while pages
are served from it and others write. The copy is read back whole: every entry, hash
and file. It never writes over a file: give each backup a name of its own, and keep
it on another disk.

  wellwright backup county.wells /media/stick/county-2026-06-01.backup`,
		RunE: func(cmd *cobra.Command, args []string) error {
			return inStore(cmd.Context(), args[0], func(s *store.SQLite) error {
				h, err := s.Backup(cmd.Context(), args[1])
				if err != nil {
					return fmt.Errorf("backup %w", err)
				}
				_, err = fmt.Fprintf(cmd.OutOrStdout(), "%s: %s, read back and found whole\n", args[1], holding(h))
				return err
			})
		},
	}
}

// holding says how much a store holds.
func holding(h store.Holds) string {
	return plural(h.Wells, "well", "wells") + ", " + plural(h.Entries, "entry", "entries") + ", " + plural(h.Files, "file", "files")
}

func restoreCommand() *cobra.Command {
	var over bool
	cmd := &cobra.Command{
		Use: "restore FILE STORE", Short: "make a store from a backup, or from what is left of a store", Args: exactly(2),
		Long: `restore makes a store from a backup. The backup is read whole first, and refused
if anything in it is not as it was written. A store that is there is left as it is;
with --over it is put aside under another name, and kept. Stop the server first.

A store that lost its end or its head can be restored in the same way into a new one:
restore says how many changes are lost.`,
		RunE: func(cmd *cobra.Command, args []string) error {
			r, err := store.Restore(cmd.Context(), args[0], args[1], over)
			if errors.Is(err, store.ErrThere) {
				return fmt.Errorf("%w; --over puts the store aside", err)
			}
			if err != nil {
				return err
			}
			out := cmd.OutOrStdout()
			fmt.Fprintf(out, "%s: %s, found whole\n", args[1], holding(r.Holds))
			if r.Aside != "" {
				fmt.Fprintf(out, "the store that was there is kept as %s\n", r.Aside)
			}
			if r.Lost > 0 {
				fmt.Fprintf(cmd.ErrOrStderr(), "%s: %s acknowledged later than this, and not in it\n", args[1], plural(int(r.Lost), "change was", "changes were"))
			}
			return nil
		},
	}
	cmd.Flags().BoolVar(&over, "over", false, "put the store that is there aside")
	return cmd
}

package main

import (
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"time"

	"github.com/spf13/cobra"

	"wellwright/book"
)

func newCommand() *cobra.Command {
	var name, on string
	cmd := &cobra.Command{
		Use: "new FILE", Short: "write a commented well book to fill in", Args: exactly(1),
		Long: `new writes a commented well book: every kind of entry with an example, in the
words of the trade. It never writes over a file that is there.`,
		RunE: func(cmd *cobra.Command, args []string) error {
			if name == "" {
				name = strings.TrimSuffix(filepath.Base(args[0]), filepath.Ext(args[0]))
			}
			date, err := dateOr(on)
			if err != nil {
				return err
			}
			f, err := os.OpenFile(args[0], os.O_WRONLY|os.O_CREATE|os.O_EXCL, 0o644)
			if errors.Is(err, fs.ErrExist) {
				return fmt.Errorf("new: %s is there already, and is left as it is", args[0])
			}
			if err != nil {
				return fmt.Errorf("new: %w", err)
			}
			_, err = f.Write(book.Template(name, date))
			if err = errors.Join(err, f.Close()); err != nil {
				return fmt.Errorf("new: %w", err)
			}
			_, err = fmt.Fprintf(cmd.OutOrStdout(), "wrote %s: fill in what you know, leave out what you do not, then: wellwright plan %s\n", args[0], args[0])
			return err
		},
	}
	cmd.Flags().StringVar(&name, "name", "", "name of the well (default: the file's name)")
	cmd.Flags().StringVar(&on, "on", "", "date of the first entry, 2025-05-31 (default: today)")
	return cmd
}

func schemaCommand() *cobra.Command {
	return &cobra.Command{
		Use: "schema", Short: "the JSON Schema of a well book, for editors", Args: exactly(0),
		RunE: func(cmd *cobra.Command, _ []string) error {
			_, err := cmd.OutOrStdout().Write(book.Schema())
			return err
		},
	}
}

// readCommand appends readings at a tap.
func readCommand() *cobra.Command {
	var on, by, note, jar string
	var first bool
	cmd := &cobra.Command{
		Use: "read BOOK TAP name=value...", Short: "append readings taken at a tap (T0, T1, T2 ..., K, H)", Args: atLeast(3),
		Long: `read appends an entry with readings taken on site:

  wellwright read alder.yaml T1 "total iron=2.0 mg/L" "ferrous iron=1.9 mg/L" pH=7.3 "sulfide=<0.1 mg/L"

With --jar it appends a jar of water from that tap instead, with the keys of a
jar (docs/book.md). Jars of one day that differ in their dose are a series:

  wellwright read alder.yaml T1 --jar aeration "after=24 h" "filter=0.45 um" "iron=0.2 mg/L" pH=7.6
  wellwright read alder.yaml T1 --jar alum "dose=20 mg/L" "after=30 min" "filter=0.45 um" "iron=0.3 mg/L"`,
		RunE: func(cmd *cobra.Command, args []string) error {
			date, err := dateOr(on)
			if err != nil {
				return err
			}
			e := book.NewEntry{On: date, Kind: book.ReadingsKind, By: by, Note: note}
			switch {
			case jar != "" && first:
				return errors.New("read: a jar is filled from water that has run; leave out --first-draw or --jar")
			case jar != "":
				e.Kind = book.JarsKind
				e.Section, err = jarred(args[1], jar, args[2:])
			default:
				e.Section, err = readings(args[1], args[2:], first)
			}
			if err != nil {
				return err
			}
			return appendTo(cmd, args[0], e)
		},
	}
	cmd.Flags().StringVar(&on, "on", "", "date and time, 2025-05-31 or 2025-05-31 14:30 (default: now)")
	cmd.Flags().StringVar(&by, "by", "", "who read it")
	cmd.Flags().StringVar(&note, "note", "", "a remark")
	cmd.Flags().BoolVar(&first, "first-draw", false, "the water had stood overnight")
	cmd.Flags().StringVar(&jar, "jar", "", "what was done to a jar of it: settling, aeration, bleach, filtration, chlorine, alum, ferric, permanganate")
	return cmd
}

// readings builds the section of a readings entry.
func readings(tap string, words []string, first bool) (book.Value, error) {
	pairs, err := namedValues(words)
	if err != nil {
		return book.Value{}, err
	}
	section := []book.Pair{book.Under("tap", tap)}
	if first {
		section = append(section, book.Under("first draw", "yes"))
	}
	return book.Fields(append(section, book.Pair{Key: "results", Value: book.Fields(pairs...)})...), nil
}

// jarred builds the section of one jar.
func jarred(tap, test string, words []string) (book.Value, error) {
	pairs, err := namedValues(words)
	if err != nil {
		return book.Value{}, err
	}
	return book.Items(book.Fields(append([]book.Pair{book.Under("test", test), book.Under("tap", tap)}, pairs...)...)), nil
}

func namedValues(words []string) ([]book.Pair, error) {
	var pairs []book.Pair
	for _, w := range words {
		name, value, ok := strings.Cut(w, "=")
		if !ok || strings.TrimSpace(value) == "" {
			return nil, fmt.Errorf("%q: write a name and a value, as in \"total iron=2.0 mg/L\"", w)
		}
		pairs = append(pairs, book.Under(strings.TrimSpace(name), strings.TrimSpace(value)))
	}
	return pairs, nil
}

// correctCommand withdraws an entry by a new one that names it.
func correctCommand() *cobra.Command {
	var why, by, on string
	cmd := &cobra.Command{
		Use: "withdraw BOOK ENTRY --why REASON", Short: "append an entry that withdraws a wrong one; nothing is erased", Args: exactly(2),
		RunE: func(cmd *cobra.Command, args []string) error {
			if why == "" {
				return errors.New("withdraw: give the reason with --why; it stays in the book")
			}
			date, err := dateOr(on)
			if err != nil {
				return err
			}
			return appendTo(cmd, args[0], book.NewEntry{On: date, Kind: book.WithdrawalKind, By: by, Corrects: args[1], Why: why})
		},
	}
	cmd.Flags().StringVar(&why, "why", "", "the reason")
	cmd.Flags().StringVar(&on, "on", "", "date of the entry, 2025-05-31 (default: now)")
	cmd.Flags().StringVar(&by, "by", "", "who says so")
	return cmd
}

// appendTo adds an entry at the end of a book file. The whole new text is
// written beside it and put in its place in one step, so that a full disk or a
// lost machine leaves the old book or the new one, never half.
func appendTo(cmd *cobra.Command, name string, e book.NewEntry) error {
	old, err := readBook(name)
	if err != nil {
		return err
	}
	done, err := book.Add(name, old, e, today())
	if err != nil {
		return notAdded(cmd.ErrOrStderr(), name, err)
	}
	if err := replaceFile(name, done.Text); err != nil {
		return fmt.Errorf("write book: %w", err)
	}
	if _, err = fmt.Fprintf(cmd.OutOrStdout(), "%s: entry %s added\n", name, done.Entry.ID); err != nil {
		return err
	}
	remain(cmd.ErrOrStderr(), done.Entry.ID, done.Left)
	sealedNow(cmd.ErrOrStderr(), done.Before)
	return nil
}

// notAdded says why an entry was not added to the book called name: mistakes of
// the book are listed as by any command, those of the entry have no place in it.
func notAdded(complaints io.Writer, name string, err error) error {
	var refused *book.RefusedError
	if errors.As(err, &refused) && !refused.Entry {
		return complain(complaints, name, refused.Findings)
	}
	return fmt.Errorf("%s: %w; nothing was written", name, err)
}

// remain says what is doubtful in the entry called id, and what mistakes the
// book still has.
func remain(complaints io.Writer, id string, found []book.Finding) {
	for _, f := range found {
		switch {
		case f.Weight == book.Mistake:
			fmt.Fprintln(complaints, f)
		case f.Entry == id:
			note(complaints, f)
		}
	}
}

// sealedNow says which entries, written by hand, the one just added sealed.
func sealedNow(complaints io.Writer, before *book.Book) {
	for _, f := range before.Unsealed() {
		f.Read = strings.Replace(f.Read, "not sealed yet", "not sealed until now", 1)
		note(complaints, f)
	}
}

// replaceFile puts text in the place of a file's content in one step.
func replaceFile(name string, text []byte) error {
	info, err := os.Stat(name)
	if err != nil {
		return err
	}
	f, err := os.CreateTemp(filepath.Dir(name), ".wellwright-*")
	if err != nil {
		return err
	}
	defer os.Remove(f.Name())
	_, err = f.Write(text)
	if err = errors.Join(err, f.Chmod(info.Mode()), f.Sync(), f.Close()); err != nil {
		return err
	}
	return os.Rename(f.Name(), name)
}

// dateOr reads a date with an optional time, or gives now to the minute.
func dateOr(s string) (time.Time, error) {
	if s == "" {
		n := time.Now()
		return time.Date(n.Year(), n.Month(), n.Day(), n.Hour(), n.Minute(), 0, 0, time.UTC), nil
	}
	for _, layout := range []string{time.DateOnly, "2006-01-02 15:04"} {
		if t, err := time.Parse(layout, s); err == nil {
			return t, nil
		}
	}
	return time.Time{}, fmt.Errorf("date %q: write 2025-05-31 or 2025-05-31 14:30", s)
}

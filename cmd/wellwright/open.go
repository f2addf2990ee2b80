package main

import (
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"time"

	"github.com/spf13/cobra"

	"wellwright/book"
	"wellwright/media"
	"wellwright/plan"
	"wellwright/sheet"
	"wellwright/unit"
)

// common are the flags that every answering command has.
type common struct {
	json    bool
	units   string
	asOf    string
	prices  string
	working bool
	most    int
	near    []string

	unsealed bool // no flag: say which entries no later one guards yet
}

// addTo declares the flags.
func (c *common) addTo(cmd *cobra.Command) {
	f := cmd.Flags()
	f.BoolVar(&c.json, "json", false, "write the whole answer as JSON")
	f.StringVar(&c.units, "units", "", "units of the answer: us or metric (default: us in the United States, else metric)")
	f.StringVar(&c.asOf, "as-of", "", "answer as the book stood on a date, YYYY-MM-DD (default: today)")
	f.StringVar(&c.prices, "prices", "", "your own price list (CSV or YAML), used part by part in place of ours")
	f.BoolVar(&c.working, "working", false, "show formula, values and factors of every figure of the first option")
	f.StringArrayVar(&c.near, "near", nil, "book of a well nearby, to speak for what nobody measured here (may be repeated)")
	f.IntVar(&c.most, "most", 0, "how many options to show (default 6)")
}

// system is the unit system asked for, or that of the well's jurisdiction.
func (c *common) system(p book.Present) (unit.System, error) {
	if c.units != "" {
		return unit.ParseSystem(c.units)
	}
	return sheet.SystemOf(p), nil
}

// ask makes the question for plan.
func (c *common) ask() (plan.Ask, error) {
	prices, err := readPrices(c.prices)
	return plan.Ask{Prices: prices, Working: c.working, Most: c.most}, err
}

// readPrices reads the user's price list over ours; "" is ours alone.
func readPrices(name string) (media.PriceList, error) {
	if name == "" {
		return media.Prices(), nil
	}
	f, err := os.Open(name)
	if err != nil {
		return media.PriceList{}, fmt.Errorf("open price list: %w", err)
	}
	defer f.Close()
	list, bad := media.ReadPrices(name, f)
	if len(bad) > 0 {
		return media.PriceList{}, joined(bad)
	}
	return list, nil
}

// present opens a book and folds it to the date asked for. Mistakes in the book
// are all printed; a book with mistakes is not answered.
func (c *common) present(cmd *cobra.Command, name string) (book.Present, error) {
	b, err := openBook(cmd.ErrOrStderr(), name)
	if err != nil {
		return book.Present{}, err
	}
	on, err := c.date()
	if err != nil {
		return book.Present{}, err
	}
	found := append(b.Check(today()), b.CheckFactors(plan.Register())...)
	if c.unsealed {
		found = append(found, b.Unsealed()...)
	}
	if err := complain(cmd.ErrOrStderr(), name, found); err != nil {
		return book.Present{}, err
	}
	return b.Present(on), nil
}

// complain prints mistakes whole and notices short, and returns an error if
// there is a mistake.
func complain(complaints io.Writer, name string, found []book.Finding) error {
	for _, f := range found {
		if f.Weight == book.Notice {
			note(complaints, f)
			continue
		}
		fmt.Fprintln(complaints, f)
	}
	switch n := len(book.Mistakes(found)); n {
	case 0:
		return nil
	case 1:
		return told{fmt.Errorf("%s: 1 mistake", name)}
	default:
		return told{fmt.Errorf("%s: %d mistakes", name, n)}
	}
}

// note prints a notice short.
func note(complaints io.Writer, f book.Finding) {
	fmt.Fprintf(complaints, "%s:%d: note: %s\n", f.Place.File, f.Place.Line, f.Read)
}

// date is the date asked for, or today.
func (c *common) date() (time.Time, error) {
	if c.asOf == "" {
		return today(), nil
	}
	on, err := time.Parse(time.DateOnly, c.asOf)
	if err != nil {
		return on, fmt.Errorf("as-of %q: write a date as 2025-05-31", c.asOf)
	}
	return on, nil
}

// today is the local date at midnight UTC, as books write dates.
func today() time.Time {
	n := time.Now()
	return time.Date(n.Year(), n.Month(), n.Day(), 0, 0, 0, 0, time.UTC)
}

// readBook reads the text of a book file.
func readBook(name string) ([]byte, error) {
	text, err := os.ReadFile(name)
	if errors.Is(err, fs.ErrNotExist) {
		return nil, fmt.Errorf("%s: no such book; wellwright new %s begins one", name, name)
	}
	if err != nil {
		return nil, fmt.Errorf("open book: %w", err)
	}
	return text, nil
}

// openBook reads a book file and prints all that is wrong with it.
func openBook(complaints io.Writer, name string) (*book.Book, error) {
	text, err := readBook(name)
	if err != nil {
		return nil, err
	}
	b, found := book.Read(name, text)
	if err := complain(complaints, name, found); err != nil {
		return nil, err
	}
	return b, nil
}

// desk opens a book, makes it ready for questions, and says in which units to
// answer them.
func (c *common) desk(cmd *cobra.Command, name string) (*plan.Desk, unit.System, error) {
	p, err := c.present(cmd, name)
	if err != nil {
		return nil, unit.US, err
	}
	s, err := c.system(p)
	if err != nil {
		return nil, s, err
	}
	ask, err := c.ask()
	if err != nil {
		return nil, s, err
	}
	for _, n := range c.near {
		there, err := c.present(cmd, n)
		if err != nil {
			return nil, s, err
		}
		ask.Near = append(ask.Near, there)
	}
	d, err := plan.Open(p, ask)
	return d, s, err
}

// writeJSON writes a value for machines.
func writeJSON(w io.Writer, v any) error {
	e := json.NewEncoder(w)
	e.SetIndent("", "  ")
	e.SetEscapeHTML(false)
	return e.Encode(v)
}

// joined puts many findings under one error, a line each.
func joined(errs []error) error {
	text := ""
	for i, e := range errs {
		if i > 0 {
			text += "\n"
		}
		text += e.Error()
	}
	return fmt.Errorf("%s", text)
}

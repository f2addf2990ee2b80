package main

import (
	"encoding/json"
	"fmt"
	"io"
	"os"
	"time"

	"github.com/spf13/cobra"

	"wellwright/book"
	"wellwright/media"
	"wellwright/plan"
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
}

// addTo declares the flags.
func (c *common) addTo(cmd *cobra.Command) {
	f := cmd.Flags()
	f.BoolVar(&c.json, "json", false, "write the whole answer as JSON")
	f.StringVar(&c.units, "units", "us", "units of the answer: us or metric")
	f.StringVar(&c.asOf, "as-of", "", "answer as the book stood on a date, YYYY-MM-DD (default: today)")
	f.StringVar(&c.prices, "prices", "", "your own price list (CSV or YAML), used part by part in place of ours")
	f.BoolVar(&c.working, "working", false, "show formula, values and factors of every figure of the first option")
	f.IntVar(&c.most, "most", 0, "how many options to show (default 6)")
}

// system is the unit system asked for.
func (c *common) system() (unit.System, error) { return unit.ParseSystem(c.units) }

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
	for _, f := range append(b.Check(on), b.CheckFactors(plan.Register())...) {
		fmt.Fprintln(cmd.ErrOrStderr(), f)
	}
	return b.Present(on), nil
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

// openBook reads a book file and prints all that is wrong with it.
func openBook(complaints io.Writer, name string) (*book.Book, error) {
	text, err := os.ReadFile(name)
	if err != nil {
		return nil, fmt.Errorf("open book: %w", err)
	}
	b, found := book.Read(name, text)
	for _, f := range found {
		fmt.Fprintln(complaints, f)
	}
	if bad := book.Mistakes(found); len(bad) > 0 {
		return nil, told{fmt.Errorf("%s: %d mistakes", name, len(bad))}
	}
	return b, nil
}

// desk opens a book and makes it ready for questions.
func (c *common) desk(cmd *cobra.Command, name string) (*plan.Desk, error) {
	p, err := c.present(cmd, name)
	if err != nil {
		return nil, err
	}
	ask, err := c.ask()
	if err != nil {
		return nil, err
	}
	return plan.Open(p, ask)
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

package main

import (
	"errors"
	"fmt"
	"strconv"
	"strings"

	"github.com/spf13/cobra"

	"wellwright/book"
	"wellwright/plan"
	"wellwright/sheet"
)

// otherwise is what a what-if asks besides inputs.
type otherwise struct {
	coarse                 bool
	train                  string
	sizes, prices, factors []string
}

func whatifCommand() *cobra.Command {
	var c common
	var o otherwise
	cmd := &cobra.Command{
		Use:   "whatif BOOK [input=value...]",
		Short: "change an input, a price or the train and see what changes in the answer",
		Long: `whatif answers the book as it is and as changed, and shows what changes. A
change of water or supply moves every plausible water in proportion to the
likeliest. With a train, a size, a price or a factor of your own it shows what one
train comes to: the one given, or the book's first choice.
Inputs: ` + strings.Join(plan.Inputs(), ", ") + `.

  wellwright whatif alder.yaml iron=6 pump=8gpm no-salt=yes
  wellwright whatif alder.yaml --train coated-sand-filter,softener --size 1.vessel_diameter_in=12
  wellwright whatif alder.yaml --price "labour hour=110"`,
		Args: atLeast(1),
	}
	c.addTo(cmd)
	f := cmd.Flags()
	f.BoolVar(&o.coarse, "coarse", false, "print the first answer, from a few plausible waters and the trains already known")
	f.StringVar(&o.train, "train", "", "the stages in flow order, parted by commas; lawful or not")
	f.StringArrayVar(&o.sizes, "size", nil, "a figure of a stage's size, as in 1.vessel_diameter_in=12; may be repeated")
	f.StringArrayVar(&o.prices, "price", nil, `the price of a part in US dollars, as in "labour hour=110"; may be repeated`)
	f.StringArrayVar(&o.factors, "factor", nil, "your own value of a factor, as in near_tie=0.2; may be repeated")
	cmd.RunE = func(cmd *cobra.Command, args []string) error {
		if o.train == "" && len(o.sizes)+len(o.prices)+len(o.factors) == 0 {
			return c.whatif(cmd, args[0], args[1:], o.coarse)
		}
		return c.variant(cmd, args[0], args[1:], o)
	}
	return cmd
}

func (c *common) whatif(cmd *cobra.Command, name string, words []string, coarse bool) error {
	if len(words) == 0 {
		return errors.New("nothing is asked: write an input and its value, as in iron=14, or a --train, --size, --price or --factor")
	}
	changes, bad := plan.ParseChanges(words)
	if len(bad) > 0 {
		return joined(bad)
	}
	d, s, err := c.desk(cmd, name)
	if err != nil {
		return err
	}
	now, err := d.Answer()
	if err != nil {
		return err
	}
	answer := d.With(changes).Answer
	if coarse {
		answer = d.With(changes).Coarse
	}
	then, err := answer()
	if err != nil {
		return err
	}
	if c.json {
		return writeJSON(cmd.OutOrStdout(), then)
	}
	_, err = fmt.Fprint(cmd.OutOrStdout(), sheet.Whatif(words, now, then, s))
	return err
}

// variant shows what one train comes to.
func (c *common) variant(cmd *cobra.Command, name string, words []string, o otherwise) error {
	asked, bad := o.asked(words)
	v, wrong := plan.ReadVariant(asked)
	for _, m := range wrong {
		bad = append(bad, m)
	}
	if len(bad) > 0 {
		return joined(bad)
	}
	d, s, err := c.desk(cmd, name)
	if err != nil {
		return err
	}
	t, err := o.try(d, v)
	if err != nil {
		return err
	}
	if c.json {
		return writeJSON(cmd.OutOrStdout(), t)
	}
	_, err = fmt.Fprint(cmd.OutOrStdout(), sheet.Variant(o.words(words), t, s))
	return err
}

func (o otherwise) try(d *plan.Desk, v plan.Variant) (plan.Tried, error) {
	if o.coarse {
		return d.Try(v)
	}
	return d.TryWhole(v, func() bool { return false })
}

// words are all that is asked, as typed.
func (o otherwise) words(inputs []string) []string {
	all := append([]string{}, inputs...)
	if o.train != "" {
		all = append(all, "train "+o.train)
	}
	return append(append(append(all, o.sizes...), o.prices...), o.factors...)
}

// asked is the question as a book would keep it.
func (o otherwise) asked(inputs []string) (v book.Variant, bad []error) {
	v.Changes, bad = pairs(inputs, bad)
	v.Prices, bad = pairs(o.prices, bad)
	v.Factors, bad = pairs(o.factors, bad)
	if o.train != "" {
		for _, id := range strings.Split(o.train, ",") {
			v.Train = append(v.Train, strings.TrimSpace(id))
		}
	}
	for _, w := range o.sizes {
		at, rest, _ := strings.Cut(w, ".")
		n, err := strconv.Atoi(at)
		leaf, value, ok := strings.Cut(rest, "=")
		if err != nil || !ok {
			bad = append(bad, fmt.Errorf("%q: write the place of the stage, the figure and its value, as in 1.vessel_diameter_in=12", w))
			continue
		}
		v.Sizes = append(v.Sizes, book.VariantSize{Stage: n, Figures: map[string]string{leaf: value}})
	}
	return v, bad
}

// pairs reads name=value words.
func pairs(words []string, bad []error) (map[string]string, []error) {
	m := map[string]string{}
	for _, w := range words {
		name, value, ok := strings.Cut(w, "=")
		if !ok {
			bad = append(bad, fmt.Errorf("%q: write a name and its value, as in iron=14", w))
			continue
		}
		m[strings.TrimSpace(name)] = strings.TrimSpace(value)
	}
	return m, bad
}

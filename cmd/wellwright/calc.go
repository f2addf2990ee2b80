package main

import (
	"fmt"
	"strings"

	"github.com/spf13/cobra"

	"wellwright/formula"
	"wellwright/plan"
	"wellwright/sheet"
	"wellwright/source"
)

// calcCommand lists, shows and answers single formulas.
func calcCommand() *cobra.Command {
	var c common
	var file string
	var example bool
	cmd := &cobra.Command{
		Use:   "calc [NAME [input=value...]]",
		Short: "list the formulas, show one, or answer it with its working, in both systems of units",
		Long: `calc lists every formula by subject. With a name it shows what the formula asks, what
it holds for, where it comes from and worked examples beside our answers. With
inputs it answers; what is not given is assumed where that is sensible, and says so:

  wellwright calc oxygen_saturation temperature="10 C"
  wellwright calc carbon_dioxide --from alder.yaml
  wellwright calc feed_rate dose="5 mg/L" strength="52500 mg/L" --from alder.yaml

With --from the inputs that a well book knows are filled in, and the book's own
factors are used. Instead of a name, a word lists the formulas that speak of it.

Exit status: 0 done, 2 bad input or usage.`,
	}
	f := cmd.Flags()
	f.BoolVar(&c.json, "json", false, "write as JSON")
	f.StringVar(&file, "from", "", "a well book to fill inputs from")
	f.StringVar(&c.asOf, "as-of", "", "the book as it stood on a date, YYYY-MM-DD (default: today)")
	f.BoolVar(&example, "example", false, "answer the formula's first worked example")
	cmd.RunE = func(cmd *cobra.Command, args []string) error {
		if len(args) == 0 {
			return c.listFormulas(cmd, plan.Formulas().All())
		}
		found, ok := plan.Formulas().Find(args[0])
		switch {
		case !ok:
			return c.likeFormulas(cmd, args)
		case example:
			return c.calc(cmd, found, found.Examples[0].Given, file)
		case len(args) == 1 && file == "":
			return c.showFormula(cmd, found)
		}
		return c.calc(cmd, found, args[1:], file)
	}
	return cmd
}

// listed is a formula in the JSON list.
type listed struct {
	Name    string `json:"name"`
	Subject string `json:"subject"`
	What    string `json:"what"`
}

func (c *common) listFormulas(cmd *cobra.Command, fs []formula.Formula) error {
	if !c.json {
		_, err := fmt.Fprint(cmd.OutOrStdout(), sheet.Calculations(fs))
		return err
	}
	out := make([]listed, len(fs))
	for i, f := range fs {
		out[i] = listed{f.Name, f.Subject, f.What}
	}
	return writeJSON(cmd.OutOrStdout(), out)
}

// likeFormulas lists the formulas that speak of a word; with inputs behind it the
// word was meant as a name.
func (c *common) likeFormulas(cmd *cobra.Command, args []string) error {
	word := args[0]
	like := plan.Formulas().Like(word)
	if len(args) == 1 && len(like) > 0 {
		return c.listFormulas(cmd, like)
	}
	hint := "calc without a name lists them all"
	if near, ok := plan.Formulas().Near(word); ok {
		hint = near + " is meant perhaps; " + hint
	}
	return fmt.Errorf("no formula is called %q; %s", word, hint)
}

func (c *common) showFormula(cmd *cobra.Command, f formula.Formula) error {
	if c.json {
		return writeJSON(cmd.OutOrStdout(), described(f))
	}
	_, err := fmt.Fprint(cmd.OutOrStdout(), sheet.Calculation(f))
	return err
}

// calc answers a formula with what was typed before what the book knows.
func (c *common) calc(cmd *cobra.Command, f formula.Formula, words []string, file string) error {
	given, bad := f.Read(words)
	var set source.Set
	if file != "" {
		d, _, err := c.desk(cmd, file)
		if err != nil {
			return err
		}
		given, set = append(given, d.Fill(f)...), d.Present.Factors()
	}
	a, wrong := f.Answer(given, set)
	if bad = append(bad, wrong...); len(bad) > 0 {
		return mistaken(f, bad, file)
	}
	if c.json {
		return writeJSON(cmd.OutOrStdout(), a)
	}
	_, err := fmt.Fprint(cmd.OutOrStdout(), sheet.Calculated(a))
	return err
}

// mistaken lists what is wrong with the inputs, and says what the book could not.
func mistaken(f formula.Formula, bad []error, file string) error {
	err := joined(bad)
	if file != "" && strings.Contains(err.Error(), "is missing") {
		return fmt.Errorf("%w\n%s does not tell what is missing; calc %s shows every input", err, file, f.Name)
	}
	return err
}

// asked is one input in the JSON of a formula.
type asked struct {
	Name    string `json:"name"`
	Symbol  string `json:"symbol,omitempty"`
	What    string `json:"what"`
	Kind    string `json:"kind"`
	Units   string `json:"units,omitempty"`
	Low     string `json:"low,omitempty"`
	High    string `json:"high,omitempty"`
	Assumed string `json:"assumed,omitempty"`
	Why     string `json:"why,omitempty"`
}

// checked is one answer from outside the program beside ours.
type checked struct {
	Given    []string `json:"given"`
	Result   string   `json:"result"`
	Expected string   `json:"expected"`
	Here     string   `json:"here"`
	Apart    string   `json:"apart,omitempty"`
	Source   string   `json:"source"`
}

// described is a formula in JSON.
func described(f formula.Formula) any {
	out := struct {
		listed
		Equation string          `json:"equation"`
		Inputs   []asked         `json:"inputs"`
		Range    string          `json:"range,omitempty"`
		Error    string          `json:"error,omitempty"`
		Source   string          `json:"source"`
		Kind     source.Kind     `json:"kind"`
		Care     string          `json:"caution,omitempty"`
		Factors  []source.Factor `json:"factors,omitempty"`
		Examples []checked       `json:"examples"`
	}{listed: listed{f.Name, f.Subject, f.What}, Equation: f.Equation, Range: f.Range, Error: f.Error, Source: f.Source, Kind: f.Kind, Care: f.Care, Factors: f.Factors}
	for _, i := range f.Inputs {
		out.Inputs = append(out.Inputs, asked{i.Name, i.Symbol, i.What, i.Kind, i.Units, i.Low, i.High, i.Default, i.Why})
	}
	for _, k := range f.Checks() {
		out.Examples = append(out.Examples, checked{k.Given, k.Result, k.Want, k.Got, k.Apart, k.Source})
	}
	return out
}

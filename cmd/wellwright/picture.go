package main

import (
	"errors"
	"fmt"
	"strings"

	"github.com/spf13/cobra"

	"wellwright/canvas"
	"wellwright/plan"
	"wellwright/section"
	"wellwright/train"
	"wellwright/unit"
)

// pictureAsk is what the picture command is asked beside the common flags.
type pictureAsk struct {
	common
	out string
	all bool
}

// drawnPicture is one picture: as a drawing, as a table, and as data.
type drawnPicture struct {
	drawing *canvas.Drawing
	table   section.Table
	data    any
}

// pictureKinds are the pictures in the order that the help lists them.
var pictureKinds = []struct {
	name, what string
	draw       func(a *pictureAsk, d *plan.Desk, words []string, s unit.System) (drawnPicture, error)
}{
	{"belief", "what is believed before and after the evidence", (*pictureAsk).belief},
	{"lanes", "how much of each limit is used up, of one train or of --all options", (*pictureAsk).lanes},
	{"costs", "first, yearly and ten-year cost of the options", (*pictureAsk).costs},
	{"iron-time", "ferrous iron left against time with air and chlorine", (*pictureAsk).ironTime},
	{"pump", "the pump at the tank and what is asked of it", (*pictureAsk).pump},
	{"wash", "the hardest wash, minute by minute", (*pictureAsk).wash},
}

func pictureCommand() *cobra.Command {
	var a pictureAsk
	var lines []string
	for _, k := range pictureKinds {
		lines = append(lines, fmt.Sprintf("  %-10s %s", k.name, k.what))
	}
	cmd := &cobra.Command{
		Use:   "picture KIND BOOK [TRAIN]",
		Short: "draw one of the smaller pictures of a well or a train",
		Long: `picture draws one of the smaller pictures, in black and white and described in
words for a screen reader:

` + strings.Join(lines, "\n") + `

  wellwright picture lanes alder.yaml -o lanes.svg
  wellwright picture wash alder.yaml greensand-filter,softener -o wash.pdf

Without a train it takes the first option, where there is none the well as it is,
which "none" asks for too. The ending of the file says which kind it is: svg, pdf or png. Without a
file it prints the same as a table.

Exit status: 0 done, 2 bad input.`,
		Args: atLeast(2),
	}
	a.addTo(cmd)
	cmd.Flags().StringVarP(&a.out, "out", "o", "", "draw into this file: .svg, .pdf or .png")
	cmd.Flags().BoolVar(&a.all, "all", false, "lanes of every option, one strip each")
	cmd.RunE = func(cmd *cobra.Command, args []string) error { return a.run(cmd, args[0], args[1], args[2:]) }
	return cmd
}

func (a *pictureAsk) run(cmd *cobra.Command, kind, name string, words []string) error {
	if a.out != "" && fileKind(a.out) == "" {
		return fmt.Errorf("picture: %s: write a file that ends in .svg, .pdf or .png", a.out)
	}
	var names []string
	for _, k := range pictureKinds {
		names = append(names, k.name)
		if k.name != kind {
			continue
		}
		d, s, err := a.desk(cmd, name)
		if err != nil {
			return err
		}
		p, err := k.draw(a, d, words, s)
		if err != nil {
			return fmt.Errorf("picture: %w", err)
		}
		return a.put(cmd, d, p, s)
	}
	return fmt.Errorf("picture: %q is not a picture; the pictures are %s", kind, strings.Join(names, ", "))
}

// put writes the picture into its file, and prints what is asked for.
func (a *pictureAsk) put(cmd *cobra.Command, d *plan.Desk, p drawnPicture, s unit.System) error {
	out := cmd.OutOrStdout()
	if a.out != "" {
		paper := canvas.Letter
		if s == unit.Metric {
			paper = canvas.A4
		}
		file, err := pictureFile(p.drawing, fileKind(a.out), d.Evidence().AsOf, paper)
		if err == nil {
			err = writePicture(a.out, file)
		}
		if err != nil {
			return fmt.Errorf("picture: %w", err)
		}
	}
	if a.json {
		return writeJSON(out, p.data)
	}
	text := "wrote " + a.out + "\n"
	if a.out == "" {
		text = p.table.Text()
	}
	_, err := fmt.Fprint(out, text)
	return err
}

// subject is the train asked for, else the first option; the well as it is where
// there is none, or "none" is asked for.
func subject(d *plan.Desk, words []string) (plan.Subject, error) {
	switch {
	case len(words) == 1 && strings.EqualFold(words[0], "none"):
		return d.Subject(nil)
	case len(words) > 0:
		t, err := train.Parse(strings.Join(words, " "))
		if err != nil {
			return plan.Subject{}, err
		}
		return d.Subject(t)
	}
	if ss := d.Subjects(); len(ss) > 0 {
		return ss[0], nil
	}
	return d.Subject(nil)
}

// wholeWell refuses a train where the picture is of all options or of the water.
func wholeWell(kind string, words []string) error {
	if len(words) > 0 {
		return errors.New(kind + " takes no train")
	}
	return nil
}

func (a *pictureAsk) belief(d *plan.Desk, words []string, s unit.System) (drawnPicture, error) {
	if err := wholeWell("belief", words); err != nil {
		return drawnPicture{}, err
	}
	e := d.Evidence()
	return drawnPicture{section.Belief(e, s), section.BeliefTable(e, s), e.Belief}, nil
}

func (a *pictureAsk) costs(d *plan.Desk, words []string, _ unit.System) (drawnPicture, error) {
	if err := wholeWell("costs", words); err != nil {
		return drawnPicture{}, err
	}
	e, err := d.Answer()
	return drawnPicture{section.Costs(e), section.CostTable(e), section.CostRows(e)}, err
}

func (a *pictureAsk) lanes(d *plan.Desk, words []string, s unit.System) (drawnPicture, error) {
	if a.all {
		return allLanes(d, words, s)
	}
	x, err := subject(d, words)
	if err != nil {
		return drawnPicture{}, err
	}
	l := x.Lanes()
	return drawnPicture{section.Lanes(l, s), section.LaneTable(l, s), l}, nil
}

// allLanes is every option as one strip.
func allLanes(d *plan.Desk, words []string, s unit.System) (drawnPicture, error) {
	if err := wholeWell("lanes --all", words); err != nil {
		return drawnPicture{}, err
	}
	ls := []plan.Lanes{}
	for _, x := range d.Subjects() {
		ls = append(ls, x.Lanes())
	}
	return drawnPicture{section.LaneStrips(ls, s), section.StripTable(ls, s), ls}, nil
}

func (a *pictureAsk) ironTime(d *plan.Desk, words []string, s unit.System) (drawnPicture, error) {
	x, err := subject(d, words)
	if err != nil {
		return drawnPicture{}, err
	}
	i, err := x.IronTime()
	return drawnPicture{section.IronTime(i, s), section.IronTable(i, s), i}, err
}

func (a *pictureAsk) pump(d *plan.Desk, words []string, s unit.System) (drawnPicture, error) {
	x, err := subject(d, words)
	if err != nil {
		return drawnPicture{}, err
	}
	v := x.PumpView()
	return drawnPicture{section.Pump(v, s), section.PumpTable(v, s), v}, nil
}

func (a *pictureAsk) wash(d *plan.Desk, words []string, s unit.System) (drawnPicture, error) {
	x, err := subject(d, words)
	if err != nil {
		return drawnPicture{}, err
	}
	v, _ := x.WashView()
	return drawnPicture{section.Wash(v, s), section.WashTable(v, s), v}, nil
}

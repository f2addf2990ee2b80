package main

import (
	"errors"
	"fmt"
	"io"
	"path/filepath"
	"strings"
	"time"

	"github.com/spf13/cobra"

	"wellwright/canvas"
	"wellwright/media"
	"wellwright/plan"
	"wellwright/section"
	"wellwright/train"
	"wellwright/unit"
)

// sectionAsk is what the section command is asked beside the common flags.
type sectionAsk struct {
	common
	out, against, on, paper string
	table                   bool
}

// sectionCommand draws the long section.
func sectionCommand() *cobra.Command {
	var a sectionAsk
	cmd := &cobra.Command{
		Use:   "section BOOK [TRAIN]",
		Short: "draw the long section: the water's way from the aquifer to the kitchen",
		Long: `section draws one sheet of the well and a train, to scale in its parts: the bore
with its levels, pump and stored water, the pressure along the pipe, every vessel,
the iron by form as thick as the water is rich, pH and free chlorine, and at each
tap what is forecast and what was read. A flag stands where the first limit fails.

  wellwright section alder.yaml -o alder.svg
  wellwright section alder.yaml air-injection-filter,softener -o alder.pdf
  wellwright section alder.yaml -o both.png --against greensand-filter,softener
  wellwright section alder.yaml -o then.pdf --against-date 2025-06-01

Without a train it draws the first option; where there is none, the train that
came nearest; "none" draws the well as it is. The ending of the file says which
kind it is: svg, pdf or png. Without a file it prints the same as a table.

Exit status: 0 done, 2 bad input.`,
		Args: atLeast(1),
	}
	a.addTo(cmd)
	f := cmd.Flags()
	f.StringVarP(&a.out, "out", "o", "", "draw into this file: .svg, .pdf or .png")
	f.StringVar(&a.against, "against", "", "lay another train over it with broken lines")
	f.StringVar(&a.on, "against-date", "", "lay the same train over it as the book stood on a date, YYYY-MM-DD")
	f.StringVar(&a.paper, "paper", "", "paper of a pdf: letter or a4 (default: as the units)")
	f.BoolVar(&a.table, "table", false, "print the taps as a table, also where a file is drawn")
	cmd.RunE = func(cmd *cobra.Command, args []string) error { return a.run(cmd, args[0], args[1:]) }
	return cmd
}

func (a *sectionAsk) run(cmd *cobra.Command, name string, words []string) error {
	if err := a.check(); err != nil {
		return fmt.Errorf("section: %w", err)
	}
	d, s, err := a.desk(cmd, name)
	if err != nil {
		return err
	}
	t, err := drawnTrain(d, words)
	if err != nil {
		return fmt.Errorf("section: %w", err)
	}
	ways, err := a.courses(cmd, name, d, t)
	if err != nil {
		return fmt.Errorf("section: %w", err)
	}
	if a.out != "" {
		if err := a.draw(cmd.ErrOrStderr(), ways, s); err != nil {
			return fmt.Errorf("section: %w", err)
		}
	}
	return a.print(cmd.OutOrStdout(), ways, s)
}

// check says what is wrong with the flags, before any work.
func (a *sectionAsk) check() error {
	switch {
	case a.against != "" && a.on != "":
		return errors.New("lay one thing over it: --against or --against-date")
	case a.out != "" && fileKind(a.out) == "":
		return fmt.Errorf("%s: write a file that ends in .svg, .pdf or .png", a.out)
	case a.paper != "" && a.paper != "letter" && a.paper != "a4":
		return fmt.Errorf("paper %q: write letter or a4", a.paper)
	}
	return nil
}

// fileKind is the kind of a drawing by the ending of its file; "" for no kind.
func fileKind(name string) string {
	switch e := strings.ToLower(filepath.Ext(name)); e {
	case ".svg", ".pdf", ".png":
		return e[1:]
	}
	return ""
}

// drawnTrain is the train asked for; else the first option, else the train that
// came nearest, else none.
func drawnTrain(d *plan.Desk, words []string) (train.Train, error) {
	switch {
	case len(words) == 1 && strings.EqualFold(words[0], "none"):
		return nil, nil
	case len(words) > 0:
		return train.Parse(strings.Join(words, " "))
	}
	a, err := d.Answer()
	if err != nil {
		return nil, err
	}
	if len(a.Options) > 0 {
		return trainOf(a.Options[0].Train), nil
	}
	var nearest train.Train
	margin := -1.0
	for _, r := range a.Rejected {
		if r.FirstLimit.Margin > margin {
			nearest, margin = trainOf(r.Train), r.FirstLimit.Margin
		}
	}
	return nearest, nil
}

func trainOf(ids []string) train.Train {
	t := make(train.Train, len(ids))
	for i, id := range ids {
		t[i] = media.Process(id)
	}
	return t
}

// courses lays out the train, and what is laid over it.
func (a *sectionAsk) courses(cmd *cobra.Command, name string, d *plan.Desk, t train.Train) ([]plan.Course, error) {
	c, err := d.Course(t)
	if err != nil {
		return nil, err
	}
	over, other := d, t
	switch {
	case a.against != "":
		other, err = drawnTrain(d, []string{a.against})
	case a.on != "":
		then := a.common
		then.asOf = a.on
		over, _, err = then.desk(cmd, name)
	default:
		return []plan.Course{c}, nil
	}
	if err != nil {
		return nil, err
	}
	o, err := over.Course(other)
	return []plan.Course{c, o}, err
}

// print writes the table, or for machines the course itself. A file alone is only
// named.
func (a *sectionAsk) print(out io.Writer, ways []plan.Course, s unit.System) error {
	switch {
	case a.json && len(ways) == 1:
		return writeJSON(out, ways[0])
	case a.json:
		return writeJSON(out, ways)
	case a.out != "" && !a.table:
		_, err := fmt.Fprintf(out, "wrote %s\n", a.out)
		return err
	}
	for i, c := range ways {
		if i > 0 {
			fmt.Fprintln(out)
		}
		if _, err := fmt.Fprint(out, section.TapTable(c, s).Text()); err != nil {
			return err
		}
	}
	return nil
}

// draw writes the drawing into its file.
func (a *sectionAsk) draw(complaints io.Writer, ways []plan.Course, s unit.System) error {
	d := section.Long(ways[0], s)
	if len(ways) > 1 {
		d = section.Overlay(ways[0], ways[1], s)
	}
	if n := canvas.FontNote(); n != "" && fileKind(a.out) != "svg" {
		fmt.Fprintln(complaints, "section: "+n)
	}
	file, err := pictureFile(d, fileKind(a.out), ways[0].AsOf, a.onPaper(s))
	if err != nil {
		return err
	}
	return writePicture(a.out, file)
}

// onPaper is the paper asked for, or that of the units.
func (a *sectionAsk) onPaper(s unit.System) canvas.Paper {
	if a.paper == "a4" || a.paper == "" && s == unit.Metric {
		return canvas.A4
	}
	return canvas.Letter
}

// imageTimes is how much finer than a page an image is: 192 dots to the inch.
const imageTimes = 2

// pictureFile is a drawing as a file of a kind. It is dated by what it shows, so
// that the same answer is the same file.
func pictureFile(d *canvas.Drawing, kind, asOf string, on canvas.Paper) ([]byte, error) {
	switch kind {
	case "pdf":
		made, err := time.Parse(time.DateOnly, asOf)
		if err != nil {
			return nil, err
		}
		return canvas.PDF(made, on, d)
	case "png":
		return canvas.PNG(d, imageTimes)
	}
	return canvas.SVG(d), nil
}

package main

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"strings"

	"github.com/spf13/cobra"
	"golang.org/x/term"

	"wellwright/canvas"
	"wellwright/plan"
	"wellwright/section"
	"wellwright/sheet"
	"wellwright/unit"
)

func formsCommand() *cobra.Command {
	var c common
	var svg string
	cmd := &cobra.Command{
		Use: "forms BOOK", Short: "the forms of iron, what they rest on, and every quantity before and after the evidence", Args: exactly(1),
		Long: `forms says in which forms the iron is there, the evidence for and against each,
what contradicts itself and what would settle it, and draws every quantity before
and after the evidence. --svg writes the picture into a file, in black and white
and described in words for a screen reader.

Exit status: 0 done, 2 bad input.`,
	}
	c.addTo(cmd)
	cmd.Flags().StringVar(&svg, "svg", "", "write the picture of each quantity before and after the evidence into this file")
	cmd.RunE = func(cmd *cobra.Command, args []string) error {
		a, s, err := c.printed(cmd, args[0], sheet.Forms)
		if err != nil || svg == "" {
			return err
		}
		if err := writePicture(svg, canvas.SVG(section.Belief(a, s))); err != nil {
			return fmt.Errorf("forms: %w", err)
		}
		if !c.json {
			_, err = fmt.Fprintf(cmd.OutOrStdout(), "\nwrote %s\n", svg)
		}
		return err
	}
	return cmd
}

func checkCommand() *cobra.Command {
	c := common{unsealed: true}
	cmd := &cobra.Command{
		Use: "check BOOK", Short: "health findings and the checks on the evidence; exit 1 if something cannot be", Args: exactly(1),
		Long: `check says what the evidence shows of health, which checks it passes, what cannot
be or contradicts itself, and draws what was read beside what is believed.

Exit status: 0 done, 1 something cannot be, 2 bad input.`,
	}
	c.addTo(cmd)
	cmd.RunE = func(cmd *cobra.Command, args []string) error {
		a, _, err := c.printed(cmd, args[0], sheet.Checks)
		if err == nil && impossible(a) {
			return errNo
		}
		return err
	}
	return cmd
}

// printed answers a book and prints a sheet with pictures of it, or the whole
// answer for machines. Trains are only searched for where something of them is
// printed.
func (c *common) printed(cmd *cobra.Command, name string, text func(plan.Answer, unit.System, sheet.Ruling) string) (plan.Answer, unit.System, error) {
	d, s, err := c.desk(cmd, name)
	if err != nil {
		return plan.Answer{}, s, err
	}
	a, err := d.Evidence(), error(nil)
	if c.json || c.working {
		a, err = d.Answer()
	}
	if err != nil {
		return a, s, err
	}
	out := cmd.OutOrStdout()
	if c.json {
		return a, s, writeJSON(out, a)
	}
	_, err = fmt.Fprint(out, text(a, s, ruling(out)), sheet.Working(a))
	return a, s, err
}

// ruling is boxed on a terminal that says it shows more than ASCII.
func ruling(out io.Writer) sheet.Ruling {
	f, ok := out.(*os.File)
	if !ok || !term.IsTerminal(int(f.Fd())) || os.Getenv("TERM") == "dumb" || !speaksUTF8() {
		return sheet.Plain
	}
	return sheet.Boxed
}

// speaksUTF8 reports whether the locale's character set is UTF-8; the first
// variable that is set decides (POSIX, 8.2 Internationalization Variables).
func speaksUTF8() bool {
	for _, name := range []string{"LC_ALL", "LC_CTYPE", "LANG"} {
		if v := os.Getenv(name); v != "" {
			v = strings.ReplaceAll(strings.ToUpper(v), "-", "")
			return strings.Contains(v, "UTF8")
		}
	}
	return false
}

// writePicture writes a picture. It writes over an earlier picture but over
// nothing else: a slip of the hand must not cost a book.
func writePicture(name string, picture []byte) error {
	was, err := os.ReadFile(name)
	switch {
	case errors.Is(err, fs.ErrNotExist):
	case err != nil:
		return err
	case !isPicture(was):
		return fmt.Errorf("%s is there already and is no picture; it is left as it is", name)
	}
	return os.WriteFile(name, picture, 0o644)
}

// isPicture reports whether a file begins as an SVG, a PDF or a PNG does.
func isPicture(file []byte) bool {
	for _, begins := range []string{"<svg", "%PDF-", "\x89PNG"} {
		if bytes.HasPrefix(file, []byte(begins)) {
			return true
		}
	}
	return false
}

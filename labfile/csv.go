package labfile

import (
	"bytes"
	"encoding/csv"
	"errors"
	"io"
	"strings"
)

// line is one row of a table.
type line struct {
	n     int // its number in the file, from 1
	cells []string
}

// grid is a table held whole: a text file or one sheet of a workbook.
type grid struct {
	file  string
	sheet string // of a workbook
	epoch bool   // serial dates count from 1904
	lines []line
}

// maxStray is how many lines with a broken quote are mended by starting the
// reader anew; beyond them every line is read for itself.
const maxStray = 20

// readCSV parts a text into rows. A broken quote costs no other line: that line
// is read as it stands.
func readCSV(name string, text []byte, sep rune) (*grid, []Finding) {
	g := &grid{file: name}
	var found []Finding
	starts := lineStarts(text)
	at := 0 // lines read so far
	for stray := 0; at < len(starts); stray++ {
		r := newCSV(text[starts[at]:], sep, false)
		bad, err := g.strict(r, at)
		if err == nil {
			return g, found
		}
		found = append(found, quoteFinding(name, bad))
		g.lazy(text, starts, bad, sep)
		at = bad
		if stray == maxStray {
			for at++; at <= len(starts); at++ {
				g.lazy(text, starts, at, sep)
			}
			return g, found
		}
	}
	return g, found
}

func newCSV(text []byte, sep rune, lazy bool) *csv.Reader {
	r := csv.NewReader(bytes.NewReader(text))
	r.Comma, r.FieldsPerRecord, r.LazyQuotes = sep, -1, lazy
	return r
}

// strict reads rows until the end or a broken quote, whose line it returns.
func (g *grid) strict(r *csv.Reader, before int) (int, error) {
	for {
		cells, err := r.Read()
		var parse *csv.ParseError
		switch {
		case errors.Is(err, io.EOF):
			return 0, nil
		case errors.As(err, &parse):
			return before + parse.StartLine, err
		case err != nil:
			return 0, nil // a reader over memory gives no other error
		}
		n, _ := r.FieldPos(0)
		g.lines = append(g.lines, line{before + n, cells})
	}
}

// lazy reads line n of the text alone, quotes and all.
func (g *grid) lazy(text []byte, starts []int, n int, sep rune) {
	end := len(text)
	if n < len(starts) {
		end = starts[n]
	}
	one := strings.TrimRight(string(text[starts[n-1]:end]), "\n")
	if strings.TrimSpace(one) == "" {
		return
	}
	g.lines = append(g.lines, line{n, strings.Split(strings.ReplaceAll(one, `"`, ""), string(sep))})
}

func quoteFinding(name string, n int) Finding {
	f := Finding{ID: "quote", Level: Notice, Read: "a quote that is not closed or stands inside a cell",
		Want: "the line was parted at every separator; look whether its columns are right"}
	f.Place.File, f.Place.Line = name, n
	return f
}

// lineStarts returns where each line of a text begins.
func lineStarts(text []byte) []int {
	if len(text) == 0 {
		return nil
	}
	starts := []int{0}
	for i, c := range text[:len(text)-1] {
		if c == '\n' {
			starts = append(starts, i+1)
		}
	}
	return starts
}

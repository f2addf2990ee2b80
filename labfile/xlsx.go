package labfile

import (
	"bytes"
	"fmt"
	"strconv"
	"strings"

	"github.com/xuri/excelize/v2"
)

// Bounds of a workbook: a report has some hundreds of rows. The unpacked bounds
// are equal, so that nothing is ever unpacked to disk.
const (
	maxUnzipped = 64 << 20
	maxSheets   = 64
	maxColumns  = 1024
	maxRows     = 200_000
)

// open reads a file as a table. In a workbook it takes the sheet asked for, or
// the first that has a known layout. A nil grid has its reason in the findings.
func open(name string, data []byte, sheet string) (*grid, []Finding) {
	if what := notATable(data); what != "" {
		return nil, []Finding{fileFinding(name, "not-a-table", Refused, what)}
	}
	if bytes.HasPrefix(data, []byte("PK\x03\x04")) {
		return openWorkbook(name, data, sheet)
	}
	text, encoding := decode(data)
	var found []Finding
	if encoding != "" {
		found = append(found, fileFinding(name, "encoding", Notice, "not UTF-8: read as "+encoding))
	}
	g, more := readCSV(name, text, sniff(text))
	return g, append(found, more...)
}

func fileFinding(name, id string, l Level, what string) Finding {
	f := Finding{ID: id, Level: l, Read: what}
	f.Place.File = name
	return f
}

func openWorkbook(name string, data []byte, sheet string) (g *grid, found []Finding) {
	defer func() { // the library may panic on a workbook made to hurt it
		if p := recover(); p != nil {
			g, found = nil, []Finding{fileFinding(name, "workbook", Refused, fmt.Sprintf("a broken workbook: %v", p))}
		}
	}()
	f, err := excelize.OpenReader(bytes.NewReader(data), excelize.Options{RawCellValue: true,
		UnzipSizeLimit: maxUnzipped, UnzipXMLSizeLimit: maxUnzipped})
	if err != nil {
		return nil, []Finding{fileFinding(name, "workbook", Refused, "a workbook that cannot be opened: "+err.Error())}
	}
	defer f.Close()
	return pick(f, name, sheet)
}

// pick takes the sheet asked for, or the first with a known layout, and tells of
// the others that hold a table too.
func pick(f *excelize.File, name, sheet string) (*grid, []Finding) {
	var found []Finding
	var best *grid
	known := false
	names := f.GetSheetList()
	for _, s := range names[:min(len(names), maxSheets)] {
		if sheet != "" && !strings.EqualFold(s, sheet) {
			continue
		}
		g, err := readSheet(f, name, s)
		if err != nil {
			found = append(found, fileFinding(name, "workbook", Refused, fmt.Sprintf("sheet %q: %v", s, err)))
			continue
		}
		_, _, err = g.detect(nil)
		switch {
		case err == nil && known:
			other := fileFinding(name, "other-sheet", Notice, fmt.Sprintf("sheet %q holds a table too, and was not read", s))
			other.Want = "read it by its name, as a worksheet of its own"
			found = append(found, other)
		case err == nil || best == nil && len(g.lines) > 0:
			best, known = g, err == nil
		}
	}
	if best == nil && len(found) == 0 {
		found = append(found, fileFinding(name, "workbook", Refused,
			fmt.Sprintf("no sheet %q with anything in it; the sheets are %s", sheet, strings.Join(names, ", "))))
	}
	return best, found
}

// readSheet reads the raw values of a sheet: no number is rounded by its format.
func readSheet(f *excelize.File, name, sheet string) (*grid, error) {
	rows, err := f.Rows(sheet)
	if err != nil {
		return nil, err
	}
	defer rows.Close()
	g := &grid{file: name, sheet: sheet, epoch: dates1904(f)}
	for n := 1; rows.Next(); n++ {
		if n > maxRows {
			return nil, fmt.Errorf("more than %d rows; save what is wanted as CSV", maxRows)
		}
		cells, err := rows.Columns()
		if err != nil {
			return nil, err
		}
		if len(cells) > maxColumns {
			return nil, fmt.Errorf("row %d has %d columns; want no more than %d", n, len(cells), maxColumns)
		}
		if !blank(cells) {
			g.lines = append(g.lines, line{n, tidied(cells)})
		}
	}
	return g, rows.Error()
}

func dates1904(f *excelize.File) bool {
	p, err := f.GetWorkbookProps()
	return err == nil && p.Date1904 != nil && *p.Date1904
}

func blank(cells []string) bool {
	for _, c := range cells {
		if strings.TrimSpace(c) != "" {
			return false
		}
	}
	return true
}

// tidied takes the noise of binary fractions out of stored numbers: a workbook
// keeps 7.3 as 7.2999999999999998. Fifteen digits are all it shows anybody.
func tidied(cells []string) []string {
	for i, c := range cells {
		if len(c) < 16 || strings.Trim(c, "0123456789.eE+-") != "" {
			continue
		}
		if v, err := strconv.ParseFloat(c, 64); err == nil && strings.ContainsAny(c, ".eE") {
			cells[i] = strconv.FormatFloat(v, 'g', 15, 64)
		}
	}
	return cells
}

// cell names a cell as a workbook does: "Sheet1!C5".
func (g *grid) cell(col, row int) string {
	if g.sheet == "" || col < 0 {
		return ""
	}
	name, err := excelize.CoordinatesToCellName(col+1, row)
	if err != nil {
		return ""
	}
	return g.sheet + "!" + name
}

package web

import (
	"maps"
	"net/url"
	"slices"
	"strconv"
	"strings"

	"wellwright/labfile"
)

// mappingLook is what the columns of a table are taken to mean, to be changed.
type mappingLook struct {
	From       string // where it was kept; "" if it was proposed here
	Layouts    []string
	Layout     string
	Sheet      string
	Names      int
	Units      int
	Dates      string
	Decimal    string
	OnSite     bool
	Columns    []columnLook
	Labels     []labelLook
	Analytes   []nameLook // names of analytes, the laboratory's and ours
	Meanings   []string
	DateOrders []string
}

type columnLook struct {
	Index int
	labfile.Column
}

type labelLook struct {
	Index int
	labfile.Label
}

type nameLook struct {
	Index        int
	Theirs, Ours string
}

// spareNames is how many names of analytes may be added at a time.
const spareNames = 2

// mappingLookOf shows a mapping, and asks for the names that no one knows.
func mappingLookOf(m *labfile.Mapping, from string, found []labfile.Finding) *mappingLook {
	l := &mappingLook{From: from, Layouts: []string{labfile.Long, labfile.Wide, labfile.Across}, Layout: m.Layout, Sheet: m.Sheet, Names: m.Names, Units: m.Units,
		Dates: m.Dates, Decimal: m.Decimal, OnSite: m.OnSite, Meanings: labfile.Meanings(), DateOrders: []string{"", "month first", "day first"}}
	for i, c := range m.Columns {
		l.Columns = append(l.Columns, columnLook{i, c})
	}
	for i, x := range m.Labels {
		l.Labels = append(l.Labels, labelLook{i, x})
	}
	seen := map[string]bool{}
	add := func(theirs, ours string) {
		if !seen[theirs] || theirs == "" {
			l.Analytes = append(l.Analytes, nameLook{len(l.Analytes), theirs, ours})
		}
		seen[theirs] = true
	}
	for _, theirs := range slices.Sorted(maps.Keys(m.Analytes)) {
		add(theirs, m.Analytes[theirs])
	}
	for _, name := range labfile.UnknownNames(found) {
		add(name, "")
	}
	for range spareNames {
		add("", "")
	}
	return l
}

// The most of a mapping that is read from a form.
const mostColumns, mostNames = 1024, 400

// mappingOf reads a mapping from a form, and says what is wrong with it.
func mappingOf(f url.Values) (*labfile.Mapping, []string) {
	m := labfile.Mapping{Layout: f.Get("layout"), Sheet: f.Get("sheet"), Dates: f.Get("dates"), Decimal: f.Get("decimal"), OnSite: f.Get("on-site") != "", Names: whole(f.Get("names")), Units: whole(f.Get("units"))}
	for i := range mostColumns {
		at := "column/" + strconv.Itoa(i) + "/"
		if !f.Has(at + "is") {
			break
		}
		c := labfile.Column{Name: f.Get(at + "name"), Is: f.Get(at + "is")}
		if c.Is == "result" || c.Is == "well depth" {
			c.Unit = strings.TrimSpace(f.Get(at + "unit"))
		}
		if c.Is == "result" {
			c.Analyte, c.Fraction, c.Basis = strings.TrimSpace(f.Get(at+"analyte")), strings.TrimSpace(f.Get(at+"fraction")), strings.TrimSpace(f.Get(at+"basis"))
		}
		m.Columns = append(m.Columns, c)
	}
	for i := range mostColumns {
		at := "label/" + strconv.Itoa(i) + "/"
		if !f.Has(at + "is") {
			break
		}
		if is := f.Get(at + "is"); is != "ignore" {
			m.Labels = append(m.Labels, labfile.Label{Text: f.Get(at + "name"), Is: is})
		}
	}
	for i := range mostNames {
		at := "analyte/" + strconv.Itoa(i) + "/"
		theirs, ours := strings.TrimSpace(f.Get(at+"theirs")), strings.TrimSpace(f.Get(at+"ours"))
		if theirs == "" || ours == "" {
			continue
		}
		if m.Analytes == nil {
			m.Analytes = map[string]string{}
		}
		m.Analytes[theirs] = ours
	}
	return &m, m.Faults()
}

// whole reads a number of a line; 0 for none.
func whole(s string) int {
	n, err := strconv.Atoi(strings.TrimSpace(s))
	if err != nil || n < 0 {
		return 0
	}
	return n
}

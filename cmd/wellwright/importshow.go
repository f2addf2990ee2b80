package main

import (
	"fmt"
	"io"
	"strings"
	"text/tabwriter"

	"wellwright/labfile"
)

// shownSample is one sample for machines.
type shownSample struct {
	Site      string        `json:"site,omitempty"`
	SiteName  string        `json:"site_name,omitempty"`
	Sheet     string        `json:"sheet,omitempty"`
	Sampled   string        `json:"sampled"`
	Zone      string        `json:"time_zone,omitempty"`
	Kind      string        `json:"kind"`
	Tap       string        `json:"tap"`
	Duplicate bool          `json:"duplicate,omitempty"`
	Balance   *float64      `json:"agency_charge_balance,omitempty"`
	Results   []shownResult `json:"results"`
	Remarks   []string      `json:"remarks,omitempty"`
}

type shownResult struct {
	Line     int    `json:"line"`
	Cell     string `json:"cell,omitempty"`
	Received string `json:"received"`
	Name     string `json:"name"`
	Stands   string `json:"stands"`
	Note     string `json:"note,omitempty"`
}

type shownFile struct {
	File     string            `json:"file"`
	SHA256   string            `json:"sha256"`
	Layout   labfile.Format    `json:"layout"`
	Mapping  *labfile.Mapping  `json:"mapping,omitempty"`
	Samples  []shownSample     `json:"samples"`
	Findings []labfile.Finding `json:"findings"`
}

func (m *importing) forMachines(samples []labfile.Sample, found []labfile.Finding) shownFile {
	f := shownFile{File: m.file, SHA256: m.sha, Layout: m.format, Mapping: m.columns, Samples: []shownSample{}, Findings: found}
	if f.Findings == nil {
		f.Findings = []labfile.Finding{}
	}
	for _, s := range samples {
		one := shownSample{s.Site, s.SiteName, s.Sheet, sampledOn(s), s.Zone, kindOf(s), string(s.Report.Tap), s.Duplicate, s.Balance, nil, s.Remarks}
		for i, l := range s.Lines {
			one.Results = append(one.Results, shownResult{l.Place.Line, l.Cell, l.Received, s.NameInBook(i), s.Stands(i), s.Report.Results[i].Note})
		}
		f.Samples = append(f.Samples, one)
	}
	return f
}

func sampledOn(s labfile.Sample) string {
	if s.Timed {
		return s.Report.Sampled.Format("2006-01-02 15:04")
	}
	return s.Report.Sampled.Format("2006-01-02")
}

func kindOf(s labfile.Sample) string {
	if s.Report.Field {
		return "readings"
	}
	return "laboratory report"
}

// listed prints what samples are in the file, a line each.
func (m *importing) listed(out io.Writer, samples []labfile.Sample, found []labfile.Finding) error {
	samples, found = m.chosen(samples), m.about(found)
	if m.json {
		return writeJSON(out, m.forMachines(samples, found))
	}
	m.heading(out, samples)
	w := tabwriter.NewWriter(out, 0, 0, 2, ' ', 0)
	fmt.Fprintln(w, "site\tsampled\tkind\tresults\tsheet")
	for _, s := range samples {
		kind := kindOf(s)
		if s.Duplicate {
			kind += ", duplicate"
		}
		fmt.Fprintf(w, "%s\t%s\t%s\t%d\t%s\n", strings.TrimSpace(s.Site+" "+s.SiteName), sampledOn(s), kind, len(s.Lines), s.Sheet)
	}
	if err := w.Flush(); err != nil {
		return err
	}
	m.showFindings(out, found)
	if len(samples) == 0 {
		return fmt.Errorf("import: no sample in %s", m.file)
	}
	return nil
}

// heading says what file it is and how it was read.
func (m *importing) heading(out io.Writer, samples []labfile.Sample) {
	layout := m.format
	if len(samples) > 0 {
		layout = samples[0].Format
	}
	fmt.Fprintf(out, "%s: layout %s, samples: %d, sha256 %s\n", m.file, layout, len(samples), m.sha)
	if m.columns == nil {
		return
	}
	if m.from != "" {
		fmt.Fprintf(out, "column mapping: %s\n", m.from)
	} else {
		fmt.Fprintln(out, "column mapping: proposed here; look at it before you rely on it")
	}
	w := tabwriter.NewWriter(out, 0, 0, 2, ' ', 0)
	for _, c := range m.columns.Columns {
		fmt.Fprintf(w, "  %s\t%s\n", c.Name, strings.Join(strings.Fields(c.Is+" "+c.Fraction+" "+c.Analyte+" "+c.Unit+" "+c.Basis), " "))
	}
	for _, l := range m.columns.Labels {
		fmt.Fprintf(w, "  %s (above the table)\t%s\n", l.Text, l.Is)
	}
	w.Flush()
	if m.columns.Dates != "" {
		fmt.Fprintf(out, "  dates are %s\n", m.columns.Dates)
	}
	if m.columns.Decimal != "" {
		fmt.Fprintf(out, "  the decimal mark is %q\n", m.columns.Decimal)
	}
}

// show prints every value as received and as it will stand, then what was
// refused and why.
func (m *importing) show(out io.Writer, samples []labfile.Sample, found []labfile.Finding) error {
	if m.json {
		return writeJSON(out, m.forMachines(samples, found))
	}
	m.heading(out, samples)
	const most = 40 // samples shown whole
	for i, s := range samples {
		if i == most {
			fmt.Fprintf(out, "\n... and %d more samples; choose with --site or --sheet, or see --list and --json\n", len(samples)-most)
			break
		}
		if err := showSample(out, s); err != nil {
			return err
		}
	}
	m.showFindings(out, found)
	return nil
}

func showSample(out io.Writer, s labfile.Sample) error {
	head := []string{kindOf(s), strings.TrimSpace(sampledOn(s) + " " + s.Zone), "tap " + string(s.Report.Tap)}
	for _, p := range []struct{ what, text string }{{"site ", s.Site}, {"", s.SiteName}, {"sheet ", s.Sheet}, {"by ", s.Report.Laboratory}} {
		if p.text != "" {
			head = append(head, p.what+p.text)
		}
	}
	if s.Duplicate {
		head = append(head, "a field duplicate")
	}
	fmt.Fprintf(out, "\n%s\n", strings.Join(head, ", "))
	w := tabwriter.NewWriter(out, 0, 0, 2, ' ', 0)
	fmt.Fprintln(w, "  line\tas received\tas it will stand")
	for i, l := range s.Lines {
		at := l.Cell
		if at == "" {
			at = fmt.Sprint(l.Place.Line)
		}
		fmt.Fprintf(w, "  %s\t%s\t%s: %s\n", at, l.Received, s.NameInBook(i), s.Stands(i))
	}
	if err := w.Flush(); err != nil {
		return err
	}
	for _, r := range s.Remarks {
		fmt.Fprintf(out, "  remark: %s\n", r)
	}
	return nil
}

// showFindings prints the findings by kind: the first of each in full, of the
// rest where they stand.
func (m *importing) showFindings(out io.Writer, all []labfile.Finding) {
	const whole = 12
	for _, sort := range labfile.Sorts(all) {
		fs := sort.Findings
		fmt.Fprintf(out, "\n%s, %s: %d\n", sort.Level, sort.What, len(fs))
		for _, f := range fs[:min(len(fs), whole)] {
			fmt.Fprintf(out, "  %s\n", f.Error())
		}
		if len(fs) > whole {
			fmt.Fprintf(out, "  and as the last on %s\n", places(fs[whole:]))
		}
	}
	if len(all) > 0 {
		fmt.Fprintln(out)
	}
}

// places lists where findings stand.
func places(fs []labfile.Finding) string {
	var ps []string
	for _, f := range fs {
		if f.Cell != "" {
			ps = append(ps, f.Cell)
		} else {
			ps = append(ps, fmt.Sprint(f.Place.Line))
		}
	}
	return "lines " + strings.Join(ps, ", ")
}

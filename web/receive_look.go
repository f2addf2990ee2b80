package web

import (
	"bytes"
	"encoding/json"
	"fmt"
	"slices"
	"strconv"
	"strings"

	"wellwright/book"
	"wellwright/labfile"
	"wellwright/web/internal/form"
)

// look is a received file as it would be taken.
type look struct {
	Key, File, Size, Hash string
	Layout                string
	Workbook              bool
	Worksheet             string // asked for; "" for the first with a table
	Seen                  string // what is shown, in one hash: only that can be accepted
	Broken                bool   // nothing can be read
	Mapping               *mappingLook
	Sites                 []siteLook
	Site                  string
	Samples               []sampleLook
	From, Next, Before    int // of the samples
	All                   int
	Refused               int
	Findings              []sortLook
	Analytes              []string

	samples []labfile.Sample
	mapping *labfile.Mapping
}

// siteLook is one of several sites in a file.
type siteLook struct {
	Name, Say string
	Samples   int
}

// sampleLook is one sample with its values.
type sampleLook struct {
	Index   int
	Head    string
	Held    string // the entry that has it already
	Rival   string
	Remarks []string
	Values  []valueLook
}

// valueLook is one value as received and as it would stand.
type valueLook struct{ At, Received, Name, Stands, Note string }

// sortLook is findings of one sort: rows that were not taken, or are worth a look.
type sortLook struct {
	Level, What string
	Count       int
	First       []findingLook
	More        string // where the others stand
}

// findingLook is one of them.
type findingLook struct{ At, Read, Want string }

// The most that one page shows: judgement. A browser takes some thousand rows with
// ease.
const (
	samplesShown  = 40
	findingsShown = 8  // of one sort
	placesShown   = 40 // of those not shown
	sitesShown    = 500
)

// lookAt reads a file with what was said of it.
func lookAt(o opened, x sent, mappingFrom string) *look {
	l := &look{Key: x.key, File: x.file.Name, Size: size(x.file.Size), Hash: x.file.Hash, Site: x.site, Analytes: form.Analytes(), mapping: x.opt.Mapping,
		Workbook: bytes.HasPrefix(x.file.Content, []byte("PK\x03\x04")), Worksheet: x.opt.Worksheet}
	var found []labfile.Finding
	if format, err := labfile.Detect(x.file.Name, x.file.Content); err == nil && format == labfile.Mapped && l.mapping == nil {
		l.mapping, found = labfile.Guess(x.file.Name, x.file.Content, x.opt.Worksheet)
		x.opt.Mapping = l.mapping
	}
	var samples []labfile.Sample
	var more []labfile.Finding
	if len(x.faults) == 0 {
		samples, more = labfile.Read(x.file.Name, x.file.Content, x.opt)
	}
	proposed := found
	for _, f := range more {
		if !slices.Contains(proposed, f) { // what the proposal and the reading both say is said once
			found = append(found, f)
		}
	}
	if l.mapping != nil {
		l.Mapping = mappingLookOf(l.mapping, mappingFrom, found)
		l.Layout = "a table by its columns"
	} else if len(samples) > 0 {
		l.Layout = layoutWords(samples[0].Format)
	}
	l.Broken = len(samples) == 0 && l.mapping == nil
	l.choose(samples)
	l.findings(found)
	l.show(o, x)
	l.Seen = l.seen(x)
	return l
}

// from is where the mapping was kept before.
func (l *look) from() string {
	if l.Mapping == nil {
		return ""
	}
	return l.Mapping.From
}

// layoutWords names a layout.
func layoutWords(f labfile.Format) string {
	switch f {
	case labfile.WQX3, labfile.WQXNarrow, labfile.WQXResults:
		return "a water-quality portal's export"
	case labfile.OhioSheets:
		return "sheets of a survey"
	}
	return string(f)
}

// choose keeps the samples of the site asked for, and lists the sites where a file
// has several: a book is of one well.
func (l *look) choose(samples []labfile.Sample) {
	sites := labfile.Sites(samples)
	if len(sites) <= 1 {
		l.samples = samples
		return
	}
	at := map[string]int{}
	for _, s := range samples {
		if i, ok := at[s.Site]; ok {
			l.Sites[i].Samples++
			continue
		}
		at[s.Site] = len(l.Sites)
		l.Sites = append(l.Sites, siteLook{Name: s.Site, Say: strings.TrimSpace(s.Site + " " + s.SiteName), Samples: 1})
	}
	l.Sites = l.Sites[:min(len(l.Sites), sitesShown)]
	for _, s := range samples {
		if s.Site == l.Site {
			l.samples = append(l.samples, s)
		}
	}
}

// findings shows what was refused before what is only worth knowing, of the site
// asked for.
func (l *look) findings(all []labfile.Finding) {
	var ours []labfile.Finding
	for _, f := range all {
		if l.Site == "" || f.Site == "" || f.Site == l.Site {
			ours = append(ours, f)
		}
	}
	slices.SortStableFunc(ours, func(a, b labfile.Finding) int { return int(a.Level) - int(b.Level) })
	l.Refused = len(labfile.Refusals(ours))
	for _, sort := range labfile.Sorts(ours) {
		l.Findings = append(l.Findings, sortLookOf(sort))
	}
}

func sortLookOf(s labfile.Sort) sortLook {
	out := sortLook{Level: s.Level.String(), What: s.What, Count: len(s.Findings)}
	var more []string
	for i, f := range s.Findings {
		at := place(f.Cell, f.Place.Line)
		switch {
		case i < findingsShown:
			out.First = append(out.First, findingLook{at, f.Read, f.Want})
		case len(more) < placesShown:
			more = append(more, at)
		}
	}
	if out.More = strings.Join(more, ", "); len(s.Findings) > findingsShown+placesShown {
		out.More += " and on"
	}
	return out
}

// place is the cell or the line that something stands in.
func place(cell string, line int) string {
	switch {
	case cell != "":
		return cell
	case line > 0:
		return "line " + strconv.Itoa(line)
	}
	return ""
}

// show writes out some of the samples.
func (l *look) show(o opened, x sent) {
	l.All = len(l.samples)
	l.From = min(x.from, max(0, l.All-1))
	end := min(l.From+samplesShown, l.All)
	if end < l.All {
		l.Next = end
	}
	l.Before = max(0, l.From-samplesShown)
	for i := l.From; i < end; i++ {
		l.Samples = append(l.Samples, sampleLookOf(o, x, i, l.samples[i]))
	}
}

func sampleLookOf(o opened, x sent, i int, s labfile.Sample) sampleLook {
	out := sampleLook{Index: i, Head: sampleHead(s), Remarks: s.Remarks}
	out.Held, _ = labfile.Held(o.book, s, x.kept())
	for _, a := range labfile.Additions(o.book, []labfile.Sample{s}, x.kept(), o.present.AsOf) {
		if a.Sample == 0 {
			out.Rival = a.Rival
		}
	}
	for j, line := range s.Lines {
		out.Values = append(out.Values, valueLook{place(line.Cell, line.Place.Line), line.Received, s.NameInBook(j), s.Stands(j), s.Report.Results[j].Note})
	}
	return out
}

// sampleHead says when and where a sample was taken, and by whom it was analysed.
func sampleHead(s labfile.Sample) string {
	kind := "Laboratory report"
	if s.Report.Field {
		kind = "Readings on site"
	}
	when := s.Report.Sampled.Format("2006-01-02")
	if s.Timed {
		when = strings.TrimSpace(s.Report.Sampled.Format("2006-01-02 15:04") + " " + s.Zone)
	}
	parts := []string{kind, when, "tap " + string(s.Report.Tap)}
	for _, p := range []string{s.SiteName, s.Sheet, s.Report.Laboratory} {
		if p != "" {
			parts = append(parts, p)
		}
	}
	if s.Duplicate {
		parts = append(parts, "a field duplicate")
	}
	return strings.Join(parts, ", ")
}

// seen is a hash of all that decides what the samples say.
func (l *look) seen(x sent) string {
	text, err := json.Marshal([]any{x.file.Hash, l.mapping, x.opt.Tap, x.opt.On, x.opt.Worksheet, l.Site})
	if err != nil {
		return "" // never accepted
	}
	return book.FileHash(text)
}

// notAcceptable says why what was sent cannot be accepted as it is.
func (l *look) notAcceptable(x sent) []string {
	switch {
	case x.seen == "" || x.seen != l.Seen:
		return []string{"what the columns mean was changed since the values were shown: look at them again below, then accept"}
	case len(l.Sites) > 1 && l.Site == "":
		return []string{fmt.Sprintf("the file holds %d sites, and a book is of one well: choose one", len(l.Sites))}
	case len(l.chosen(x.take)) == 0:
		return []string{"no sample is chosen: nothing to take"}
	}
	return nil
}

// chosen are the samples that were ticked.
func (l *look) chosen(take []string) []int {
	var out []int
	for _, t := range take {
		if i, err := strconv.Atoi(t); err == nil && i >= 0 && i < len(l.samples) && !slices.Contains(out, i) {
			out = append(out, i)
		}
	}
	slices.Sort(out)
	return out
}

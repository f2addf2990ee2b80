package labfile

import (
	"fmt"
	"maps"
	"path"
	"slices"
	"strings"
	"time"

	"wellwright/book"
)

// MappingEnd is how the names of column mappings end that are kept for the next
// file of a laboratory.
const MappingEnd = ".mapping.yaml"

// MappingName is the name under which the mapping of a file is kept.
func MappingName(file string) string {
	return strings.TrimSuffix(path.Base(file), path.Ext(file)) + MappingEnd
}

// Addition is one entry that a received file brings to a book.
type Addition struct {
	Entry  book.NewEntry
	Says   string // what it is, in a line
	Rival  string // an entry of the same kind and time from elsewhere, and what to do about it; "" for none
	Sample int    // the sample it comes from; -1: the well record
}

// Additions are the entries that samples of one file bring to a book: a well
// record, if the file knows more of the well than the book does, and an entry for
// each sample that the book does not hold yet.
func Additions(b *book.Book, samples []Sample, k Kept, on time.Time) []Addition {
	var out []Addition
	if len(samples) == 0 {
		return nil
	}
	from := fmt.Sprintf("from %s, sha256 %s", k.File, k.SHA256)
	if e, ok := samples[0].Well.WellEntry(samples[0].Report.Sampled, b.Present(on), from); ok {
		e.By = oneLine(k.By)
		out = append(out, Addition{Entry: e, Says: "well record", Sample: -1})
	}
	for i, s := range samples {
		e := s.Entry(k)
		if _, held := Held(b, s, k); held {
			continue
		}
		out = append(out, Addition{Entry: e, Says: fmt.Sprintf("%s of %s, %d results", e.Kind, e.On.Format(time.DateOnly), len(s.Lines)), Rival: rival(b, e, k), Sample: i})
	}
	return out
}

// Held names the entry of a book that has this sample of this file already.
func Held(b *book.Book, s Sample, k Kept) (id string, held bool) {
	e := s.Entry(k)
	for _, old := range b.Entries {
		if old.Kind == e.Kind && old.On.Equal(e.On) && mentions(old.Written, k.SHA256) &&
			(s.Sheet == "" || mentions(old.Written, s.Sheet)) && s.Duplicate == mentions(old.Written, "a field duplicate") {
			return old.ID, true
		}
	}
	return "", false
}

// rival names an entry of the same kind and time that came from another file: a
// revised report adds to the first, unless that is withdrawn.
func rival(b *book.Book, e book.NewEntry, k Kept) string {
	for _, old := range b.Entries {
		if old.Kind == e.Kind && old.On.Equal(e.On) && !mentions(old.Written, k.SHA256) {
			return fmt.Sprintf("entry %s is a %s of the same time from elsewhere; if this file replaces it, withdraw it", old.ID, old.Kind)
		}
	}
	return ""
}

func mentions(v book.Value, s string) bool {
	return strings.Contains(v.Text, s) ||
		slices.ContainsFunc(v.List, func(item book.Value) bool { return mentions(item, s) }) ||
		slices.ContainsFunc(v.Pairs, func(p book.Pair) bool { return mentions(p.Value, s) })
}

// Sites names the sites of samples, in order of the alphabet; "" where one names
// none. A book is of one well.
func Sites(samples []Sample) []string {
	return distinct(samples, func(s Sample) string { return s.Site })
}

// Sheets names the sample numbers of samples, in order of the alphabet.
func Sheets(samples []Sample) []string {
	return distinct(samples, func(s Sample) string { return s.Sheet })
}

// UnknownNames are the names of analytes in a file that nobody here knows, in
// order of the alphabet: a mapping may say what they are.
func UnknownNames(found []Finding) []string {
	seen := map[string]bool{}
	for _, f := range found {
		if f.Unknown != "" {
			seen[f.Unknown] = true
		}
	}
	return slices.Sorted(maps.Keys(seen))
}

func distinct(samples []Sample, of func(Sample) string) []string {
	seen := map[string]bool{}
	for _, s := range samples {
		seen[of(s)] = true
	}
	return slices.Sorted(maps.Keys(seen))
}

// Sort is findings of one sort, in the order of the file.
type Sort struct {
	Level    Level
	What     string // in words
	Findings []Finding
}

// Sorts parts findings by their sort, in the order of the first of each.
func Sorts(all []Finding) []Sort {
	var out []Sort
	at := map[string]int{}
	for _, f := range all {
		key := f.Level.String() + f.ID
		i, ok := at[key]
		if !ok {
			i = len(out)
			at[key] = i
			out = append(out, Sort{Level: f.Level, What: strings.ReplaceAll(f.ID, "-", " ")})
		}
		out[i].Findings = append(out[i].Findings, f)
	}
	return out
}

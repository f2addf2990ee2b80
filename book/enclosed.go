package book

import (
	"fmt"
	"strings"

	"wellwright/water"
)

// Enclosed is a file that came with an entry, named by the hash of its content,
// so that the chain of hashes guards it too.
type Enclosed struct {
	Name   string // as it was received
	SHA256 string
}

var enclosedFields = []field{
	required(text("name", "of the file as received", "pit.jpg", func(f *Enclosed) *string { return &f.Name })),
	required(scalar("sha256", "hash of the file, written by the program", strings.Repeat("0", 64), func(s string, f *Enclosed) error {
		f.SHA256 = strings.ToLower(s)
		if !hashForm.MatchString(f.SHA256) {
			return fmt.Errorf("sha256 %q: want 64 of the letters 0-9 and a-f", s)
		}
		return nil
	})),
}

// enclosedField is the files of an entry.
func enclosedField() field {
	return many("files", "photographs and papers kept with the entry", "", enclosedFields, nil,
		func(_ *reader, e *Entry, files []Enclosed) { e.Files = files })
}

// Enclosures are the files that the entry names: those under its key files, and
// the received file of a laboratory report.
func (e Entry) Enclosures() []Enclosed {
	all := e.Files
	if rep, ok := e.Body.(*water.Report); ok && rep != nil && rep.SHA256 != "" {
		all = append([]Enclosed{{Name: rep.File, SHA256: rep.SHA256}}, all...)
	}
	return all
}

// enclosed writes files as a value.
func enclosed(files []Enclosed) Value {
	v := Value{Shape: List}
	for _, f := range files {
		v.List = append(v.List, Fields(Under("name", f.Name), Under("sha256", f.SHA256)))
	}
	return v
}

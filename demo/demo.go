// Package demo holds the bundled demonstration wells. All of them, with their
// places, readings and people, are invented.
package demo

import (
	"embed"
	"io/fs"
	"sort"
	"strings"
)

//go:embed *.yaml
var files embed.FS

// Well is one bundled book.
type Well struct {
	Name string // as it is asked for: the file's name without its ending
	Text []byte
}

// Wells returns the bundled books by name.
func Wells() ([]Well, error) {
	names, err := fs.Glob(files, "*.yaml")
	if err != nil {
		return nil, err
	}
	sort.Strings(names)
	ws := make([]Well, 0, len(names))
	for _, n := range names {
		text, err := files.ReadFile(n)
		if err != nil {
			return nil, err
		}
		ws = append(ws, Well{strings.TrimSuffix(n, ".yaml"), text})
	}
	return ws, nil
}

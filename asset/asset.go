// Package asset is the files of others that pages and papers use: the fonts, and
// the scripts of the browser. They are fetched when the program is built (make
// assets) and embedded; a program built without them does without, and says so.
package asset

import (
	"embed"
	"io/fs"
)

//go:embed all:fetched
var fetched embed.FS

// Script is a script for the browser.
type Script string

// The scripts.
const (
	HTMX Script = "htmx/htmx.min.js" // replaces parts of a page
	SSE  Script = "sse/sse.min.js"   // takes in what the server pushes
)

// Style is a cut of the one typeface.
type Style string

// The styles.
const (
	Regular Style = "Regular"
	Bold    Style = "Bold"
	Italic  Style = "It"
)

// Files are all fetched files by their path, for a server to hand out.
func Files() fs.FS {
	sub, err := fs.Sub(fetched, "fetched")
	if err != nil {
		panic(err) // the folder is named above
	}
	return sub
}

// Font returns the typeface of papers, Source Sans 3, as a TrueType file; ok is
// false where the program was built without it.
func Font(s Style) (ttf []byte, ok bool) {
	ttf, err := fetched.ReadFile("fetched/font/SourceSans3-" + string(s) + ".ttf")
	return ttf, err == nil
}

// Missing names the files that the program was built without.
func Missing() []string {
	want := []string{string(HTMX), string(SSE)}
	for _, s := range []Style{Regular, Bold, Italic} {
		want = append(want, "font/SourceSans3-"+string(s)+".ttf", "font/SourceSans3-"+string(s)+".ttf.woff2")
	}
	var missing []string
	for _, name := range want {
		if _, err := fs.Stat(fetched, "fetched/"+name); err != nil {
			missing = append(missing, name)
		}
	}
	return missing
}

// Package house_test holds the order of the rooms: which package may import which.
package house_test

import (
	"go/parser"
	"go/token"
	"io/fs"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"
)

// rooms lists the packages of the house from the ground up. A room may import
// only rooms above it in this list. See docs/decisions/0001-rooms-and-their-order.md.
var rooms = []string{
	"unit", "source", "formula", "chem", "hydraulic", "statistic", "water", "limits", "well",
	"media", "cost", "rehab", "book", "cloud", "stage", "train", "nexttest", "plan", "care", "trial",
	"labfile", "demo", "asset", "canvas", "section", "sheet", "store", "store/storetest", "web", "cmd/wellwright",
	"scripts/fitprior", // writes the data file of cloud; nothing imports it
}

const module = "wellwright/"

func TestImportsPointUp(t *testing.T) {
	level := map[string]int{}
	for i, r := range rooms {
		level[r] = i
	}
	for _, file := range goFiles(t) {
		room := roomOf(file)
		mine, known := level[room]
		if !known {
			if room != "." {
				t.Errorf("%s: room %q is not in the table", file, room)
			}
			continue
		}
		for _, imported := range ours(t, file) {
			theirs, known := level[strings.Split(imported, "/internal")[0]]
			test := strings.HasSuffix(file, "_test.go")
			if !known {
				t.Errorf("%s imports %q, which is not in the table", file, imported)
			} else if theirs > mine && !test {
				t.Errorf("%s imports %s, which stands below %s", file, imported, room)
			}
		}
	}
}

// Every package starts its comment with its name, and says one thing.
func TestEveryRoomHasAComment(t *testing.T) {
	said := map[string]bool{}
	for _, file := range goFiles(t) {
		room := roomOf(file)
		f, err := parser.ParseFile(token.NewFileSet(), file, nil, parser.PackageClauseOnly|parser.ParseComments)
		if err != nil {
			t.Fatal(err)
		}
		said[room] = said[room] || f.Doc != nil && len(f.Doc.Text()) > 20
	}
	for room, ok := range said {
		if !ok {
			t.Errorf("room %s has no package comment", room)
		}
	}
}

// Domain rooms have no clock, disk, network or environment.
func TestDomainRoomsArePure(t *testing.T) {
	impure := map[string]bool{"os": true, "net": true, "net/http": true, "os/exec": true, "database/sql": true, "log": true}
	for _, file := range goFiles(t) {
		if strings.HasSuffix(file, "_test.go") || !domain(roomOf(file)) {
			continue
		}
		for _, path := range imports(t, file) {
			if impure[path] {
				t.Errorf("%s imports %s: a domain room takes values and returns values", file, path)
			}
		}
		text, err := os.ReadFile(file)
		if err != nil {
			t.Fatal(err)
		}
		for _, word := range []string{"time.Now(", "\nfunc init()"} {
			if strings.Contains(string(text), word) {
				t.Errorf("%s uses %s", file, strings.TrimSpace(word))
			}
		}
	}
}

// domain is true of the rooms from unit to labfile.
func domain(room string) bool {
	for _, r := range rooms {
		if r == "canvas" {
			return false
		}
		if r == room {
			return true
		}
	}
	return false
}

func goFiles(t *testing.T) []string {
	t.Helper()
	var files []string
	err := filepath.WalkDir(".", func(path string, d fs.DirEntry, err error) error {
		switch {
		case err != nil:
			return err
		case d.IsDir() && (strings.HasPrefix(d.Name(), ".") && path != "." || d.Name() == "testdata" || d.Name() == "bin" || d.Name() == "node_modules"):
			return filepath.SkipDir
		case strings.HasSuffix(path, ".go"):
			files = append(files, filepath.ToSlash(path))
		}
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
	return files
}

func roomOf(file string) string {
	dir := filepath.ToSlash(filepath.Dir(file))
	return strings.Split(dir, "/internal")[0]
}

func imports(t *testing.T, file string) []string {
	t.Helper()
	f, err := parser.ParseFile(token.NewFileSet(), file, nil, parser.ImportsOnly)
	if err != nil {
		t.Fatal(err)
	}
	var paths []string
	for _, spec := range f.Imports {
		path, err := strconv.Unquote(spec.Path.Value)
		if err != nil {
			t.Fatal(err)
		}
		paths = append(paths, path)
	}
	return paths
}

func ours(t *testing.T, file string) []string {
	t.Helper()
	var rs []string
	for _, path := range imports(t, file) {
		if strings.HasPrefix(path, module) {
			rs = append(rs, strings.TrimPrefix(path, module))
		}
	}
	return rs
}

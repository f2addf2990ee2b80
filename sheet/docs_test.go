package sheet_test

import (
	"encoding/json"
	"go/ast"
	"go/parser"
	"go/token"
	"os"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"
	"time"

	"wellwright/book"
	"wellwright/demo"
	"wellwright/media"
	"wellwright/plan"
)

const (
	answerFile = "../docs/answer.md"
	bookFile   = "../docs/book.md"
	namesFile  = "../stage/names.go"
)

// listed are the names that a page lists: those that begin a row of a table.
func listed(t *testing.T, page string) []string {
	t.Helper()
	text, err := os.ReadFile(page)
	if err != nil {
		t.Fatal(err)
	}
	var names []string
	for _, m := range regexp.MustCompile("(?m)^\\| `([^`]+)` \\|").FindAllStringSubmatch(string(text), -1) {
		for _, n := range strings.Split(m[1], ", ") {
			names = append(names, strings.TrimSuffix(n, "[]"))
		}
	}
	return names
}

// leafNames are the constants of package stage that name sizes and settings.
func leafNames(t *testing.T) []string {
	t.Helper()
	f, err := parser.ParseFile(token.NewFileSet(), namesFile, nil, 0)
	if err != nil {
		t.Fatal(err)
	}
	var names []string
	ast.Inspect(f, func(n ast.Node) bool {
		if v, ok := n.(*ast.ValueSpec); ok {
			for _, x := range v.Values {
				name, err := strconv.Unquote(x.(*ast.BasicLit).Value)
				if err != nil {
					t.Fatal(err)
				}
				names = append(names, name)
			}
		}
		return true
	})
	return names
}

// docs/answer.md lists every leaf name of sizes and settings, and no other.
func TestAnswerPageListsEveryLeaf(t *testing.T) {
	page := listed(t, answerFile)
	leaves := leafNames(t)
	if len(leaves) < 50 {
		t.Fatalf("only %d leaf names found in %s", len(leaves), namesFile)
	}
	for _, n := range leaves {
		if !slices.Contains(page, n) {
			t.Errorf("%s does not list the leaf %s", answerFile, n)
		}
	}
}

// docs/answer.md lists every key that a whole answer of any bundled well has.
func TestAnswerPageListsEveryKey(t *testing.T) {
	page := listed(t, answerFile)
	wells, err := demo.Wells()
	if err != nil {
		t.Fatal(err)
	}
	for _, w := range wells {
		if !slices.Contains([]string{"iron-bacteria", "guest-house", "bottle-without-acid"}, w.Name) {
			continue
		}
		d := desk(t, w.Name, plan.Ask{Prices: media.Prices(), Working: true})
		a := answer(t, d)
		why, err := d.Why([]media.Process{media.Softener})
		if err != nil {
			t.Fatal(err)
		}
		for _, v := range []any{a, why} {
			text, err := json.Marshal(v)
			if err != nil {
				t.Fatal(err)
			}
			var tree any
			if err := json.Unmarshal(text, &tree); err != nil {
				t.Fatal(err)
			}
			keys(tree, func(k string) {
				if !slices.Contains(page, k) {
					page = append(page, k) // said once
					t.Errorf("%s does not list the key %s", answerFile, k)
				}
			})
		}
	}
}

// keys calls tell with every key of a tree, save those that are identifiers of
// limits.
func keys(v any, tell func(string)) {
	switch x := v.(type) {
	case map[string]any:
		for k, under := range x {
			tell(k)
			if k != "pruned" {
				keys(under, tell)
			}
		}
	case []any:
		for _, under := range x {
			keys(under, tell)
		}
	}
}

// entriesHead is the heading below which docs/book.md is written from the table
// that reads a book.
const entriesHead = "## Every kind of entry\n"

// docs/book.md lists every kind of entry with its keys, as the book reads them.
func TestBookPageIsFresh(t *testing.T) {
	text, err := os.ReadFile(bookFile)
	if err != nil {
		t.Fatal(err)
	}
	head, tail, ok := strings.Cut(string(text), entriesHead)
	if !ok {
		t.Fatalf("%s has no heading %q", bookFile, entriesHead)
	}
	want := entries()
	if *update {
		if err := os.WriteFile(bookFile, []byte(head+entriesHead+want), 0o644); err != nil {
			t.Fatal(err)
		}
		return
	}
	if tail != want {
		t.Errorf("%s is stale: run go test ./sheet -run TestBookPage -update", bookFile)
	}
}

// entries writes a table for each kind of entry from the template of a book.
func entries() string {
	var b strings.Builder
	text := string(book.Template("Alder Lane", time.Date(2025, 4, 14, 0, 0, 0, 0, time.UTC)))
	for _, part := range strings.Split(text, "\n# - entry: 2\n")[1:] {
		part, _, _ = strings.Cut(part, "\n\n")
		var path []string
		for _, line := range strings.Split(part, "\n") {
			k, ok := keyLine(line)
			if !ok || k.depth == 1 && (k.key == "date" || k.key == "by") {
				continue
			}
			path = append(path[:min(k.depth-1, len(path))], k.key)
			if k.depth == 1 {
				b.WriteString("\n### `" + k.key + "`\n\n")
				if k.note != "" {
					b.WriteString(sentenceOf(k.note) + "\n\n")
				}
				b.WriteString("| key | what it is | written so |\n|---|---|---|\n")
				continue
			}
			if len(path) > 2 && path[1] == "results" {
				continue // any analyte: told above
			}
			b.WriteString("| `" + strings.Join(path[1:], ": ") + "` | " + strings.ReplaceAll(k.note, "|", "\\|") + " | " + example(k.example) + " |\n")
		}
	}
	return b.String()
}

func example(s string) string {
	if s == "" {
		return ""
	}
	return "`" + s + "`"
}

func sentenceOf(s string) string { return strings.ToUpper(s[:1]) + s[1:] + "." }

// taught is one key of the template.
type taught struct {
	depth              int
	key, example, note string
}

// keyLine reads "#     key: example  # note".
func keyLine(line string) (taught, bool) {
	m := regexp.MustCompile(`^# ( +)(- )?([^:#]+):(?: (.*?))??(?:  # (.*))?$`).FindStringSubmatch(line)
	if m == nil {
		return taught{}, false
	}
	return taught{depth: (len(m[1]) + len(m[2])) / 2, key: m[3], example: m[4], note: m[5]}, true
}

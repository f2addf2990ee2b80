package book

import (
	"bytes"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"
)

func FuzzRead(f *testing.F) {
	files, _ := filepath.Glob("testdata/scenario-*.yaml")
	for _, name := range files {
		text, err := os.ReadFile(name)
		if err != nil {
			f.Fatal(err)
		}
		f.Add(text)
	}
	for _, s := range []string{
		small, history, hashed, "", "-", "- ", "- - - -", "[", "[]", "[[", `[{"entry":1}]`, "- entry: 1\n  <<: *a\n", "? a\n: b\n", "- a: |\n  - b\n", "- 'x\n- y'\n",
		strings.Repeat("- [", 40), "- " + strings.Repeat("{a: ", 40), "%YAML 1.2\n---\n- a\n...\n", "\ufeff- entry: 1\n",
	} {
		f.Add([]byte(s))
	}
	f.Fuzz(func(t *testing.T, text []byte) {
		b, found := Read("f.yaml", text)
		lines := bytes.Count(text, []byte("\n")) + 1
		for _, one := range found {
			if one.Place.Line < 1 || one.Place.Line > lines {
				t.Errorf("finding on line %d of %d: %v", one.Place.Line, lines, one)
			}
			if one.Read == "" {
				t.Errorf("a finding says nothing: %+v", one)
			}
		}
		b.Present(time.Time{})
		b.Check(testDay)
		if len(found) > 0 {
			return
		}
		j, err := b.MarshalJSON()
		if err != nil {
			t.Fatal(err)
		}
		again, found := Read("f.json", j)
		if len(found) > 0 || again.Hash() != b.Hash() {
			t.Errorf("JSON does not read back: %v\n%s", found, j)
		}
		longer, _, err := Append(text, NewEntry{ID: "fuzz-added", On: testDay, Kind: NoteKind, Note: "x"})
		if err == nil && !bytes.HasPrefix(longer, text) {
			t.Error("what was written before has changed")
		}
	})
}

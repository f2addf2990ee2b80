package book

import (
	"os"
	"path/filepath"
	"testing"
	"time"
)

// scenarios are the invented wells under testdata.
func scenarios(t *testing.T) map[string][]byte {
	t.Helper()
	files, err := filepath.Glob("testdata/scenario-*.yaml")
	if err != nil || len(files) != 12 {
		t.Fatalf("want 12 invented wells under testdata, got %d (%v)", len(files), err)
	}
	all := map[string][]byte{}
	for _, f := range files {
		text, err := os.ReadFile(f)
		if err != nil {
			t.Fatal(err)
		}
		all[f] = text
	}
	return all
}

func TestScenariosRead(t *testing.T) {
	for name, text := range scenarios(t) {
		b, found := Read(name, text)
		for _, f := range found {
			t.Error(f)
		}
		for _, f := range Mistakes(b.Check(time.Date(2026, 1, 1, 0, 0, 0, 0, time.UTC))) {
			t.Error(f)
		}
	}
}

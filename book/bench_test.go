package book

import (
	"os"
	"testing"
	"time"
)

func BenchmarkReadAndFold(b *testing.B) {
	text, err := os.ReadFile("testdata/scenario-e.yaml")
	if err != nil {
		b.Fatal(err)
	}
	b.ReportAllocs()
	for b.Loop() {
		k, found := Read("e", text)
		if len(found) > 0 {
			b.Fatal(found)
		}
		k.Present(time.Time{})
	}
}

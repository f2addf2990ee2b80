package store_test

import (
	"context"
	"fmt"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"wellwright/book"
	"wellwright/store"
)

// fiftyEntries is a well of fifty entries with a name.
func fiftyEntries(b *testing.B, name string) []byte {
	b.Helper()
	text := smallBook(name)
	for i := 1; i < 50; i++ {
		e := book.NewEntry{On: day, Kind: book.ReadingsKind, Section: book.Fields(book.Under("tap", "T1"), book.Pair{Key: "results", Value: book.Fields(
			book.Under("total iron", "2.0 mg/L"), book.Under("ferrous iron", fmt.Sprintf("1.%d mg/L", i)), book.Under("pH", "7.3"))})}
		longer, _, err := book.Append(text, e)
		if err != nil {
			b.Fatal(err)
		}
		text = longer
	}
	return text
}

// BenchmarkAppend adds an entry to a young book: two writes that wait for the disk.
func BenchmarkAppend(b *testing.B) {
	ctx := context.Background()
	s, _ := create(b)
	var id book.ID
	head := ""
	for i := 0; b.Loop(); i++ {
		if i%20 == 0 {
			b.StopTimer()
			var err error
			if id, err = s.Add(ctx, smallBook(fmt.Sprint("Lane ", i)), day); err != nil {
				b.Fatal(err)
			}
			k, err := s.Text(ctx, id)
			if err != nil {
				b.Fatal(err)
			}
			head = k.Head
			b.StartTimer()
		}
		e, err := s.Append(ctx, id, head, note("it rained"), day)
		if err != nil {
			b.Fatal(err)
		}
		head = e.Hash
	}
}

// BenchmarkText reads and verifies a book of fifty entries.
func BenchmarkText(b *testing.B) {
	ctx := context.Background()
	s, _ := create(b)
	id, err := s.Add(ctx, fiftyEntries(b, "Alder Lane"), day)
	if err != nil {
		b.Fatal(err)
	}
	b.ReportAllocs()
	for b.Loop() {
		if _, err := s.Text(ctx, id); err != nil {
			b.Fatal(err)
		}
	}
}

// chain is the hashes of a book, which are those of another name; a book written
// by hand has none.
var chain = regexp.MustCompile(`(?m)^  previous: .*\n`)

// county is a store with two hundred wells of fifty entries.
func county(b *testing.B) *store.SQLite {
	b.Helper()
	s, _ := create(b)
	text := string(fiftyEntries(b, "NAME"))
	for i := range 200 {
		text := chain.ReplaceAllString(strings.Replace(text, "NAME", fmt.Sprintf("Lane %03d", i), 1), "")
		if _, err := s.Add(context.Background(), []byte(text), day); err != nil {
			b.Fatal(err)
		}
	}
	return s
}

// BenchmarkSearch finds one well of two hundred by a word, and all of them.
func BenchmarkSearch(b *testing.B) {
	s := county(b)
	for _, asked := range []string{"lane 117", "ferrous"} {
		b.Run(asked, func(b *testing.B) {
			for b.Loop() {
				if found, err := s.Search(context.Background(), asked); err != nil || len(found) == 0 {
					b.Fatal(len(found), err)
				}
			}
		})
	}
	b.Run("list", func(b *testing.B) {
		for b.Loop() {
			if _, err := s.Wells(context.Background()); err != nil {
				b.Fatal(err)
			}
		}
	})
	b.Run("backup", func(b *testing.B) {
		for b.Loop() {
			if _, err := s.Backup(context.Background(), filepath.Join(b.TempDir(), "backup")); err != nil {
				b.Fatal(err)
			}
		}
	})
}

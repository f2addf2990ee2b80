// Package storetest is the one suite that every [book.Store] passes. It tests what
// the interface promises and nothing of how it is kept; the pure functions of
// package book are the second method that a store is compared with.
package storetest

import (
	"context"
	"errors"
	"testing"
	"time"

	"wellwright/book"
	"wellwright/demo"
)

// day is the day on which all of the suite happens.
var day = time.Date(2026, 6, 1, 0, 0, 0, 0, time.UTC)

// Run runs the suite on stores that open makes, each empty and its own.
func Run(t *testing.T, open func(t *testing.T) book.Store) {
	for _, test := range []struct {
		name string
		run  func(*testing.T, book.Store)
	}{
		{"demonstration wells go in and come out", testDemonstration},
		{"any book goes in and comes out, and grows as the book says", testAnyBook},
		{"an empty store", testEmpty},
		{"the list", testList},
		{"the same book twice", testTwice},
		{"books with mistakes", testBadBooks},
		{"unknown wells", testUnknownWells},
		{"entries with mistakes", testBadEntries},
		{"a withdrawal of what came from the future", testFuture},
		{"overtaken", testOvertaken},
		{"many at one well", testManyAtOneWell},
		{"many at many wells", testManyWells},
		{"a question broken off", testBrokenOff},
		{"files with an entry", testFiles},
		{"files with a whole book", testFilesOfBook},
		{"a received report", testReceivedReport},
		{"files that cannot be kept", testBadFiles},
		{"media types", testMediaTypes},
		{"search", testSearch},
		{"search after a new name", testSearchRenamed},
		{"search with anything", testSearchAnything},
	} {
		t.Run(test.name, func(t *testing.T) { test.run(t, open(t)) })
	}
}

// fatal is a test of any kind, such as that of a property.
type fatal interface {
	Helper()
	Fatalf(format string, args ...any)
}

// add puts a book into the store.
func add(t fatal, s book.Store, text []byte, files ...book.File) book.ID {
	t.Helper()
	id, err := s.Add(context.Background(), text, day, files...)
	if err != nil {
		t.Fatalf("add: %v", err)
	}
	return id
}

// kept reads a book.
func kept(t fatal, s book.Store, id book.ID) book.Kept {
	t.Helper()
	k, err := s.Text(context.Background(), id)
	if err != nil {
		t.Fatalf("text of well %s: %v", id, err)
	}
	return k
}

// grow appends an entry to what is there.
func grow(t fatal, s book.Store, id book.ID, e book.NewEntry, files ...book.File) book.Entry {
	t.Helper()
	done, err := s.Append(context.Background(), id, kept(t, s, id).Head, e, day, files...)
	if err != nil {
		t.Fatalf("append to well %s: %v", id, err)
	}
	return done
}

// standsAs errors unless the book of a well is that text, to the byte.
func standsAs(t fatal, s book.Store, id book.ID, want []byte) {
	t.Helper()
	k := kept(t, s, id)
	if string(k.Text) != string(want) {
		t.Fatalf("well %s stands as\n%q\nwant\n%q", id, k.Text, want)
	}
	b, _ := book.Read("want", want)
	if k.Head != b.Hash() {
		t.Fatalf("well %s has the head %s, want %s", id, k.Head, b.Hash())
	}
}

// wells is the list.
func wells(t fatal, s book.Store) []book.Shelved {
	t.Helper()
	list, err := s.Wells(context.Background())
	if err != nil {
		t.Fatalf("wells: %v", err)
	}
	return list
}

// demonstration are the bundled wells.
func demonstration(t fatal) []demo.Well {
	t.Helper()
	all, err := demo.Wells()
	if err != nil || len(all) < 5 {
		t.Fatalf("%d demonstration wells: %v", len(all), err)
	}
	return all
}

// remark is an entry that is nothing but a note.
func remark(text string) book.NewEntry {
	return book.NewEntry{On: day, Kind: book.NoteKind, Note: text}
}

// named is a small book of a well with a name.
func named(name string) []byte {
	return []byte("- entry: 1\n  date: 2026-01-05\n  by: the specialist\n  well:\n    name: " + name + "\n    depth: 180 ft\n")
}

// refused is the error of a book or entry with mistakes.
func refused(t fatal, err error) *book.RefusedError {
	t.Helper()
	var no *book.RefusedError
	if !errors.As(err, &no) || len(no.Findings) == 0 {
		t.Fatalf("got %v, want a refusal with its findings", err)
	}
	return no
}

package store_test

import (
	"context"
	"path/filepath"
	"testing"

	"wellwright/book"
	"wellwright/store"
	"wellwright/store/storetest"
)

// create begins a store in a folder of the test.
func create(t testing.TB) (s *store.SQLite, path string) {
	t.Helper()
	path = filepath.Join(t.TempDir(), "wells.store")
	s, err := store.Create(context.Background(), path)
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { s.Close() })
	return s, path
}

func TestSQLite(t *testing.T) {
	storetest.Run(t, func(t *testing.T) book.Store {
		s, _ := create(t)
		return s
	})
}

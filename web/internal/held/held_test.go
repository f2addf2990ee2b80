package held

import (
	"testing"
	"time"

	"wellwright/book"
)

// However much is put in, no more than the bounds are held, the newest of it: a
// bound by definition.
func TestBounds(t *testing.T) {
	now := time.Date(2026, 3, 12, 10, 0, 0, 0, time.UTC)
	k := New(func() time.Time { return now })
	large := make([]byte, 20<<20)
	var keys []string
	for range 10 {
		keys = append(keys, k.Put(book.File{Content: large}))
		if k.bytes > MaxBytes {
			t.Fatalf("%d bytes held, at most %d", k.bytes, MaxBytes)
		}
	}
	for i, key := range keys {
		if _, ok := k.Get(key); ok != (i >= 4) { // six of 20 MiB fit into 128
			t.Errorf("file %d held: %v", i, ok)
		}
	}
	for range 2 * MaxFiles {
		k.Put(book.File{Content: []byte("x")})
	}
	if n := k.order.Len(); n != MaxFiles || len(k.byKey) != n {
		t.Errorf("%d files held, want %d", n, MaxFiles)
	}
	last := k.Put(book.File{Name: "a", Content: []byte("x")})
	now = now.Add(Keep - time.Second)
	if f, ok := k.Get(last); !ok || f.Name != "a" {
		t.Error("let go before its time")
	}
	now = now.Add(time.Second)
	if _, ok := k.Get(last); ok || k.order.Len() > 0 || k.bytes != 0 {
		t.Errorf("held after its time, with %d files and %d bytes", k.order.Len(), k.bytes)
	}
}

// What was let go is gone, once and for all.
func TestDrop(t *testing.T) {
	k := New(time.Now)
	key := k.Put(book.File{Content: []byte("report")})
	k.Drop(key)
	k.Drop(key)
	if _, ok := k.Get(key); ok || k.bytes != 0 {
		t.Error("held still")
	}
}

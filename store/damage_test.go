package store_test

import (
	"context"
	"errors"
	"flag"
	"fmt"
	"math/rand/v2"
	"os"
	"path/filepath"
	"slices"
	"testing"

	"wellwright/book"
	"wellwright/store"
)

var damages = flag.Int("damages", 70, "how many times the file is spoilt, and the journal as often")

// acked is all that a store has acknowledged.
type acked struct {
	text  map[book.ID][]byte
	files map[book.ID][]book.File
}

// filled copies a store with some books in it while it is open, so that a part of
// them stands in the journal only, and says what it has acknowledged.
func filled(t *testing.T) (folder string, all acked) {
	t.Helper()
	ctx := context.Background()
	s, path := create(t)
	all = acked{text: map[book.ID][]byte{}, files: map[book.ID][]book.File{}}
	for i := range 6 {
		if i == 4 { // what was written so far goes into the file, the rest stays in the journal
			if err := s.Close(); err != nil {
				t.Fatal(err)
			}
			var err error
			if s, err = store.Open(ctx, path); err != nil {
				t.Fatal(err)
			}
			defer s.Close()
		}
		id, err := s.Add(ctx, smallBook(fmt.Sprint("Lane ", i)), day)
		if err != nil {
			t.Fatal(err)
		}
		for j := range 5 {
			k, err := s.Text(ctx, id)
			if err != nil {
				t.Fatal(err)
			}
			f := book.File{Name: fmt.Sprint(j, ".jpg"), Content: fmt.Appendf(nil, "picture %d of well %d %0900d", j, i, 7)}
			if _, err := s.Append(ctx, id, k.Head, note(fmt.Sprint("remark ", j)), day, f); err != nil {
				t.Fatal(err)
			}
		}
		k, err := s.Text(ctx, id)
		if err != nil {
			t.Fatal(err)
		}
		if all.files[id], err = s.Files(ctx, id); err != nil {
			t.Fatal(err)
		}
		all.text[id] = k.Text
	}
	return copied(t, filepath.Dir(path), ""), all
}

// copied copies a folder with a store in it as it lies on the disk, without the
// file that the programs share memory by.
func copied(t *testing.T, folder, but string) string {
	t.Helper()
	to := t.TempDir()
	for _, end := range []string{"", "-wal", ".head"} {
		if end == but && but != "" {
			continue
		}
		text, err := os.ReadFile(filepath.Join(folder, "wells.store"+end))
		if errors.Is(err, os.ErrNotExist) {
			continue
		}
		if err == nil {
			err = os.WriteFile(filepath.Join(to, "wells.store"+end), text, 0o644)
		}
		if err != nil {
			t.Fatal(err)
		}
	}
	return to
}

// tells reports whether an error says that something is wrong with the store.
func tells(err error) bool {
	var damaged *book.DamagedError
	return errors.As(err, &damaged) || errors.Is(err, store.ErrNotOurs) || errors.Is(err, store.ErrNewer)
}

// look reads all of a store again: all is as it was acknowledged, or an error tells
// of the damage, and then it returns true.
func look(t *testing.T, folder string, all acked) (told bool) {
	t.Helper()
	ctx := context.Background()
	ask := func(err error) bool {
		if err != nil && !tells(err) {
			t.Errorf("the damage is told as: %v", err)
		}
		told = told || err != nil
		return err == nil
	}
	s, err := store.Open(ctx, filepath.Join(folder, "wells.store"))
	if !ask(err) {
		return told
	}
	defer s.Close()
	list, err := s.Wells(ctx)
	if ask(err) && len(list) != len(all.text) {
		t.Errorf("%d wells are in the list, %d were acknowledged", len(list), len(all.text))
	}
	for id, text := range all.text {
		k, err := s.Text(ctx, id)
		if ask(err) && !slices.Equal(k.Text, text) {
			t.Errorf("well %s is not as it was acknowledged", id)
		}
		for _, f := range all.files[id][3:] {
			got, err := s.File(ctx, id, f.Hash)
			if ask(err) && (book.FileHash(got.Content) != f.Hash || got.Name != f.Name || got.Entry != f.Entry) {
				t.Errorf("file %s of well %s is not as it was acknowledged", f.Name, id)
			}
		}
	}
	return told
}

func TestUndamaged(t *testing.T) {
	folder, all := filled(t)
	if info, err := os.Stat(filepath.Join(folder, "wells.store-wal")); err != nil || info.Size() < 20_000 {
		t.Fatalf("the journal holds nothing: %v %v", info, err)
	}
	if look(t, folder, all) {
		t.Error("a whole store was told to be damaged")
	}
}

// TestLostEnd cuts off the journal at random places. SQLite itself passes over
// what is lost so; here every loss is told.
func TestLostEnd(t *testing.T) {
	folder, all := filled(t)
	random := rand.New(rand.NewPCG(1, 2))
	for range 60 {
		there := copied(t, folder, "")
		name := filepath.Join(there, "wells.store-wal")
		info, err := os.Stat(name)
		if err != nil {
			t.Fatal(err)
		}
		at := random.Int64N(info.Size())
		if err := os.Truncate(name, at); err != nil {
			t.Fatal(err)
		}
		if !look(t, there, all) {
			t.Errorf("the loss of all from byte %d of %d on was passed over", at, info.Size())
		}
	}
}

// TestWithoutJournal takes a copy of a store in use whose journal was left behind,
// and one whose head was, and one of which nothing but the head is left.
func TestWithoutJournal(t *testing.T) {
	folder, all := filled(t)
	for _, but := range []string{"-wal", ".head"} {
		if !look(t, copied(t, folder, but), all) {
			t.Errorf("a copy without its %s was taken for whole", but)
		}
	}
	there := copied(t, folder, "")
	if err := os.Remove(filepath.Join(there, "wells.store")); err != nil {
		t.Fatal(err)
	}
	if !look(t, there, all) {
		t.Error("a store whose file is gone was opened")
	}
	if _, err := store.Create(context.Background(), filepath.Join(there, "wells.store")); !tells(err) {
		t.Errorf("a new store was begun over what is left of one: %v", err)
	}
}

// TestDamaged spoils bytes of the file and of the journal at random: each time all
// is as it was acknowledged, or the damage is told.
func TestDamaged(t *testing.T) {
	folder, all := filled(t)
	random := rand.New(rand.NewPCG(3, 4))
	told := map[string]int{}
	each := *damages
	for i := range 2 * each {
		end := []string{"", "-wal"}[i%2]
		there := copied(t, folder, "")
		spoil(t, filepath.Join(there, "wells.store"+end), random)
		if look(t, there, all) {
			told[end]++
		}
		if t.Failed() {
			t.Fatalf("at damage %d", i)
		}
	}
	t.Logf("of %d damages each, %d in the file and %d in the journal were told, and the rest harmless", each, told[""], told["-wal"])
	if told[""] < each/4 || told["-wal"] < each/4 {
		t.Errorf("hardly any damage was told: %v", told)
	}
}

// spoil turns a bit, writes noise, wipes a part, or cuts the end off.
func spoil(t *testing.T, name string, random *rand.Rand) {
	t.Helper()
	text, err := os.ReadFile(name)
	if err != nil {
		t.Fatal(err)
	}
	at := random.IntN(len(text))
	part := text[at:min(at+1+random.IntN(600), len(text))]
	switch random.IntN(4) {
	case 0:
		text[at] ^= 1 << random.IntN(8)
	case 1:
		for i := range part {
			part[i] = byte(random.IntN(256))
		}
	case 2:
		clear(part)
	default:
		text = text[:at]
	}
	if err := os.WriteFile(name, text, 0o644); err != nil {
		t.Fatal(err)
	}
}

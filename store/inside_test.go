package store

import (
	"context"
	"database/sql"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"pgregory.net/rapid"

	"wellwright/book"
)

var day = time.Date(2026, 6, 1, 0, 0, 0, 0, time.UTC)

func begun(t *testing.T) *SQLite {
	t.Helper()
	s, err := Create(context.Background(), filepath.Join(t.TempDir(), "wells.store"))
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { s.Close() })
	return s
}

// withOneWell is a store with one well, of two entries and a file.
func withOneWell(t *testing.T) *SQLite {
	t.Helper()
	s := begun(t)
	id, err := s.Add(context.Background(), []byte("# the pit is under the lilac\n- entry: 1\n  date: 2026-01-05\n  well: {name: Alder Lane}\n"), day)
	if err != nil {
		t.Fatal(err)
	}
	k, err := s.Text(context.Background(), id)
	if err != nil {
		t.Fatal(err)
	}
	_, err = s.Append(context.Background(), id, k.Head, book.NewEntry{On: day, Kind: book.NoteKind, Note: "slime"}, day, book.File{Name: "pit.jpg", Content: []byte("pit")})
	if err != nil {
		t.Fatal(err)
	}
	return s
}

// TestNeverChanged: the tables themselves refuse what would change or erase.
func TestNeverChanged(t *testing.T) {
	s := withOneWell(t)
	for _, q := range []string{
		`UPDATE entries SET text = x'00'`, `DELETE FROM entries`, `UPDATE files SET name = 'x'`, `DELETE FROM files`,
		`UPDATE contents SET content = x'00'`, `DELETE FROM contents`, `UPDATE commits SET seal = 'x'`, `DELETE FROM commits`, `DELETE FROM wells`,
	} {
		if _, err := s.writer.Exec(q); err == nil || !strings.Contains(err.Error(), "never") {
			t.Errorf("%s: %v, want a refusal", q, err)
		}
	}
	if _, err := s.readers.Exec(`UPDATE wells SET name = 'x'`); err == nil {
		t.Error("a reader has written")
	}
	if _, err := s.Verify(context.Background()); err != nil {
		t.Error(err)
	}
}

// TestChangedBehindItsBack changes the store as another program could that knows
// of no rules: each change is told, with its well, and its entry where there is one.
func TestChangedBehindItsBack(t *testing.T) {
	drop := `DROP TRIGGER entries_stand; DROP TRIGGER entries_stay; DROP TRIGGER files_stand; DROP TRIGGER files_stay;
		DROP TRIGGER contents_stand; DROP TRIGGER contents_stay; DROP TRIGGER commits_stand; DROP TRIGGER commits_stay; DROP TRIGGER wells_stay;
		PRAGMA foreign_keys = 0;`
	for _, tt := range []struct{ change, well, entry string }{
		{`UPDATE entries SET text = CAST(replace(CAST(text AS TEXT), 'slime', 'sand.') AS BLOB) WHERE place = 2`, "1", "2"},
		{`UPDATE entries SET text = x'2320746865' WHERE place = 0`, "1", ""}, // a comment: no hash of the book covers it
		{`UPDATE entries SET hash = replace(hash, 'a', 'b') WHERE place = 1`, "1", "1"},
		{`UPDATE entries SET name = '7' WHERE place = 2`, "1", "7"},
		{`DELETE FROM entries WHERE place = 2`, "1", ""},
		{`DELETE FROM entries WHERE place = 1`, "1", "2"},
		{`DELETE FROM entries`, "1", ""},
		{`UPDATE wells SET name = 'Elder Yard'`, "1", ""},
		{`UPDATE wells SET entries = 1`, "1", ""},
		{`DELETE FROM wells`, "1", ""},
		{`UPDATE files SET name = 'lid.jpg'`, "1", "2"},
		{`DELETE FROM files`, "1", "2"},
		{`UPDATE contents SET content = x'00'`, "1", "2"},
		{`DELETE FROM contents`, "1", "2"},
		{`UPDATE commits SET place = 9 WHERE number = 2`, "1", ""},
		{`UPDATE commits SET seal = 'x' WHERE number = 1`, "1", ""},
		{`DELETE FROM commits WHERE number = 2`, "", ""},
		{`DELETE FROM commits`, "", ""},
		{`DELETE FROM words`, "", ""},
		{`UPDATE words SET entry = 'sand'`, "", ""},
	} {
		t.Run(tt.change, func(t *testing.T) {
			s := withOneWell(t)
			if _, err := s.writer.Exec(drop + tt.change); err != nil {
				t.Fatal(err)
			}
			_, err := s.Verify(context.Background())
			var damaged *book.DamagedError
			if !errors.As(err, &damaged) {
				t.Fatalf("told as %v", err)
			}
			if where := fmt.Sprintf("well %s: ", tt.well); tt.well != "" && !strings.Contains(err.Error(), where) {
				t.Errorf("told as %v, want the well", err)
			}
			if where := fmt.Sprintf("entry %s: ", tt.entry); tt.entry != "" && !strings.Contains(err.Error(), where) {
				t.Errorf("told as %v, want entry %s", err, tt.entry)
			}
		})
	}
}

// TestNewer gives the program a store whose tables it does not know yet.
func TestNewer(t *testing.T) {
	s := begun(t)
	if _, err := s.writer.Exec(`INSERT INTO goose_db_version (version_id, is_applied) VALUES (999, 1)`); err != nil {
		t.Fatal(err)
	}
	if _, err := Open(context.Background(), s.path); !errors.Is(err, ErrNewer) {
		t.Errorf("told as %v, want ErrNewer", err)
	}
}

// TestSettings: what the connection string asks for holds on every connection.
func TestSettings(t *testing.T) {
	s := begun(t)
	for _, db := range []*sql.DB{s.writer, s.readers} {
		for pragma, want := range map[string]string{"journal_mode": "wal", "synchronous": "2", "foreign_keys": "1", "busy_timeout": "5000"} {
			var got string
			if err := db.QueryRow("PRAGMA " + pragma).Scan(&got); err != nil || got != want {
				t.Errorf("%s is %s, %v, want %s", pragma, got, err, want)
			}
		}
	}
	rows, err := s.readers.Query(`SELECT name, strict FROM pragma_table_list WHERE schema = 'main' AND type = 'table' AND name NOT LIKE 'sqlite%' AND name NOT LIKE 'goose%'`)
	if err != nil {
		t.Fatal(err)
	}
	defer rows.Close()
	for rows.Next() {
		var name string
		var strict bool
		if err := rows.Scan(&name, &strict); err != nil || !strict {
			t.Errorf("table %s is not strict: %v", name, err)
		}
	}
}

// TestNoMorePages fills the store itself: it may have no more pages.
func TestNoMorePages(t *testing.T) {
	s := withOneWell(t)
	before, err := s.Text(context.Background(), "1")
	if err != nil {
		t.Fatal(err)
	}
	if _, err := s.writer.Exec(`PRAGMA max_page_count = 1`); err != nil { // as many as there are
		t.Fatal(err)
	}
	_, err = s.Append(context.Background(), "1", before.Head, book.NewEntry{On: day, Kind: book.NoteKind, Note: "picture"}, day,
		book.File{Name: "large.jpg", Content: make([]byte, 100_000)})
	if err == nil || !strings.Contains(err.Error(), "the disk is full; nothing was written") {
		t.Errorf("told as %v", err)
	}
	after, err := s.Text(context.Background(), "1")
	if err != nil || string(after.Text) != string(before.Text) {
		t.Errorf("the book has changed: %v", err)
	}
	if _, err := s.Verify(context.Background()); err != nil {
		t.Error(err)
	}
}

// TestReplaced puts another store in the place of one that is open.
func TestReplaced(t *testing.T) {
	s := withOneWell(t)
	if _, err := setAside(s.path); err != nil {
		t.Fatal(err)
	}
	other, err := Create(context.Background(), s.path)
	if err != nil {
		t.Fatal(err)
	}
	defer other.Close()
	if _, err := s.Add(context.Background(), []byte("- entry: 1\n  date: 2026-01-05\n  note: x\n"), day); !errors.Is(err, ErrReplaced) {
		t.Errorf("told as %v, want ErrReplaced", err)
	}
	if list, err := other.Wells(context.Background()); err != nil || len(list) != 0 {
		t.Errorf("the other store has %v, %v", list, err)
	}
}

// TestHead: a spoilt line of the head leaves the other; with both spoilt the store
// is not opened.
func TestHead(t *testing.T) {
	s := withOneWell(t)
	s.Close()
	name := s.path + headEnd
	whole, err := os.ReadFile(name)
	if err != nil || len(whole) != 2*headLine {
		t.Fatalf("%q, %v", whole, err)
	}
	for spoilt, opens := range map[string]bool{"first": true, "second": true, "both": false} {
		text := []byte(string(whole))
		if spoilt != "second" {
			text[3] ^= 1
		}
		if spoilt != "first" {
			text[headLine+3] ^= 1
		}
		if err := os.WriteFile(name, text, 0o644); err != nil {
			t.Fatal(err)
		}
		again, err := Open(context.Background(), s.path)
		if opens != (err == nil) {
			t.Errorf("with %s spoilt: %v", spoilt, err)
		}
		if err == nil {
			again.Close()
		}
	}
}

// TestHeadLine: any commit is read back as it was written, and a spoilt line never
// as another.
func TestHeadLine(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		c := commit{number: rapid.Int64Min(0).Draw(t, "number"), wells: rapid.Int64Min(0).Draw(t, "wells"), seal: seal(rapid.String().Draw(t, "seal"))}
		if rapid.IntRange(0, 9).Draw(t, "empty") == 0 {
			c.seal = ""
		}
		line := []byte(c.line())
		if len(line) != headLine {
			t.Fatalf("%q has %d bytes", line, len(line))
		}
		if got, ok := parseLine(string(line)); !ok || got != c {
			t.Fatalf("%v is read as %v", c, got)
		}
		at := rapid.IntRange(0, headLine-1).Draw(t, "at")
		line[at] ^= byte(rapid.IntRange(1, 255).Draw(t, "by"))
		if got, ok := parseLine(string(line)); ok && got != c {
			t.Fatalf("spoilt, it is read as %v", got)
		}
	})
}

// TestCutTogether: whatever a text is, and wherever its entries begin, the pieces
// put together are the text.
func TestCutTogether(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		text := []byte(rapid.StringOf(rapid.SampledFrom([]rune("- entry: 12\n\r\n[]{}\"#,x"))).Draw(t, "text"))
		b, _ := book.Read("book", text)
		if rapid.Bool().Draw(t, "made up") {
			b = &book.Book{Entries: make([]book.Entry, rapid.IntRange(0, 5).Draw(t, "entries"))}
			for i := range b.Entries {
				b.Entries[i].Line = rapid.IntRange(1, 9).Draw(t, "line")
			}
		}
		pieces := cut(text, b)
		if got := together(pieces); string(got) != string(text) || len(pieces) != len(b.Entries)+1 {
			t.Fatalf("%d pieces are %q, want %q", len(pieces), got, text)
		}
	})
}

// TestExcerpt shows words in their surroundings.
func TestExcerpt(t *testing.T) {
	long := strings.Repeat("before ", 30) + "the Café smells" + strings.Repeat(" after", 30)
	for _, tt := range []struct{ text, asked, want string }{
		{"note: slime", "slime", "note: slime"},
		{"note: slime", "nothing", "note: slime"},
		// 60 bytes on either side, and then whole words: 4 + 8 x 7 before, 7 + 8 x 6 after.
		{long, "cafe", "..." + strings.Repeat("before ", 8) + "the Café smells" + strings.Repeat(" after", 8) + "..."},
		{"", "x", ""},
		{"iron; " + strings.Repeat("then ", 30) + "slime of iron", "iron slime", "..." + strings.Repeat("then ", 12) + "slime of iron"},
	} {
		if got := excerpt(tt.text, phrasesOf(tt.asked)); got != tt.want {
			t.Errorf("excerpt of %q is %q, want %q", tt.asked, got, tt.want)
		}
	}
}

// TestExcerptOfAnything: an excerpt is a part of its text, whatever that is.
func TestExcerptOfAnything(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		text := rapid.String().Draw(t, "text")
		got := strings.TrimSuffix(strings.TrimPrefix(excerpt(text, phrasesOf(rapid.String().Draw(t, "asked"))), "..."), "...")
		if strings.ToValidUTF8(text, "") == text && !strings.Contains(text, got) {
			t.Fatalf("%q is not in %q", got, text)
		}
	})
}

// FuzzHeadLine: whatever stands in a head is read as a commit that writes that very
// line, or not at all.
func FuzzHeadLine(f *testing.F) {
	f.Add(commit{}.line())
	f.Add(commit{number: 12, wells: 3, seal: seal("x")}.line())
	f.Add("12 3 - 0000000000000000")
	f.Fuzz(func(t *testing.T, line string) {
		if c, ok := parseLine(line); ok && strings.Join(strings.Fields(c.line()), " ") != strings.Join(strings.Fields(line), " ") {
			t.Errorf("%q is read as %+v", line, c)
		}
	})
}

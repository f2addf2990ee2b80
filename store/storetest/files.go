package storetest

import (
	"bytes"
	"context"
	"errors"
	"strings"
	"testing"

	"wellwright/book"
)

// photograph is a file that begins as a JPEG does.
func photograph(name string) book.File {
	return book.File{Name: name, Content: []byte("\xff\xd8\xff\xe0\x00\x10JFIF\x00 " + name)}
}

// sameFile errors unless the file of a well is the one given.
func sameFile(t fatal, s book.Store, id book.ID, want book.File) {
	t.Helper()
	got, err := s.File(context.Background(), id, want.Hash)
	if err != nil {
		t.Fatalf("file %s: %v", want.Name, err)
	}
	if got.Name != want.Name || got.Entry != want.Entry || got.Type != want.Type || got.Size != int64(len(want.Content)) || !bytes.Equal(got.Content, want.Content) {
		t.Fatalf("file %+v, want %+v", got, want)
	}
}

func testFiles(t *testing.T, s book.Store) {
	ctx := context.Background()
	id, other := add(t, s, named("Alder Lane")), add(t, s, named("Elder Yard"))
	abc := book.File{Name: `C:\photographs\abc.txt`, Content: []byte("abc"), Type: "image/png", Size: 7, Entry: "99"}
	pit := photograph("/home/pit.jpg")
	e := grow(t, s, id, remark("the pit"), abc, pit, pit)
	if len(e.Files) != 2 {
		t.Errorf("the entry names %v, want two files", e.Files)
	}
	// SHA-256 of "abc": published, FIPS 180-4, appendix of examples.
	abc.Hash = "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad"
	abc.Name, abc.Entry, abc.Type = "abc.txt", e.ID, "text/plain; charset=utf-8"
	pit.Hash, pit.Name, pit.Entry, pit.Type = book.FileHash(pit.Content), "pit.jpg", e.ID, "image/jpeg"
	sameFile(t, s, id, abc)
	sameFile(t, s, id, pit)
	list, err := s.Files(ctx, id)
	if err != nil || len(list) != 2 || list[0].Hash != abc.Hash || list[1].Hash != pit.Hash || list[0].Size != 3 || list[0].Content != nil {
		t.Errorf("files are listed as %+v, %v", list, err)
	}
	if _, err := s.File(ctx, other, abc.Hash); !errors.Is(err, book.ErrNoFile) {
		t.Errorf("the file of another well: %v, want ErrNoFile", err)
	}
	for _, hash := range []string{"", "x", strings.Repeat("0", 64), "' OR 1=1 --"} {
		if _, err := s.File(ctx, id, hash); !errors.Is(err, book.ErrNoFile) {
			t.Errorf("file %q: %v, want ErrNoFile", hash, err)
		}
	}
	again := grow(t, s, other, remark("the same picture"), pit)
	pit.Entry = again.ID
	sameFile(t, s, other, pit)
	b, found := book.Read("book", kept(t, s, id).Text)
	if len(found) > 0 || len(b.Entries[1].Enclosures()) != 2 || b.Entries[1].Enclosures()[1].SHA256 != pit.Hash {
		t.Errorf("the book names %v; %v", b.Entries[1].Enclosures(), found)
	}
}

func testFilesOfBook(t *testing.T, s book.Store) {
	pit, letter := photograph("pit.jpg"), book.File{Name: "letter.txt", Content: []byte("Dear well")}
	text := grown(t, named("Alder Lane"), book.NewEntry{On: day, Kind: book.NoteKind, Note: "came by post",
		Files: []book.Enclosed{{Name: pit.Name, SHA256: book.FileHash(pit.Content)}, {Name: letter.Name, SHA256: book.FileHash(letter.Content)}}})
	if _, err := s.Add(context.Background(), text, day, photograph("stranger.jpg")); err == nil {
		t.Error("a file that no entry names was taken")
	}
	id := add(t, s, text, pit) // the letter is not at hand
	standsAs(t, s, id, text)
	list, err := s.Files(context.Background(), id)
	if err != nil || len(list) != 1 || list[0].Name != "pit.jpg" || list[0].Entry != "2" {
		t.Errorf("files are listed as %+v, %v", list, err)
	}
}

// testReceivedReport: a laboratory entry names its received file itself.
func testReceivedReport(t *testing.T, s book.Store) {
	id := add(t, s, named("Alder Lane"))
	report := book.File{Name: "report-118.csv", Content: []byte("Iron,2.1,mg/L\n")}
	hash := book.FileHash(report.Content)
	e := grow(t, s, id, book.NewEntry{On: day, Kind: book.LaboratoryKind, Section: book.Fields(book.Under("tap", "T1"),
		book.Under("file", "received/report-118.csv"), book.Under("sha256", hash),
		book.Pair{Key: "results", Value: book.Fields(book.Under("total iron", "2.1 mg/L"))})}, report)
	if len(e.Files) != 0 || len(e.Enclosures()) != 1 || e.Enclosures()[0].SHA256 != hash {
		t.Errorf("the entry names %v, want its one report", e.Enclosures())
	}
	report.Hash, report.Entry, report.Type = hash, e.ID, "text/plain; charset=utf-8"
	sameFile(t, s, id, report)
}

func testBadFiles(t *testing.T, s book.Store) {
	text := named("Alder Lane")
	id := add(t, s, text)
	many := make([]book.File, book.MaxFiles+1)
	for i := range many {
		many[i] = photograph(strings.Repeat("x", i+1))
	}
	wrong := photograph("pit.jpg")
	wrong.Hash = strings.Repeat("0", 64)
	for name, files := range map[string][]book.File{
		"empty":                             {{Name: "empty.jpg"}},
		"too large":                         {{Name: "large.jpg", Content: make([]byte, book.MaxFile+1)}},
		"no name":                           {{Content: []byte("x")}},
		"a folder":                          {{Name: "..", Content: []byte("x")}},
		"a control":                         {{Name: "a\x00b", Content: []byte("x")}},
		"no text":                           {{Name: "a\xffb", Content: []byte("x")}},
		"too long":                          {photograph(strings.Repeat("x", 300))},
		"too many":                          many,
		"a hash that is not of its content": {wrong},
		"one good, one empty":               {photograph("pit.jpg"), {Name: "empty.jpg"}},
	} {
		if _, err := s.Append(context.Background(), id, kept(t, s, id).Head, remark("with files"), day, files...); err == nil {
			t.Errorf("%s: was taken", name)
		}
	}
	standsAs(t, s, id, text)
	largest := book.File{Name: "largest.bin", Content: make([]byte, book.MaxFile)}
	grow(t, s, id, remark("the largest"), largest)
	if list, err := s.Files(context.Background(), id); err != nil || len(list) != 1 || list[0].Size != book.MaxFile {
		t.Errorf("the largest file is listed as %v, %v", list, err)
	}
}

// testMediaTypes: published, WHATWG MIME Sniffing, tables of image and other
// signatures; ISO/IEC 23008-12 for the brand heic (from memory).
func testMediaTypes(t *testing.T, s book.Store) {
	id := add(t, s, named("Alder Lane"))
	for want, content := range map[string]string{
		"image/jpeg":                "\xff\xd8\xff\xe1",
		"image/png":                 "\x89PNG\x0d\x0a\x1a\x0a",
		"image/webp":                "RIFF\x10\x00\x00\x00WEBPVP8 ",
		"image/heic":                "\x00\x00\x00\x18ftypheic\x00\x00\x00\x00",
		"application/pdf":           "%PDF-1.7\n",
		"text/html; charset=utf-8":  "<!DOCTYPE HTML><p>no picture",
		"application/octet-stream":  "\x00\x01\x02\x03",
		"text/plain; charset=utf-8": "Iron,2.1",
	} {
		f := book.File{Name: "picture.gif", Content: []byte(content), Type: "image/gif"}
		grow(t, s, id, remark(want), f)
		got, err := s.File(context.Background(), id, book.FileHash(f.Content))
		if err != nil || got.Type != want {
			t.Errorf("%q is %s, %v, want %s", content, got.Type, err, want)
		}
	}
}

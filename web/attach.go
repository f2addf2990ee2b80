package web

import (
	"errors"
	"fmt"
	"io"
	"mime/multipart"
	"net/http"
	"net/url"
	"path"
	"slices"
	"strings"
	"unicode"

	"wellwright/book"
)

// heldFile is a file that came with a form and is in no book yet.
type heldFile struct {
	Key  string // to what the server holds
	Name string
	Size string
	file book.File
}

// heldFiles are the files of a form: those held from its last sending, unless they
// were taken out, and those that came now. What could not be taken is said.
func (s *Server) heldFiles(r *http.Request, field string) (files []heldFile, wrong []string) {
	for _, key := range r.PostForm["kept"] {
		f, ok := s.held.Get(key)
		switch {
		case slices.Contains(r.PostForm["drop"], key):
			s.held.Drop(key)
		case !ok:
			wrong = append(wrong, "a file sent with this form is no longer held here: choose it again")
		default:
			files = append(files, heldOf(key, f))
		}
	}
	if r.MultipartForm == nil {
		return files, wrong
	}
	for _, h := range r.MultipartForm.File[field] {
		f, err := received(h)
		switch {
		case h.Filename == "" && h.Size == 0: // nothing was chosen
		case err != nil:
			wrong = append(wrong, err.Error())
		case len(files) == book.MaxFiles:
			wrong = append(wrong, fmt.Sprintf("%s: one entry keeps at most %d files; make a second entry", f.Name, book.MaxFiles))
		default:
			files = append(files, heldOf(s.held.Put(f), f))
		}
	}
	return files, wrong
}

func heldOf(key string, f book.File) heldFile {
	return heldFile{Key: key, Name: f.Name, Size: size(f.Size), file: f}
}

// size is a number of bytes in words.
func size(n int64) string {
	if n < 1<<20 {
		return fmt.Sprintf("%d kB", (n+1023)>>10)
	}
	return fmt.Sprintf("%.1f MB", float64(n)/(1<<20))
}

// received reads a file that was sent.
func received(h *multipart.FileHeader) (book.File, error) {
	f := book.File{Name: plainName(h.Filename)}
	if h.Size > book.MaxFile {
		return f, fmt.Errorf("%s has %s: a file may have %s", f.Name, size(h.Size), size(book.MaxFile))
	}
	in, err := h.Open()
	if err != nil {
		return f, fmt.Errorf("%s could not be read", f.Name)
	}
	f.Content, err = io.ReadAll(in)
	if err = errors.Join(err, in.Close()); err != nil {
		return f, fmt.Errorf("%s could not be read", f.Name)
	}
	if len(f.Content) == 0 {
		return f, fmt.Errorf("%s is empty", f.Name)
	}
	f.Size, f.Hash = int64(len(f.Content)), book.FileHash(f.Content)
	return f, nil
}

// longestName is the longest name of a file kept: its end counts, for it has the
// extension.
const longestName = 120

// plainName is the name of a file without folder and without marks that no name
// needs.
func plainName(s string) string {
	s = path.Base(strings.ReplaceAll(strings.ToValidUTF8(s, ""), `\`, "/"))
	s = strings.TrimSpace(strings.Map(func(r rune) rune {
		if !unicode.IsPrint(r) {
			return -1
		}
		return r
	}, s))
	if runes := []rune(s); len(runes) > longestName/2 { // a rune may take several bytes
		s = string(runes[len(runes)-longestName/2:])
	}
	if s == "." || s == ".." || s == "/" || s == "" {
		return "file"
	}
	return s
}

// contents are the files as the store takes them.
func contents(files []heldFile) []book.File {
	out := make([]book.File, len(files))
	for i, f := range files {
		out[i] = f.file
	}
	return out
}

// letGo drops files that are in a book now.
func (s *Server) letGo(files []heldFile) {
	for _, f := range files {
		s.held.Drop(f.Key)
	}
}

// shown are the types of files that a browser may show itself: pictures hold no
// script. Everything else is given to be saved.
var shown = map[string]bool{"image/jpeg": true, "image/png": true, "image/gif": true, "image/webp": true, "image/heic": true, "image/avif": true}

// told are further types that are said as they are; what is in none of the two
// lists, a page or a drawing with script above all, is bytes.
var told = map[string]bool{"application/pdf": true, "text/plain; charset=utf-8": true, "application/zip": true}

// filePolicy lets a file that a browser shows do nothing at all.
const filePolicy = "default-src 'none'; sandbox; frame-ancestors 'none'"

// showFile handles GET /wells/{well}/files/{hash}: a file as it was received.
func (s *Server) showFile(w http.ResponseWriter, r *http.Request) error {
	f, err := s.Store.File(r.Context(), book.ID(r.PathValue("well")), r.PathValue("hash"))
	if err != nil {
		return err
	}
	kind, place := "application/octet-stream", "attachment"
	switch {
	case shown[f.Type]:
		kind, place = f.Type, "inline"
	case told[f.Type]:
		kind = f.Type
	}
	h := w.Header()
	h.Set("Content-Type", kind)
	h.Set("Content-Disposition", place+"; filename*=UTF-8''"+url.PathEscape(f.Name))
	h.Set("Content-Security-Policy", filePolicy)
	h.Set("Cache-Control", "private, max-age=3600")
	h.Set("Content-Length", fmt.Sprint(len(f.Content)))
	_, err = w.Write(f.Content)
	return err
}

package main

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path"
	"path/filepath"
	"strings"

	"github.com/spf13/cobra"

	"wellwright/book"
	"wellwright/store"
)

// shelveCommand puts books into a store.
func shelveCommand() *cobra.Command {
	var without bool
	cmd := &cobra.Command{
		Use: "shelve STORE BOOK...", Short: "put well books into a store, with the files that belong to them", Args: atLeast(2),
		Long: `shelve puts well books into a store, byte for byte, each as a well, with the
received files and photographs beside it that its entries name. It begins the store
if there is none. A book that is there already is left out, so that all the books of
a folder can be shelved again:

  wellwright shelve county.wells books/*.yaml

From then on the store is where the books go on; the files are left as they are.`,
		RunE: func(cmd *cobra.Command, args []string) error {
			s, err := openOrBegin(cmd, args[0])
			if err != nil {
				return err
			}
			failed := 0
			for _, name := range args[1:] {
				if err := shelve(cmd, s, name, without); err != nil {
					if !errors.As(err, &told{}) {
						fmt.Fprintln(cmd.ErrOrStderr(), err)
					}
					failed++
				}
			}
			if err := s.Close(); err != nil {
				return err
			}
			if failed > 0 {
				return fmt.Errorf("%s of %d not shelved", plural(failed, "book", "books"), len(args)-1)
			}
			return nil
		},
	}
	cmd.Flags().BoolVar(&without, "without-files", false, "shelve a book though files that it names are not beside it")
	return cmd
}

// openOrBegin opens a store, or begins it if there is none.
func openOrBegin(cmd *cobra.Command, path string) (*store.SQLite, error) {
	s, err := store.Open(cmd.Context(), path)
	if !errors.Is(err, store.ErrNoStore) {
		return s, err
	}
	if s, err = store.Create(cmd.Context(), path); err != nil {
		return nil, err
	}
	_, err = fmt.Fprintf(cmd.OutOrStdout(), "began the store %s\n", path)
	return s, err
}

// shelve puts one book into a store.
func shelve(cmd *cobra.Command, s *store.SQLite, name string, without bool) error {
	text, err := readBook(name)
	if err != nil {
		return err
	}
	b, found := book.Read(name, text)
	if err := complain(cmd.ErrOrStderr(), name, book.Mistakes(append(found, b.Check(today())...))); err != nil {
		return err
	}
	files, err := beside(name, b, without)
	if err != nil {
		return err
	}
	id, err := s.Add(cmd.Context(), text, today(), files...)
	var there *book.ThereError
	if errors.As(err, &there) {
		_, err := fmt.Fprintf(cmd.OutOrStdout(), "%s: is in the store already, or its beginning is, as well %s; left out\n", name, there.Well)
		return err
	}
	if err != nil {
		return fmt.Errorf("%s: %w", name, err)
	}
	_, err = fmt.Fprintf(cmd.OutOrStdout(), "%s: well %s, %s, %s\n", name, id, plural(len(b.Entries), "entry", "entries"), plural(len(files), "file", "files"))
	return err
}

// beside reads the files that the entries of a book name, from where they lie
// beside it. It says of each what is wrong with it.
func beside(name string, b *book.Book, without bool) (files []book.File, err error) {
	var wrong []error
	seen := map[string]bool{}
	for _, e := range b.Entries {
		for _, f := range e.Enclosures() {
			if seen[f.SHA256] {
				continue
			}
			seen[f.SHA256] = true
			content, why := enclosure(filepath.Dir(name), f)
			if why != "" {
				wrong = append(wrong, fmt.Errorf("%s:%d: entry %s names the file %s, which %s; put it there, or shelve the book --without-files", name, e.Line, e.ID, f.Name, why))
				continue
			}
			files = append(files, book.File{Name: path.Base(f.Name), Content: content})
		}
	}
	if len(wrong) > 0 && !without {
		return nil, joined(wrong)
	}
	return files, nil
}

// enclosure reads a file from beside a book, or says why it cannot be had.
func enclosure(dir string, f book.Enclosed) (content []byte, why string) {
	why = "is not beside the book"
	for _, at := range placesOf(f) {
		content, err := os.ReadFile(filepath.Join(dir, filepath.FromSlash(at)))
		switch {
		case errors.Is(err, fs.ErrNotExist):
		case err != nil:
			why = "cannot be read: " + err.Error()
		case book.FileHash(content) != strings.ToLower(f.SHA256):
			why = "is another one now: its hash is not the one in the book"
		default:
			return content, ""
		}
	}
	return nil, why
}

// placesOf are the places where a file of a book may lie, from the book's folder:
// where the entry says, and among the received files. None is outside the folder.
func placesOf(f book.Enclosed) []string {
	received := path.Join("received", f.SHA256[:12]+"-"+strings.Join(strings.Fields(path.Base(f.Name)), "-"))
	if !filepath.IsLocal(filepath.FromSlash(f.Name)) {
		return []string{received}
	}
	return []string{f.Name, received}
}

// fetchCommand writes a book of a store into a file.
func fetchCommand() *cobra.Command {
	var into string
	cmd := &cobra.Command{
		Use: "fetch STORE WELL -o BOOK", Short: "write a book of a store into a file, with the files that belong to it", Args: exactly(2),
		Long: `fetch writes the book of a well into a new file, byte for byte, and its received
files and photographs beside it. WELL is the number of the well in the list of
"wellwright wells", or its name if no other well has that. It never writes over a file.

  wellwright fetch county.wells "Alder Lane" -o alder.yaml`,
		RunE: func(cmd *cobra.Command, args []string) error {
			if into == "" {
				return errors.New("fetch: say with -o which file to write the book into")
			}
			return inStore(cmd.Context(), args[0], func(s *store.SQLite) error {
				id, err := wellCalled(cmd.Context(), s, args[1])
				if err != nil {
					return err
				}
				return fetch(cmd, s, id, into)
			})
		},
	}
	cmd.Flags().StringVarP(&into, "output", "o", "", "file to write the book into")
	return cmd
}

// wellCalled finds a well by its number or its name. By its number it is found even
// where the list is damaged.
func wellCalled(ctx context.Context, s *store.SQLite, name string) (book.ID, error) {
	if _, err := s.Well(ctx, book.ID(name)); !errors.Is(err, book.ErrNoWell) {
		return book.ID(name), err
	}
	list, err := s.Wells(ctx)
	if err != nil {
		return "", err
	}
	var called []book.ID
	for _, w := range list {
		if strings.EqualFold(w.Name, name) {
			called = append(called, w.ID)
		}
	}
	switch len(called) {
	case 0:
		return "", fmt.Errorf("well %q: there is none of this number or name; wellwright wells lists them", name)
	case 1:
		return called[0], nil
	}
	return "", fmt.Errorf("well %q: %d wells have this name; give the number of one: %v", name, len(called), called)
}

// fetch writes the files of a well, and then its book.
func fetch(cmd *cobra.Command, s *store.SQLite, id book.ID, into string) error {
	kept, err := s.Text(cmd.Context(), id)
	if err != nil {
		return err
	}
	if _, err := os.Lstat(into); err == nil {
		return fmt.Errorf("%s is there already, and is left as it is", into)
	}
	b, _ := book.Read(into, kept.Text)
	n, err := fetchFiles(cmd.Context(), s, id, b, filepath.Dir(into))
	if err != nil {
		return err
	}
	if err := writeNew(into, kept.Text); err != nil {
		return fmt.Errorf("write book: %w", err)
	}
	_, err = fmt.Fprintf(cmd.OutOrStdout(), "%s: %s, %s\n", into, plural(len(b.Entries), "entry", "entries"), plural(n, "file", "files"))
	return err
}

// fetchFiles writes the files of a well to the places where its book looks for them.
func fetchFiles(ctx context.Context, s *store.SQLite, id book.ID, b *book.Book, dir string) (n int, err error) {
	list, err := s.Files(ctx, id)
	if err != nil {
		return 0, err
	}
	kept := map[string]bool{}
	for _, f := range list {
		kept[f.Hash] = true
	}
	for _, e := range b.Entries {
		for _, named := range e.Enclosures() {
			hash := strings.ToLower(named.SHA256)
			if !kept[hash] {
				continue
			}
			kept[hash] = false
			f, err := s.File(ctx, id, hash)
			if err != nil {
				return n, err
			}
			if err := putBeside(dir, named, f.Content); err != nil {
				return n, err
			}
			n++
		}
	}
	return n, nil
}

// putBeside writes a file beside a book, where the book looks for it first among
// the received files, and never over another.
func putBeside(dir string, f book.Enclosed, content []byte) error {
	places := placesOf(f)
	at := places[len(places)-1]
	if strings.HasPrefix(places[0], "received/") {
		at = places[0]
	}
	name := filepath.Join(dir, filepath.FromSlash(at))
	if err := os.MkdirAll(filepath.Dir(name), 0o755); err != nil {
		return fmt.Errorf("write file: %w", err)
	}
	err := writeNew(name, content)
	if errors.Is(err, fs.ErrExist) {
		there, err := os.ReadFile(name)
		if err == nil && !bytes.Equal(there, content) {
			err = fmt.Errorf("%s is another file; move it away", name)
		}
		return err
	}
	if err != nil {
		return fmt.Errorf("write file: %w", err)
	}
	return nil
}

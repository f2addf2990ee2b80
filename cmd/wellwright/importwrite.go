package main

import (
	"bufio"
	"bytes"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"strings"

	"github.com/spf13/cobra"
	"golang.org/x/term"

	"wellwright/book"
	"wellwright/labfile"
)

// write asks, keeps the received file, and appends all entries in one step.
func (m *importing) write(cmd *cobra.Command, into string, samples []labfile.Sample) error {
	text, fresh, err := m.bookText(cmd, into)
	if err != nil {
		return err
	}
	old := len(text)
	before, _ := book.Read(into, text)
	text, done, err := m.appended(text, into, samples)
	if err != nil {
		return err
	}
	out := cmd.OutOrStdout()
	if m.json {
		out = io.Discard
	}
	if len(text) == old {
		_, err := fmt.Fprintf(out, "%s: every sample is in the book already; nothing to write\n", into)
		return err
	}
	if ok, err := m.agreed(cmd, into); !ok || err != nil {
		return err
	}
	if err := m.keepReceived(into); err != nil {
		return err
	}
	if fresh {
		err = writeNew(into, text)
	} else {
		err = replaceFile(into, text)
	}
	if err != nil {
		return fmt.Errorf("write book: %w", err)
	}
	for _, line := range done {
		fmt.Fprintf(out, "%s: %s\n", into, line)
	}
	if !fresh {
		sealedNow(cmd.ErrOrStderr(), before)
	}
	fmt.Fprintf(out, "received file kept as %s\n", filepath.Join(filepath.Dir(into), m.keptAs()))
	return m.keepMapping(out, m.mappingBeside(into))
}

// bookText is the book to append to; fresh if it is begun here.
func (m *importing) bookText(cmd *cobra.Command, into string) (text []byte, fresh bool, err error) {
	if _, err := os.Stat(into); errors.Is(err, fs.ErrNotExist) {
		return book.Template(strings.TrimSuffix(filepath.Base(into), filepath.Ext(into)), today()), true, nil
	}
	if _, err := openBook(cmd.ErrOrStderr(), into); err != nil {
		return nil, false, err
	}
	text, err = os.ReadFile(into)
	return text, false, err
}

// appended adds the entries that the samples bring. It says what it added.
func (m *importing) appended(text []byte, name string, samples []labfile.Sample) ([]byte, []string, error) {
	var done []string
	b, _ := book.Read(name, text)
	for _, a := range labfile.Additions(b, samples, labfile.Kept{File: m.keptAs(), SHA256: m.sha}, today()) {
		added, err := book.Add(name, text, a.Entry, today())
		if err != nil {
			return nil, nil, fmt.Errorf("import %s: %w; nothing was written", m.file, err)
		}
		text = added.Text
		done = append(done, fmt.Sprintf("entry %s added: %s", added.Entry.ID, a.Says))
		if a.Rival != "" {
			done = append(done, a.Rival)
		}
	}
	return text, done, nil
}

// agreed reports whether to write: --yes says so, or whoever sits at the
// terminal. Without either what would be written has been shown, and that is all.
func (m *importing) agreed(cmd *cobra.Command, into string) (bool, error) {
	if m.yes {
		return true, nil
	}
	in, ok := cmd.InOrStdin().(*os.File)
	if !ok || !term.IsTerminal(int(in.Fd())) || m.json {
		if !m.json {
			fmt.Fprintf(cmd.OutOrStdout(), "nothing written; add --yes to write this into %s\n", into)
		}
		return false, nil
	}
	fmt.Fprintf(cmd.OutOrStdout(), "write this into %s? [y/N] ", into)
	answer, err := bufio.NewReader(in).ReadString('\n')
	if err != nil && !errors.Is(err, io.EOF) {
		return false, fmt.Errorf("read the answer: %w", err)
	}
	answer = strings.ToLower(strings.TrimSpace(answer))
	if answer != "y" && answer != "yes" {
		fmt.Fprintln(cmd.OutOrStdout(), "nothing written")
		return false, nil
	}
	return true, nil
}

// keptAs is the name of the received file beside the book: its hash tells two
// files of one name apart.
func (m *importing) keptAs() string {
	return "received/" + m.sha[:12] + "-" + strings.Join(strings.Fields(filepath.Base(m.file)), "-")
}

// keepReceived copies the received file beside the book, byte for byte, and
// never over another.
func (m *importing) keepReceived(into string) error {
	name := filepath.Join(filepath.Dir(into), filepath.FromSlash(m.keptAs()))
	if err := os.MkdirAll(filepath.Dir(name), 0o755); err != nil {
		return fmt.Errorf("keep received file: %w", err)
	}
	err := writeNew(name, m.data)
	if errors.Is(err, fs.ErrExist) {
		there, err := os.ReadFile(name)
		if err == nil && !bytes.Equal(there, m.data) {
			err = fmt.Errorf("%s is another file; move it away", name)
		}
		return err
	}
	if err != nil {
		return fmt.Errorf("keep received file: %w", err)
	}
	return nil
}

// writeNew writes a file that must not be there yet. One that could only be
// written in part is taken away again.
func writeNew(name string, text []byte) error {
	f, err := os.OpenFile(name, os.O_WRONLY|os.O_CREATE|os.O_EXCL, 0o644)
	if err != nil {
		return err
	}
	_, err = f.Write(text)
	if err = errors.Join(err, f.Sync(), f.Close()); err != nil {
		return errors.Join(err, os.Remove(name))
	}
	return nil
}

// mappingBeside is where a proposed mapping is kept for the next file; "" if the
// mapping came from a file.
func (m *importing) mappingBeside(into string) string {
	if m.columns == nil || m.from != "" || m.saveMapping != "" {
		return ""
	}
	return filepath.Join(filepath.Dir(into), labfile.MappingName(filepath.Base(m.file)))
}

// keepMapping writes the mapping used, never over one that is there.
func (m *importing) keepMapping(out io.Writer, name string) error {
	if name == "" || m.columns == nil {
		return nil
	}
	text, err := m.columns.YAML()
	if err != nil {
		return fmt.Errorf("save mapping: %w", err)
	}
	if m.json {
		out = io.Discard
	}
	switch err := writeNew(name, text); {
	case errors.Is(err, fs.ErrExist):
		_, err = fmt.Fprintf(out, "%s is there already, and is left as it is\n", name)
		return err
	case err != nil:
		return fmt.Errorf("save mapping: %w", err)
	}
	_, err = fmt.Fprintf(out, "column mapping kept as %s\n", name)
	return err
}

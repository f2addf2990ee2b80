package main

import (
	"bufio"
	"bytes"
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"sort"
	"strings"

	"github.com/spf13/cobra"
	"golang.org/x/term"

	"wellwright/book"
	"wellwright/labfile"
	"wellwright/water"
)

// importing is one run of import.
type importing struct {
	json, yes, list, create, all bool
	site, sheet, worksheet       string
	mapping, saveMapping         string
	stations, limits, tap, on    string

	file    string
	data    []byte
	sha     string
	format  labfile.Format
	columns *labfile.Mapping // of a mapped table
	from    string           // the file the mapping was read from; "" if it was proposed here
}

func importCommand() *cobra.Command {
	var m importing
	cmd := &cobra.Command{
		Use:   "import [BOOK] FILE",
		Short: "read a laboratory's or an agency's file into a book",
		Long: `import reads water-quality exchange files (the portal's legacy and WQX 3 layouts),
survey sheets, and any other CSV or XLSX through a column mapping. It shows each
value as received and as it will stand in the book, and every row that was
refused with the reason. Nothing is written before you say so: at a terminal it
asks, elsewhere it needs --yes. The received file is kept untouched beside the
book in the folder received, and its hash stands in the entries.

A table of no known layout gets a proposed mapping, which is shown. Save it with
--save-mapping, correct it, and give it with --mapping; a mapping kept beside the
book as NAME.mapping.yaml is used again for every file it fits.

  wellwright import --list results.csv
  wellwright import alder.yaml results.csv --site 1017 --yes

Meanings of columns in a mapping: ` + strings.Join(labfile.Meanings(), ", ") + `.

Exit status: 0 done or shown, 2 bad input or nothing to import.`,
		Args: cobra.RangeArgs(1, 2),
	}
	f := cmd.Flags()
	f.BoolVar(&m.json, "json", false, "write samples and findings as JSON")
	f.BoolVar(&m.yes, "yes", false, "write without asking")
	f.BoolVar(&m.list, "list", false, "list the samples in the file, and no more")
	f.BoolVar(&m.create, "new", false, "begin the book if there is none")
	f.BoolVar(&m.all, "all", false, "take all samples of a file that names no site")
	f.StringVar(&m.site, "site", "", "only the samples of this site")
	f.StringVar(&m.sheet, "sheet", "", "only the sample of this sheet or sample number")
	f.StringVar(&m.worksheet, "worksheet", "", "sheet of a workbook")
	f.StringVar(&m.mapping, "mapping", "", "column mapping of this laboratory")
	f.StringVar(&m.saveMapping, "save-mapping", "", "write the mapping used into this file")
	f.StringVar(&m.stations, "stations", "", "companion file of sites, for depth and aquifer")
	f.StringVar(&m.limits, "limits", "", "companion file of detection limits")
	f.StringVar(&m.tap, "tap", "", "tap of samples that name none: T0, T1 ..., K, H (default T1)")
	f.StringVar(&m.on, "on", "", "date of a file that holds none, 2025-05-31")
	cmd.RunE = func(cmd *cobra.Command, args []string) error { return m.run(cmd, args) }
	return cmd
}

func (m *importing) run(cmd *cobra.Command, args []string) error {
	m.file = args[len(args)-1]
	into := ""
	if len(args) == 2 {
		into = args[0]
	} else if !m.list {
		return errors.New("import: name the book and the file; with --list only the file")
	}
	if !m.list && !m.create {
		if _, err := os.Stat(into); errors.Is(err, fs.ErrNotExist) {
			return fmt.Errorf("import: there is no book %s: begin it with wellwright new %s, or add --new", into, into)
		}
	}
	samples, found, err := m.read(into)
	if err != nil {
		return err
	}
	if m.list {
		return m.listed(cmd.OutOrStdout(), samples, found)
	}
	samples = m.chosen(samples)
	found = m.about(found)
	if err := m.show(cmd.OutOrStdout(), samples, found); err != nil {
		return err
	}
	if err := m.oneWell(samples, found); err != nil {
		return err
	}
	if err := m.keepMapping(cmd.OutOrStdout(), m.saveMapping); err != nil {
		return err
	}
	return m.write(cmd, into, samples)
}

// read reads the file with all that was given beside it.
func (m *importing) read(into string) ([]labfile.Sample, []labfile.Finding, error) {
	var err error
	if m.data, err = os.ReadFile(m.file); err != nil {
		return nil, nil, fmt.Errorf("open received file: %w", err)
	}
	sum := sha256.Sum256(m.data)
	m.sha = hex.EncodeToString(sum[:])
	opt := labfile.Options{Worksheet: m.worksheet, On: m.on}
	if opt.Tap, err = tapFlag(m.tap); err != nil {
		return nil, nil, err
	}
	if opt.Stations, err = companion(m.stations); err != nil {
		return nil, nil, err
	}
	if opt.Limits, err = companion(m.limits); err != nil {
		return nil, nil, err
	}
	first, err := m.chooseMapping(into)
	if err != nil {
		return nil, nil, err
	}
	opt.Mapping = m.columns
	samples, found := labfile.Read(filepath.Base(m.file), m.data, opt)
	return samples, append(first, found...), nil
}

func tapFlag(s string) (water.Where, error) {
	up := strings.ToUpper(s)
	if ok := up == "" || len(up) <= 3 && up[0] == 'T' && strings.Trim(up[1:], "0123456789") == "" && len(up) > 1 || strings.Contains("KHSD", up) && len(up) == 1; !ok {
		return "", fmt.Errorf("tap %q: want T0, T1, T2 ..., K, H, D or S", s)
	}
	return water.Where(up), nil
}

func companion(name string) ([]byte, error) {
	if name == "" {
		return nil, nil
	}
	text, err := os.ReadFile(name)
	if err != nil {
		return nil, fmt.Errorf("open companion file: %w", err)
	}
	return text, nil
}

// chooseMapping finds the mapping for a table of no known layout: the one given,
// one beside the book that fits, or a proposal.
func (m *importing) chooseMapping(into string) ([]labfile.Finding, error) {
	if m.mapping != "" {
		return nil, m.useMapping(m.mapping)
	}
	var err error
	if m.format, err = labfile.Detect(filepath.Base(m.file), m.data); err != nil || m.format != labfile.Mapped {
		return nil, nil // Read says what is wrong, with its place
	}
	if into != "" {
		beside, err := filepath.Glob(filepath.Join(filepath.Dir(into), "*"+mappingEnd))
		if err != nil {
			return nil, fmt.Errorf("look for mappings: %w", err)
		}
		for _, name := range beside {
			if err := m.useMapping(name); err != nil {
				return nil, err
			}
			if m.columns.Fits(m.file, m.data) {
				return nil, nil
			}
		}
	}
	var found []labfile.Finding
	m.from = ""
	m.columns, found = labfile.Guess(filepath.Base(m.file), m.data, m.worksheet)
	return found, nil
}

// mappingEnd is how the names of mappings kept beside a book end.
const mappingEnd = ".mapping.yaml"

func (m *importing) useMapping(name string) error {
	text, err := os.ReadFile(name)
	if err != nil {
		return fmt.Errorf("open mapping: %w", err)
	}
	columns, bad := labfile.ReadMapping(name, text)
	if len(bad) > 0 {
		errs := make([]error, len(bad))
		for i, f := range bad {
			errs[i] = f
		}
		return joined(errs)
	}
	m.columns, m.from, m.format = columns, name, labfile.Mapped
	return nil
}

// chosen are the samples asked for.
func (m *importing) chosen(all []labfile.Sample) []labfile.Sample {
	var out []labfile.Sample
	for _, s := range all {
		if (m.site == "" || s.Site == m.site) && (m.sheet == "" || s.Sheet == m.sheet) {
			out = append(out, s)
		}
	}
	return out
}

// about are the findings on the rows asked for.
func (m *importing) about(all []labfile.Finding) []labfile.Finding {
	var out []labfile.Finding
	for _, f := range all {
		if m.site == "" || f.Site == "" || f.Site == m.site {
			out = append(out, f)
		}
	}
	return out
}

// oneWell refuses samples that cannot all be of the book's well.
func (m *importing) oneWell(samples []labfile.Sample, found []labfile.Finding) error {
	if len(samples) == 0 {
		return fmt.Errorf("import: no sample to write from %s: %d rows refused; --list shows what is in the file", m.file, len(labfile.Refusals(found)))
	}
	sites, sheets := map[string]bool{}, map[string]bool{}
	for _, s := range samples {
		sites[s.Site] = true
		sheets[s.Sheet] = true
	}
	if len(sites) > 1 {
		return fmt.Errorf("import: %s holds %d sites, and a book is of one well: choose with --site, one of %s", m.file, len(sites), some(sites))
	}
	if sites[""] && len(sheets) > 1 && !m.all {
		return fmt.Errorf("import: %s names no site and holds %d samples: choose with --sheet, or take all of them as this well's with --all", m.file, len(sheets))
	}
	return nil
}

// some names up to a dozen of a set.
func some(set map[string]bool) string {
	names := make([]string, 0, len(set))
	for n := range set {
		names = append(names, n)
	}
	sort.Strings(names)
	const most = 12
	if len(names) > most {
		return strings.Join(names[:most], ", ") + " ... (--list shows all)"
	}
	return strings.Join(names, ", ")
}

// write asks, keeps the received file, and appends all entries in one step.
func (m *importing) write(cmd *cobra.Command, into string, samples []labfile.Sample) error {
	text, fresh, err := m.bookText(cmd, into)
	if err != nil {
		return err
	}
	old := len(text)
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
	if ok, err := m.agreed(cmd, into, len(done)); !ok || err != nil {
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

// appended adds an entry for each sample that the book does not hold yet, and a
// well record if the file knows more of the well. It says what it added.
func (m *importing) appended(text []byte, name string, samples []labfile.Sample) ([]byte, []string, error) {
	var done []string
	add := func(e book.NewEntry, what string) error {
		longer, entry, err := book.Append(text, e)
		if err == nil {
			text = longer
			done = append(done, fmt.Sprintf("entry %s added: %s", entry.ID, what))
		}
		return err
	}
	b, _ := book.Read(name, text)
	from := fmt.Sprintf("from %s, sha256 %s", m.keptAs(), m.sha)
	if e, ok := samples[0].Well.WellEntry(samples[0].Report.Sampled, b.Present(today()), from); ok {
		if err := add(e, "well record"); err != nil {
			return nil, nil, err
		}
	}
	for _, s := range samples {
		e := s.Entry(labfile.Kept{File: m.keptAs(), SHA256: m.sha})
		if m.holds(b, e, s) {
			continue
		}
		if err := add(e, fmt.Sprintf("%s of %s, %d results", e.Kind, e.On.Format("2006-01-02"), len(s.Lines))); err != nil {
			return nil, nil, fmt.Errorf("import %s: %w", m.file, err)
		}
	}
	return text, done, nil
}

// holds reports whether the book has this sample of this file already.
func (m *importing) holds(b *book.Book, e book.NewEntry, s labfile.Sample) bool {
	for _, old := range b.Entries {
		if old.Kind == e.Kind && old.On.Equal(e.On) && mentions(old.Written, m.sha) && (s.Sheet == "" || mentions(old.Written, s.Sheet)) {
			return true
		}
	}
	return false
}

func mentions(v book.Value, s string) bool {
	if strings.Contains(v.Text, s) {
		return true
	}
	for _, item := range v.List {
		if mentions(item, s) {
			return true
		}
	}
	for _, p := range v.Pairs {
		if mentions(p.Value, s) {
			return true
		}
	}
	return false
}

// agreed reports whether to write: --yes says so, or whoever sits at the
// terminal. Without either what would be written has been shown, and that is all.
func (m *importing) agreed(cmd *cobra.Command, into string, entries int) (bool, error) {
	if m.yes {
		return true, nil
	}
	in, ok := cmd.InOrStdin().(*os.File)
	if !ok || !term.IsTerminal(int(in.Fd())) || m.json {
		if !m.json {
			fmt.Fprintf(cmd.OutOrStdout(), "nothing written; add --yes to write %d entries into %s\n", entries, into)
		}
		return false, nil
	}
	fmt.Fprintf(cmd.OutOrStdout(), "write %d entries into %s? [y/N] ", entries, into)
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
func (m *importing) keptAs() string { return "received/" + m.sha[:12] + "-" + filepath.Base(m.file) }

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
	base := strings.TrimSuffix(filepath.Base(m.file), filepath.Ext(m.file))
	return filepath.Join(filepath.Dir(into), base+mappingEnd)
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

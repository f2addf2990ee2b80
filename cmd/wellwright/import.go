package main

import (
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"github.com/spf13/cobra"

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
	opt := labfile.Options{Worksheet: m.worksheet, On: m.on, Today: today()}
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
	for _, f := range first { // what the proposal and the reading both say is said once
		if !slices.Contains(found, f) {
			found = append(found, f)
		}
	}
	return samples, found, nil
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
		beside, err := filepath.Glob(filepath.Join(filepath.Dir(into), "*"+labfile.MappingEnd))
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
	sites, sheets := labfile.Sites(samples), labfile.Sheets(samples)
	if len(sites) > 1 {
		return fmt.Errorf("import: %s holds %d sites, and a book is of one well: choose with --site, one of %s", m.file, len(sites), some(sites))
	}
	if sites[0] == "" && len(sheets) > 1 && !m.all {
		return fmt.Errorf("import: %s names no site and holds %d samples: choose with --sheet, or take all of them as this well's with --all", m.file, len(sheets))
	}
	return nil
}

// some names up to a dozen of a list.
func some(names []string) string {
	const most = 12
	if len(names) > most {
		return strings.Join(names[:most], ", ") + " ... (--list shows all)"
	}
	return strings.Join(names, ", ")
}

package hydraulic_test

import (
	"bytes"
	"flag"
	"fmt"
	"math"
	"os"
	"slices"
	"strconv"
	"strings"
	"testing"
)

var update = flag.Bool("update", false, "rewrite docs/examples.md")

// page is written from the examples below.
const page = "../docs/examples.md"

// example is one worked answer from outside the program beside ours. Miss is
// why ours is not within the tolerance; empty if it is.
type example struct {
	name, unit     string
	want, tol, got float64
	source, miss   string
}

// subject is a heading of the page with its examples.
type subject struct {
	name string
	rows []example
}

func subjects(t *testing.T) []subject {
	return []subject{
		{"Household demand", demandExamples(t)},
		{"Well, pump and tank", supplyExamples(t)},
		{"Pipes and valves", pipeExamples(t)},
		{"Granular beds", bedExamples(t)},
		{"Contact, feed and solids", contactExamples(t)},
		{"Hardness and balances", balanceExamples()},
		{"Speciation and calcite", speciationExamples(t)},
		{"Scaling and corrosion indices", indexExamples(t)},
		{"Gases and oxidation", oxidationExamples(t)},
		{"Feed chemicals", chemicalExamples(t)},
	}
}

// within reports whether ours is within the tolerance of the source.
func (e example) within() bool { return math.Abs(e.got-e.want) <= e.tol*(1+1e-9) }

func TestExamples(t *testing.T) {
	count := 0
	for _, s := range subjects(t) {
		for _, e := range s.rows {
			count++
			switch {
			case math.IsNaN(e.got) || e.source == "":
				t.Errorf("%s: got %g, source %q", e.name, e.got, e.source)
			case e.miss == "" && !e.within():
				t.Errorf("%s = %.6g %s, want %g ± %g (%s)", e.name, e.got, e.unit, e.want, e.tol, e.source)
			case e.miss != "" && e.within():
				t.Errorf("%s = %.6g %s is within %g of %g after all: drop the reason %q", e.name, e.got, e.unit, e.tol, e.want, e.miss)
			}
		}
	}
	if count < 40 {
		t.Errorf("%d examples", count)
	}
}

// The page must say what the program answers now: run with -update after a
// change and read the diff.
func TestExamplesPage(t *testing.T) {
	want := render(subjects(t))
	if *update {
		if err := os.WriteFile(page, want, 0o644); err != nil {
			t.Fatal(err)
		}
	}
	have, err := os.ReadFile(page)
	if err != nil {
		t.Fatal(err)
	}
	if !bytes.Equal(have, want) {
		t.Errorf("%s is stale: go test ./hydraulic -run TestExamplesPage -update", page)
	}
}

const preface = `# Worked examples

Each row sets an answer from outside the program beside ours. The page is written
by a test in package hydraulic and checked to be fresh:

    go test ./hydraulic -run TestExamplesPage -update

Tolerances come from the digits of the source or from the spread that the source
itself allows. "Derived" means worked apart from the program from published
constants or tables; "from memory" means that the text of the source was not seen.
Oxidation problems with constants of their own, and answers of other libraries,
are checked in the tests of the packages.

`

func render(all []subject) []byte {
	var b bytes.Buffer
	b.WriteString(preface)
	total, missed := 0, []example{}
	for _, s := range all {
		total += len(s.rows)
		missed = append(missed, slices.DeleteFunc(slices.Clone(s.rows), func(e example) bool { return e.miss == "" })...)
	}
	fmt.Fprintf(&b, "%d examples, %d of them outside their tolerance.\n", total, len(missed))
	for _, s := range all {
		fmt.Fprintf(&b, "\n## %s\n\n| example | expected | tolerance | got | difference | source |\n|---|---|---|---|---|---|\n", s.name)
		for _, e := range s.rows {
			mark := ""
			if e.miss != "" {
				mark = " **misses**"
			}
			fmt.Fprintf(&b, "| %s | %s | %s | %s | %s%s | %s |\n", e.name, e.expected(), short(e.tol), short(e.got), e.difference(), mark, e.source)
		}
	}
	b.WriteString("\n## The ones that miss\n\n| example | expected | got | why |\n|---|---|---|---|\n")
	for _, e := range missed {
		fmt.Fprintf(&b, "| %s | %s | %s | %s |\n", e.name, e.expected(), short(e.got), e.miss)
	}
	return b.Bytes()
}

// expected writes what the source prints, with its unit.
func (e example) expected() string {
	return strings.TrimSpace(strconv.FormatFloat(e.want, 'g', -1, 64) + " " + e.unit)
}

// short writes four figures, which any machine agrees on.
func short(v float64) string { return strconv.FormatFloat(v, 'g', 4, 64) }

// difference is ours less theirs to two figures, none where it is less than the
// page can show.
func (e example) difference() string {
	d := e.got - e.want
	if math.Abs(d) < 5e-5*math.Abs(e.want) || math.Abs(d) < 1e-12 {
		return "0"
	}
	return fmt.Sprintf("%+.2g", d)
}

// must takes the value of a call that cannot be refused here.
func must[T any](t *testing.T) func(T, error) T {
	return func(v T, err error) T {
		t.Helper()
		if err != nil {
			t.Fatal(err)
		}
		return v
	}
}

// sure takes the value of a look-up that cannot be absent here.
func sure[T any](t *testing.T) func(T, bool) T {
	return func(v T, ok bool) T {
		t.Helper()
		if !ok {
			t.Fatalf("%T is absent", v)
		}
		return v
	}
}

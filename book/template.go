package book

import (
	"strings"
	"time"
)

// Template returns a new book which teaches what to write: a first call and a
// well record to fill in, and every kind of entry with every key as a comment
// with an example. It reads back without a finding.
func Template(name string, on time.Time) []byte {
	var b strings.Builder
	b.WriteString(templateHead)
	date := on.Format(time.DateOnly)
	writeYAML(&b, Items(Fields(Under("entry", "1"), Under("date", date),
		Pair{Key: string(WellKind), Value: Fields(Under("name", name))})), 0)
	for _, k := range kinds {
		b.WriteString("\n# - entry: 2\n#   date: " + date + "\n#   by: the specialist\n")
		teach(&b, k.field, 2)
	}
	b.WriteString(templateTail)
	return []byte(b.String())
}

const templateHead = `# A well book: dated entries, added at the end and never changed.
#
# Each entry has a number of its own, a date, and one section: first call, well,
# house, equipment, local rules, signs, readings, laboratory report, jar tests,
# cultures, wishes, factor, variant. What you do not know you leave out: not measured is
# not zero. Figures stand with their unit, US or metric: 180 ft, 11.6 m, 9.5 gpm.
# A later entry need only say what is new. To use a line below, take away the
# mark at its beginning and give the entry the next free number.

`

const templateTail = `
# A wrong entry stays; a later one corrects it and replaces it as a whole.
# Without a section it takes the wrong entry back.
# - entry: 3
#   date: 2025-04-15
#   correction:
#     of: 2
#     why: tape read wrong
#   well:
#     depth: 190 ft
`

// teach writes a field and all below it as comments with examples.
func teach(b *strings.Builder, f field, in int) {
	key := "# " + strings.Repeat(" ", in) + f.name + ":"
	var under []field
	dash := ""
	switch {
	case f.form.shape == Map && f.form.fields != nil:
		under = f.form.fields
	case f.form.shape == List && f.form.item != nil && f.form.item.fields != nil:
		under, dash = f.form.item.fields, "- "
	case f.name == "results":
		b.WriteString(key + note(f) + "\n")
		for _, line := range exampleResults {
			b.WriteString("# " + strings.Repeat(" ", in+2) + line + "\n")
		}
		return
	default:
		b.WriteString(key + " " + f.eg + note(f) + "\n")
		return
	}
	b.WriteString(key + note(f) + "\n")
	for i, u := range under {
		if dash == "" {
			teach(b, u, in+2)
			continue
		}
		var one strings.Builder
		teach(&one, u, in+4)
		text := one.String()
		if i == 0 {
			text = strings.Replace(text, "# "+strings.Repeat(" ", in+4), "# "+strings.Repeat(" ", in+2)+dash, 1)
		}
		b.WriteString(text)
	}
}

// exampleResults shows the ways to write a figure.
var exampleResults = []string{
	"pH: 7.3",
	"temperature: 10 C",
	"ferrous iron: 1.9 mg/L",
	"total iron: 2.0 mg/L",
	"alkalinity: 255 mg/L as CaCO3",
	"nitrate: <0.05 mg/L as N",
	"total coliform: absent",
	"turbidity:",
	"  value: 11 NTU",
	"  method: EPA 180.1",
	"  detection limit: 0.1",
	"  note: read after 30 h",
}

// note is what a field means and what may stand there, as a comment.
func note(f field) string {
	say := f.what
	if len(f.form.words) > 0 {
		if say != "" {
			say += "; "
		}
		say += strings.Join(f.form.words, " | ")
	}
	if f.need {
		say = strings.TrimPrefix(say+" (needed)", " ")
	}
	if say == "" {
		return ""
	}
	return "  # " + say
}

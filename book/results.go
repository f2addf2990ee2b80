package book

import (
	"fmt"
	"regexp"
	"strings"
	"time"

	"wellwright/water"
)

var tapForm = regexp.MustCompile(`^(T[0-9]{1,2}|K|H|S|D)$`)

// tapOf makes a field that names a tap.
func tapOf[B any, W ~string](name, eg string, at func(*B) *W) field {
	return scalar(name, "T0 wellhead, T1 after the pressure tank, T2, T3 ... after each stage, K kitchen cold, H hot, D drain, S slime scraped off", firstOf(eg), func(s string, b *B) error {
		tap, err := parseTap(s)
		if err == nil {
			*at(b) = W(tap)
		}
		return err
	})
}

func firstOf(eg string) string { return strings.Fields(strings.ReplaceAll(eg, ",", " "))[0] }

func parseTap(s string) (water.Where, error) {
	up := strings.ToUpper(s)
	if !tapForm.MatchString(up) {
		return "", fmt.Errorf("tap %q is not one of T0, T1, T2 ..., K, H, D, S", s)
	}
	return water.Where(up), nil
}

var readingFields = []field{
	required(tapOf("tap", "T1", func(r *water.Report) *water.Where { return &r.Tap })),
	yesNo("first draw", "water that stood for six hours or more", "no", func(r *water.Report, yes bool) { r.FirstDraw = yes }),
	scalar("water ran", "before reading", "15 min", func(s string, r *water.Report) error { r.Bottle.Note = "water ran " + s; return nil }),
	required(results("results", "what was read, each with its unit")),
}

var laboratoryFields = []field{
	text("laboratory", "as printed", "county laboratory", func(r *water.Report) *string { return &r.Laboratory }),
	required(tapOf("tap", "T1", func(r *water.Report) *water.Where { return &r.Tap })),
	yesNo("first draw", "water that stood for six hours or more", "no", func(r *water.Report, yes bool) { r.FirstDraw = yes }),
	day("sampled", "date, and time if known; else the date of the entry counts", "2025-04-14 09:30", func(r *water.Report, t time.Time) { r.Sampled = t }),
	day("analysed", "date, and time if known", "2025-04-16", func(r *water.Report, t time.Time) { r.Analysed = t }),
	section("bottle", "of the metals", bottleFields, func(r *water.Report) *water.Bottle { return &r.Bottle }),
	text("file", "the received file, kept beside the book untouched", "report-118.pdf", func(r *water.Report) *string { return &r.File }),
	scalar("sha256", "hash of that file", strings.Repeat("0", 64), readFileHash),
	required(results("results", "as printed: sign, figure, unit and basis")),
}

var bottleFields = []field{
	maybe("acidified", "acid in the bottle, or added in the field", "yes", func(b *water.Bottle) **bool { return &b.Acidified }),
	maybe("filtered in the field", "the dissolved metals, through 0.45 um, before the acid", "yes", func(b *water.Bottle) **bool { return &b.FilteredField }),
	text("note", "", "on ice, 30 h", func(b *water.Bottle) *string { return &b.Note }),
}

var hashForm = regexp.MustCompile(`^[0-9a-f]{64}$`)

func readFileHash(s string, r *water.Report) error {
	if !hashForm.MatchString(strings.ToLower(s)) {
		return fmt.Errorf("sha256 %q: want 64 of the letters 0-9 and a-f", s)
	}
	r.SHA256 = strings.ToLower(s)
	return nil
}

// long is a result written with keys of its own.
type long struct {
	value, fraction, method, note string
	limit                         *float64
}

var resultFields = []field{
	required(text("value", "sign, figure and unit", "<0.05 mg/L as N", func(l *long) *string { return &l.value })),
	scalar("fraction", "total, dissolved, ferrous ...", "dissolved", func(s string, l *long) error {
		if _, ok := water.ParseFraction(s); !ok {
			return fmt.Errorf("fraction %q is not total, recoverable, dissolved, fine, suspended or ferrous", s)
		}
		l.fraction = s
		return nil
	}),
	text("method", "as printed", "EPA 200.7", func(l *long) *string { return &l.method }),
	number("detection limit", "in the unit of the value", "0.02", 0, 1e9, func(l *long, n float64) { l.limit = &n }),
	text("note", "qualifier or remark, as printed", "unpreserved, two days old", func(l *long) *string { return &l.note }),
}

// results makes the field of figures by analyte: "total iron: 2.0 mg/L". A
// figure may be one text, a section of keys, or a list of either.
func results(name, what string) field {
	item := form{shape: Map, fields: resultFields, short: true}
	return field{
		name: name, what: what, eg: "{pH: 7.3, ferrous iron: 1.9 mg/L, alkalinity: 255 mg/L as CaCO3, nitrate: <0.05 mg/L as N}",
		form: form{shape: Map, item: &form{shape: List, item: &item, short: true}},
		read: func(r *reader, v Value, body any) bool {
			if v.Shape != Map || len(v.Pairs) == 0 {
				r.wrong(v, fmt.Sprintf("%q stands where results belong", short(v)), "write lines such as total iron: 2.0 mg/L")
				return false
			}
			rep := body.(*water.Report)
			for _, p := range v.Pairs {
				rep.Results = append(rep.Results, r.results(p)...)
			}
			r.twice(v)
			return len(rep.Results) > 0
		},
	}
}

// twice says which names stand more than once among results.
func (r *reader) twice(v Value) {
	seen := map[string]int{}
	for _, p := range v.Pairs {
		if first := seen[fold(p.Key)]; first != 0 {
			r.wrong(Value{Line: p.Line}, fmt.Sprintf("%q stands twice, first on line %d", p.Key, first), "write both figures as a list under one name")
		}
		seen[fold(p.Key)] = max(p.Line, 1)
	}
}

// results reads all that stands under the name of one analyte.
func (r *reader) results(p Pair) []water.Result {
	var out []water.Result
	for _, v := range asList(p.Value) {
		var l long
		if v.Shape == Map {
			if !r.section(v, resultFields, &l) || l.value == "" {
				continue
			}
		} else if s, ok := r.text(v); ok {
			l.value = s
		} else {
			continue
		}
		res, err := l.result(p.Key, water.Place{File: r.file, Line: v.Line})
		if err != nil {
			r.wrong(v, err.Error(), "")
			continue
		}
		if r.possible(v, res) {
			out = append(out, res)
		}
	}
	return out
}

var figureForm = regexp.MustCompile(`^((?:[<>≤≥]=?|&[lg]t;|(?i:less than|more than|greater than|nd))? ?\(?[<-]? ?[0-9.,]+(?:[eE][+-]?[0-9]+)?\)?)(?: (to [0-9].*)|(.*))$`)

// cutFigure parts "<0.05 mg/L as N" into the figure and its unit. A word such
// as "absent" has no unit.
func cutFigure(s string) (figure, unit string) {
	m := figureForm.FindStringSubmatch(s)
	if m == nil || m[2] != "" {
		return s, ""
	}
	return m[1], strings.TrimSpace(m[3])
}

func (l long) result(name string, at water.Place) (water.Result, error) {
	figure, unit := cutFigure(l.value)
	res, err := water.ParseResult(name, figure, unit, at)
	if err != nil {
		return res, err
	}
	if l.fraction != "" {
		f, _ := water.ParseFraction(l.fraction)
		if res.Fraction != water.Unspecified && res.Fraction != f {
			return res, fmt.Errorf("%q says %s, its fraction says %s", name, res.Fraction, f)
		}
		res.Fraction = f
	}
	if l.note != "" {
		res.Note = strings.TrimSpace(res.Note + " " + l.note)
	}
	res.Method, res.Limit = l.method, l.limit
	return res, nil
}

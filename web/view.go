package web

import (
	"net/http"
	"strings"
	"time"

	"golang.org/x/text/language"
	"golang.org/x/text/message"
	"golang.org/x/text/number"

	"wellwright/book"
	"wellwright/plan"
	"wellwright/sheet"
	"wellwright/unit"
)

// view is how one person wants pages shown: it lives in their browser's cookie.
type view struct {
	Units string // us, metric; "" follows the well's place
	Theme string // light, dark; "" follows the machine

	System unit.System // what Units come to for the well shown
	tag    language.Tag
}

// viewCookie names the cookie with the view of all pages, unitsCookie that with the
// units chosen for one well: it is sent with the pages of that well alone.
const viewCookie, unitsCookie = "view", "units"

// viewOf reads the view of a request for a well; the zero Present is no well.
func viewOf(r *http.Request, p book.Present) view {
	v := view{tag: localeOf(r)}
	if c, err := r.Cookie(viewCookie); err == nil {
		units, theme, _ := strings.Cut(c.Value, ".")
		v.Units, v.Theme = oneOf(units, "us", "metric"), oneOf(theme, "light", "dark")
	}
	if c, err := r.Cookie(unitsCookie); err == nil && oneOf(c.Value, "us", "metric") != "" {
		v.Units = c.Value
	}
	v.System = sheet.SystemOf(p)
	if s, err := unit.ParseSystem(v.Units); err == nil && v.Units != "" {
		v.System = s
	}
	return v
}

// oneOf returns s if it is one of the words, else "".
func oneOf(s string, words ...string) string {
	for _, w := range words {
		if s == w {
			return s
		}
	}
	return ""
}

// localeOf is the first language a browser asks for.
func localeOf(r *http.Request) language.Tag {
	tags, _, err := language.ParseAcceptLanguage(r.Header.Get("Accept-Language"))
	if err != nil || len(tags) == 0 {
		return language.AmericanEnglish
	}
	return tags[0]
}

// setView handles POST /view: the switch of units and of light and dark.
func (s *Server) setView(w http.ResponseWriter, r *http.Request) error {
	if err := r.ParseForm(); err != nil {
		return bad("the form could not be read")
	}
	v := viewOf(r, book.Present{})
	units := oneOf(r.Form.Get("units"), "us", "metric")
	if well := wellOf(backTo(r)); well != "" {
		rememberUnits(w, well, units)
	} else if r.Form.Has("units") {
		v.Units = units
	}
	if r.Form.Has("theme") {
		v.Theme = oneOf(r.Form.Get("theme"), "light", "dark")
	}
	http.SetCookie(w, &http.Cookie{Name: viewCookie, Value: v.Units + "." + v.Theme, Path: "/", MaxAge: int((365 * 24 * time.Hour).Seconds()), HttpOnly: true, SameSite: http.SameSiteStrictMode})
	http.Redirect(w, r, backTo(r), http.StatusSeeOther)
	return nil
}

// rememberUnits keeps the units chosen for a well. They are the browser's: on
// another machine the units of the well's place count until somebody chooses.
func rememberUnits(w http.ResponseWriter, well book.ID, units string) {
	if units == "" {
		return
	}
	http.SetCookie(w, &http.Cookie{Name: unitsCookie, Value: units, Path: "/wells/" + string(well), MaxAge: int((365 * 24 * time.Hour).Seconds()), HttpOnly: true, SameSite: http.SameSiteStrictMode})
}

// wellOf is the well that a path is a page of; "" if it is of none.
func wellOf(path string) book.ID {
	rest, ok := strings.CutPrefix(path, "/wells/")
	if !ok {
		return ""
	}
	end := strings.IndexAny(rest, "/?")
	if end < 0 {
		end = len(rest)
	}
	return book.ID(rest[:end])
}

// backTo is the page of ours that a form came from.
func backTo(r *http.Request) string {
	if at := r.Form.Get("from"); strings.HasPrefix(at, "/") && !strings.HasPrefix(at, "//") && !strings.Contains(at, "\\") {
		return at
	}
	return "/"
}

// Lang is the language for the page's head: all words are English, and only
// figures follow the reader's locale.
func (v view) Lang() string { return "en" }

// Metric is true of metric units.
func (v view) Metric() bool { return v.System == unit.Metric }

// Amount writes a value with a unit of the answer to some digits, in the units
// and with the marks of the reader.
func (v view) Amount(value float64, of string, digits int) string {
	return v.marks(sheet.Amount(value, of, digits, v.System))
}

// Spread writes a range with a unit of the answer.
func (v view) Spread(r plan.Range, of string) string {
	return v.marks(sheet.Spread(r, of, v.System))
}

// Prose turns the units of a sentence into the reader's.
func (v view) Prose(text string) string { return sheet.Prose(text, v.System) }

// Dollars writes a cost with its range.
func (v view) Dollars(r plan.Range) string { return v.marks(sheet.Dollars(r)) }

// USD writes one cost.
func (v view) USD(value float64) string { return v.marks(sheet.USD(value)) }

// Date writes a date as the reader's locale does.
func (v view) Date(t time.Time) string {
	if t.IsZero() {
		return "no date"
	}
	region, _ := v.tag.Region()
	switch {
	case v.tag == language.Und || region.String() == "US":
		return t.Format("Jan 2, 2006")
	}
	return t.Format("2 Jan 2006")
}

// marks puts the reader's decimal mark and thousands in the place of ours.
func (v view) marks(s string) string {
	point, comma := marksOf(v.tag)
	if point == "." && comma == "," {
		return s
	}
	return strings.Map(func(r rune) rune {
		switch r {
		case '.':
			return []rune(point)[0]
		case ',':
			return []rune(comma)[0]
		}
		return r
	}, s)
}

// marksOf reads the marks of a locale off a number written in it.
func marksOf(t language.Tag) (point, comma string) {
	text := []rune(message.NewPrinter(t).Sprint(number.Decimal(12345.5)))
	point, comma = ".", ","
	for i := len(text) - 1; i >= 0; i-- {
		if text[i] < '0' || text[i] > '9' {
			if i == len(text)-2 {
				point = string(text[i])
			} else {
				comma = string(text[i])
			}
		}
	}
	return point, comma
}

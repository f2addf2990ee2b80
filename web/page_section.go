package web

import (
	"fmt"
	"html/template"
	"net/http"
	"strings"
	"time"

	"wellwright/canvas"
	"wellwright/plan"
	"wellwright/section"
	"wellwright/sheet"
	"wellwright/train"
	"wellwright/unit"
	"wellwright/web/internal/warm"
)

// sectionPage is the long section of a well.
type sectionPage struct {
	frame
	Alerts  []alert
	Train   string // in words
	Meets   string // in how many of the plausible wells it does all that is asked
	First   string // the first limit to fail
	Fails   bool
	Choices []sectionChoice
	Others  []sectionChoice // what may be laid over it
	Against string          // date laid over it, as typed
	drawnSection
	Query   string // of this page, for its drawing as a file
	Actions []plan.Action
	Next    string
}

// sectionChoice is a train to be drawn.
type sectionChoice struct {
	Train, Words string
	Chosen       bool
}

// alert is something to say before anything else.
type alert struct {
	Rank             int
	Mark, Say, Basis string
}

// asked is what of a section is asked for: the train, and what is laid over it.
type asked struct {
	train, against train.Train // nil: the first to show; nil: none
	day            time.Time   // date laid over it; zero: none
}

// askedOf reads the query of a section.
func askedOf(r *http.Request) (asked, error) {
	var a asked
	var err error
	q := r.URL.Query()
	if a.train, err = trainOf(q.Get("train")); err != nil {
		return a, bad("train: " + err.Error())
	}
	if a.against, err = trainOf(q.Get("against")); err != nil {
		return a, bad("laid over it: " + err.Error())
	}
	if d := q.Get("against-date"); d != "" {
		if a.day, err = time.Parse(time.DateOnly, d); err != nil {
			return a, bad("laid over it: " + d + ": write a date as 2025-05-31")
		}
	}
	return a, nil
}

// trainOf reads a train of a query; nil if there is none.
func trainOf(text string) (train.Train, error) {
	if strings.TrimSpace(text) == "" {
		return nil, nil
	}
	return train.Parse(text)
}

// showSection handles GET /wells/{well}.
func (s *Server) showSection(w http.ResponseWriter, r *http.Request) error {
	o, x, ok, err := s.drawnFor(w, r)
	if !ok {
		return err
	}
	f := s.framed(r, o, "section", "Section")
	p := sectionPage{
		frame: f, drawnSection: x, Alerts: alertsOf(x.answer, f.view), Query: r.URL.RawQuery, Next: f.Prose(x.answer.NextSay), Actions: x.answer.Actions,
		Choices: choicesOf(x.answer, x.Course.Train), Others: choicesOf(x.answer, names(x.against)), Against: r.URL.Query().Get("against-date"),
	}
	p.Train, p.Meets, p.First, p.Fails = sheet.Train(x.Course.Train), meetsWords(x.Course), f.Prose(sheet.FirstLimit(x.Course.First, f.System)), x.Course.Fails
	return s.render(w, r, "section.html", p)
}

// drawnFor is the section that a request asks for; ok is false where it is still
// being worked out, and the page that says so has been written.
func (s *Server) drawnFor(w http.ResponseWriter, r *http.Request) (o opened, x drawnSection, ok bool, err error) {
	if o, err = s.open(r); err != nil {
		return o, x, false, err
	}
	q, err := askedOf(r)
	if err != nil {
		return o, x, false, err
	}
	k, a, ok, err := s.answered(w, r, o, "section")
	if !ok {
		return o, x, false, err
	}
	var other *warm.Kept
	if !q.day.IsZero() {
		if other, ok, err = s.otherDay(w, r, o, q.day); !ok {
			return o, x, false, err
		}
	}
	q.choose(a)
	system := viewOf(r, o.present).System
	x, err = s.drawn.of(q.key(o, system), func() (drawnSection, error) { return draw(k, other, q, system) })
	if err != nil {
		return o, x, false, bad(err.Error())
	}
	x.answer, x.against = a, q.against
	return o, x, true, nil
}

// otherDay is the desk of the same book as it stood on another day.
func (s *Server) otherDay(w http.ResponseWriter, r *http.Request, o opened, day time.Time) (*warm.Kept, bool, error) {
	then := o
	then.present = o.book.Present(day)
	if len(then.present.Used) == 0 {
		return nil, false, bad("the book has no entry up to " + day.Format(time.DateOnly))
	}
	k, _, ok, err := s.answered(w, r, then, "section")
	return k, ok, err
}

// drawnSection is a long section worked out and drawn.
type drawnSection struct {
	Course  plan.Course
	Drawing template.HTML
	Table   section.TapSheet
	drawing *canvas.Drawing
	answer  plan.Answer
	against train.Train
}

// drawnKey is what a drawing depends on.
type drawnKey struct {
	warm.Key
	train, against string
	day            time.Time
	system         unit.System
}

func (q asked) key(o opened, s unit.System) drawnKey {
	return drawnKey{o.key(), q.train.String(), q.against.String(), q.day, s}
}

// choose takes the train a section opens with where none was asked for.
func (q *asked) choose(a plan.Answer) {
	if q.train == nil {
		q.train = firstShown(a)
	}
}

// draw lays out what is asked for and draws it; other is the well of another day, or
// nil.
func draw(k, other *warm.Kept, q asked, s unit.System) (drawnSection, error) {
	c, over, err := courses(k, other, q)
	if err != nil {
		return drawnSection{}, err
	}
	drawing := section.Long(c, s)
	if over != nil {
		drawing = section.Overlay(c, *over, s)
	}
	return drawnSection{Course: c, Drawing: inline(drawing), Table: section.TapTable(c, s), drawing: drawing}, nil
}

// courses are the course asked for and the one laid over it; nil if there is none.
func courses(k, other *warm.Kept, q asked) (c plan.Course, over *plan.Course, err error) {
	if c, err = courseOf(k, q.train); err != nil {
		return c, nil, err
	}
	beside, t := k, q.against
	if other != nil {
		beside, t = other, q.train
	}
	if other == nil && t == nil {
		return c, nil, nil
	}
	o, err := courseOf(beside, t)
	return c, &o, err
}

func courseOf(k *warm.Kept, t train.Train) (plan.Course, error) {
	d, err := k.Desk()
	if err != nil {
		return plan.Course{}, err
	}
	return d.Course(t)
}

// firstShown is the train a section opens with: the first option, else the rejected
// train that is listed first, else none: the well as it is.
func firstShown(a plan.Answer) train.Train {
	var ids []string
	switch {
	case len(a.Options) > 0:
		ids = a.Options[0].Train
	case len(a.Rejected) > 0:
		ids = a.Rejected[0].Train
	}
	t, err := trainOf(strings.Join(ids, ","))
	if err != nil {
		return nil // the answer names only processes that there are
	}
	return t
}

// choicesOf are the trains of an answer, with the one that is chosen; one that is
// in no list stands last.
func choicesOf(a plan.Answer, chosen []string) []sectionChoice {
	var cs []sectionChoice
	id, found := strings.Join(chosen, ","), false
	add := func(ids []string, words string) {
		c := sectionChoice{strings.Join(ids, ","), words, strings.Join(ids, ",") == id}
		found = found || c.Chosen
		cs = append(cs, c)
	}
	for _, o := range a.Options {
		add(o.Train, fmt.Sprintf("%d. %s", o.Rank, sheet.Train(o.Train)))
	}
	for _, x := range a.Rejected {
		add(x.Train, "rejected: "+sheet.Train(x.Train))
	}
	if !found && id != "" {
		add(chosen, sheet.Train(chosen))
	}
	return cs
}

// names are the processes of a train as words of an address.
func names(t train.Train) []string {
	ids := make([]string, len(t))
	for i, p := range t {
		ids[i] = string(p)
	}
	return ids
}

// meetsWords says in how many of the plausible wells a course does all that is
// asked.
func meetsWords(c plan.Course) string {
	if c.MeetsProbability == nil {
		return ""
	}
	return sheet.Sureness(plan.Option{MeetsProbability: c.MeetsProbability, MeetsError: c.MeetsError})
}

// alertsOf are the alerts of an answer with their marks in words.
func alertsOf(a plan.Answer, v view) []alert {
	var out []alert
	for _, x := range a.Alerts {
		out = append(out, alert{x.Rank, sheet.AlertWord(x), v.Prose(x.Say), v.Prose(x.Basis)})
	}
	return out
}

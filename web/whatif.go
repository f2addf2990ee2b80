package web

import (
	"context"
	"errors"
	"net"
	"net/http"
	"net/url"
	"slices"
	"strings"

	"wellwright/book"
	"wellwright/plan"
	"wellwright/web/internal/warm"
)

// whatif is a question of a well made ready: what it is asked of, and how it stands
// in an address.
type whatif struct {
	opened
	desk    *plan.Desk
	answer  plan.Answer
	view    view
	asking  asking
	asked   question
	variant plan.Variant
	wrong   []plan.Mistake
	query   url.Values // canonical
}

// showWhatif handles GET /wells/{well}/what-if: the page, or to a script that asks
// for it the part that follows from what was asked.
func (s *Server) showWhatif(w http.ResponseWriter, r *http.Request) error {
	x, ok, err := s.whatif(w, r)
	if !ok {
		return err
	}
	if r.URL.Query().Get("sent") != "" && !asksPart(r) { // the form as a browser sends it: to its own address
		http.Redirect(w, r, x.path(x.query), http.StatusSeeOther)
		return nil
	}
	follow, err := s.follow(r, x)
	if err != nil {
		return err
	}
	p := s.whatifPage(r, x, follow)
	if !asksPart(r) {
		return s.render(w, r, "whatif.html", p)
	}
	w.Header().Set(historyHeader(r, x), x.path(x.query))
	return s.renderPart(w, "whatif.html", "followed", p)
}

// historyHeader puts a question of other inputs into the browser's history, and
// another value of the same into the place of the last.
func historyHeader(r *http.Request, x whatif) string {
	u, err := url.Parse(r.Header.Get("HX-Current-URL"))
	if err == nil && slices.Equal(keysOf(u.Query()), keysOf(x.query)) && r.URL.Query().Get("do") == "" {
		return "HX-Replace-Url"
	}
	return "HX-Push-Url"
}

func keysOf(q url.Values) []string {
	var ks []string
	for k := range q {
		if k != "was" {
			ks = append(ks, k)
		}
	}
	slices.Sort(ks)
	return ks
}

// path is the page with a question.
func (x whatif) path(q url.Values) string { return pathTo(x.id, "/what-if", q) }

func pathTo(id book.ID, page string, q url.Values) string {
	at := "/wells/" + string(id) + page
	if len(q) > 0 {
		at += "?" + q.Encode()
	}
	return at
}

// whatif reads the question of a request; ok is false where the well is still being
// worked out, and the page that says so has been written.
func (s *Server) whatif(w http.ResponseWriter, r *http.Request) (x whatif, ok bool, err error) {
	if x.opened, err = s.open(r); err != nil {
		return x, false, err
	}
	if asksPart(r) || strings.HasSuffix(r.URL.Path, "/whole") {
		if err := s.awaited(r.Context(), x.opened); err != nil {
			return x, false, err
		}
	}
	k, a, ok, err := s.answered(w, r, x.opened, "whatif")
	if !ok {
		return x, false, err
	}
	x.answer = a
	if x.desk, err = k.Desk(); err != nil {
		return x, false, err
	}
	x.view = viewOf(r, x.present)
	x.ask(r.URL.Query())
	return x, true, nil
}

// ask reads a question out of a query.
func (x *whatif) ask(q url.Values) {
	var own *plan.Option
	if len(x.answer.Options) > 0 {
		own = &x.answer.Options[0]
	}
	x.asking = askingOf(x.desk, own, x.view.System)
	x.asked = x.asking.read(q)
	x.variant, x.wrong = x.asked.variant(x.asking.own)
	x.query = x.asked.query(x.asking.own)
	if d := q.Get("as-of"); d != "" {
		x.query.Set("as-of", d)
	}
}

// awaited waits until a well is ready: a question of one that is not waits for it.
func (s *Server) awaited(ctx context.Context, o opened) error {
	select {
	case <-s.warm.Well(o.key(), o.present, s.Now()).Done():
		return nil
	case <-ctx.Done():
		return context.Cause(ctx)
	}
}

// key names the question for those who ask the same.
func (x whatif) key() warm.Asked {
	return warm.Asked{Key: x.opened.key(), Question: x.query.Encode()}
}

// plain reports whether nothing is asked.
func (x whatif) plain() bool { return x.variant.Plain() }

// askerOf is the machine that a request came from.
func askerOf(r *http.Request) string {
	host, _, err := net.SplitHostPort(r.RemoteAddr)
	if err != nil {
		return r.RemoteAddr
	}
	return host
}

// follow works out what follows: the whole answer where it is at hand or was asked
// for, else the first one.
func (s *Server) follow(r *http.Request, x whatif) (followed, error) {
	if len(x.wrong) > 0 {
		return x.mistaken(), nil
	}
	t, known := s.warm.Known(x.key())
	var err error
	if !known && r.URL.Query().Get("whole") == "yes" {
		t, err = s.warm.Whole(r.Context(), askerOf(r), x.key(), x.desk, x.variant)
		known = true
	}
	if err != nil {
		return x.refused(err)
	}
	end, err := s.warm.Turn(r.Context())
	if err != nil {
		return x.refused(err)
	}
	defer end()
	if !known {
		if t, err = x.desk.Try(x.variant); err != nil {
			return x.refused(err)
		}
	}
	return x.followed(t), nil
}

// refused says what cannot be asked; what went wrong otherwise is an error.
func (x whatif) refused(err error) (followed, error) {
	if errors.Is(err, context.Canceled) || errors.Is(err, plan.ErrGivenUp) || errors.Is(err, warm.ErrOvertaken) {
		return followed{}, context.Canceled
	}
	x.wrong = []plan.Mistake{{At: "train", Say: err.Error()}}
	return x.mistaken(), nil
}

// showCompared handles GET /wells/{well}/what-if/compare: two kept variants side by
// side, one laid over the other.
func (s *Server) showCompared(w http.ResponseWriter, r *http.Request) error {
	x, ok, err := s.whatif(w, r)
	if !ok {
		return err
	}
	q := r.URL.Query()
	a, nameA, err := s.tried(r, x, q.Get("a"))
	if err != nil {
		return err
	}
	b, nameB, err := s.tried(r, x, q.Get("b"))
	if err != nil {
		return err
	}
	return s.render(w, r, "compare.html", s.comparedPage(r, x, side{nameA, a}, side{nameB, b}))
}

// tried works out a kept variant by its entry; "" is the book as it is.
func (s *Server) tried(r *http.Request, x whatif, entry string) (plan.Tried, string, error) {
	name, v := "the book as it is", book.Variant{}
	if entry != "" {
		i := slices.IndexFunc(x.present.Variants, func(v book.Variant) bool { return v.Entry == entry })
		if i < 0 {
			return plan.Tried{}, "", missing("there is no variant of entry " + entry)
		}
		v = x.present.Variants[i]
		name = v.Name
	}
	x.ask(queryOf(v))
	if len(x.wrong) > 0 {
		return plan.Tried{}, "", bad(name + ": " + x.wrong[0].Say)
	}
	if t, known := s.warm.Known(x.key()); known {
		return t, name, nil
	}
	end, err := s.warm.Turn(r.Context())
	if err != nil {
		return plan.Tried{}, "", err
	}
	defer end()
	t, err := x.desk.Try(x.variant)
	return t, name, err
}

// queryOf is a kept variant as an address asks it.
func queryOf(v book.Variant) url.Values {
	x := question{Variant: v}
	q := x.query(nil)
	if len(v.Train) == 0 {
		q.Del("train")
		if len(v.Changes)+len(v.Prices)+len(v.Factors) > 0 {
			q.Set("anew", "yes")
		}
	}
	return q
}

package web

import (
	"fmt"
	"maps"
	"net/http"
	"net/url"
	"slices"
	"strconv"
	"strings"

	"wellwright/book"
	"wellwright/media"
	"wellwright/plan"
	"wellwright/sheet"
	"wellwright/stage"
	"wellwright/unit"
)

// question is what a what-if asks, as a query carries it: an input by its name, a
// size as s2.media_ft3, a price as p.labour hour, a factor as f.near_tie. It keeps
// to what differs from the book, so that the same question has one address.
type question struct {
	book.Variant
	anew bool // the train is chosen anew
}

// asking reads questions of one well.
type asking struct {
	inputs []plan.Input
	system unit.System
	own    []string // the book's own first choice
}

// read takes the question out of a query, with any step of the train that a button
// asks for done.
func (a asking) read(q url.Values) question {
	x := question{Variant: book.Variant{Changes: map[string]string{}, Prices: map[string]string{}, Factors: map[string]string{}}}
	for _, in := range a.inputs {
		if text := strings.TrimSpace(q.Get(in.Name)); q.Has(in.Name) && text != a.now(in) && (text != "" || in.Unit == "" || in.Now != "") {
			if text = a.withUnit(in, text); text != "" {
				x.Changes[in.Name] = text
			}
		}
	}
	x.anew = q.Get("anew") == "yes"
	x.Train = a.own
	if t := q.Get("train"); t != "" && !x.anew {
		x.Train = strings.Split(t, ",")
	}
	x.readSizes(q)
	readPrefixed(x.Prices, q, "p.")
	readPrefixed(x.Factors, q, "f.")
	x.readAdded(q)
	x.step(q)
	return x
}

// now is the present value of an input as its field shows it.
func (a asking) now(in plan.Input) string {
	text, _ := a.shown(in)
	return text
}

// shown is the present value of an input and its unit, in the reader's units.
func (a asking) shown(in plan.Input) (text, in1 string) {
	if in.Unit == "" || in.Unit == "pH" || in.Unit == "people" || in.Unit == "USD" || in.Now == "" {
		return in.Now, strings.TrimPrefix(in.Unit, "pH")
	}
	v, err := strconv.ParseFloat(in.Now, 64)
	if err != nil {
		return in.Now, in.Unit
	}
	printed := sheet.Amount(v, in.Unit, 3, a.system)
	text, in1, _ = strings.Cut(printed, " ")
	return strings.ReplaceAll(text, ",", ""), in1
}

// withUnit gives a bare number the unit that stood beside its field.
func (a asking) withUnit(in plan.Input, text string) string {
	_, u := a.shown(in)
	if _, err := strconv.ParseFloat(text, 64); err == nil && u != "" && u != in.Unit && in.Unit != "" {
		return text + " " + u
	}
	return text
}

func readPrefixed(into map[string]string, q url.Values, prefix string) {
	for key := range q {
		if name, ok := strings.CutPrefix(key, prefix); ok && strings.TrimSpace(q.Get(key)) != "" && len(into) < mostAsked {
			into[name] = strings.TrimSpace(q.Get(key))
		}
	}
}

// mostAsked bounds the prices and the factors of one question.
const mostAsked = 40

// readSizes reads the sizes given.
func (x *question) readSizes(q url.Values) {
	for i, id := range x.Train {
		figures := map[string]string{}
		for _, d := range stage.Dials(media.Process(id)) {
			if text := strings.TrimSpace(q.Get(sizeName(i+1, d.Leaf))); text != "" {
				figures[d.Leaf] = text
			}
		}
		if len(figures) > 0 {
			x.Sizes = append(x.Sizes, book.VariantSize{Stage: i + 1, Figures: figures})
		}
	}
}

// sizeName is the name of a figure's field.
func sizeName(at int, leaf string) string { return fmt.Sprintf("s%d.%s", at, leaf) }

// readAdded takes a price and a factor named in the rows for one more.
func (x *question) readAdded(q url.Values) {
	for _, row := range []struct {
		name, value string
		into        map[string]string
	}{{"part", "part-usd", x.Prices}, {"factor", "factor-value", x.Factors}} {
		name, value := strings.TrimSpace(q.Get(row.name)), strings.TrimSpace(q.Get(row.value))
		if name != "" && value != "" {
			row.into[name] = value
		}
	}
}

// step does what a button of the train asks: earlier.2, later.2, remove.2, add.2.
func (x *question) step(q url.Values) {
	verb, at, _ := strings.Cut(q.Get("do"), ".")
	i, err := strconv.Atoi(at)
	if err != nil || i < 0 || i > len(x.Train) {
		return
	}
	was := slices.Clone(x.Train)
	switch {
	case verb == "earlier" && i > 1:
		x.swap(i-1, i-2)
	case verb == "later" && i >= 1 && i < len(x.Train):
		x.swap(i-1, i)
	case verb == "remove" && i >= 1 && len(x.Train) > 1:
		x.Train = slices.Delete(was, i-1, i)
		x.resize(func(k int) int {
			switch {
			case k == i:
				return 0
			case k > i:
				return k - 1
			}
			return k
		})
	case verb == "add":
		if p := q.Get(fmt.Sprintf("add%d", i)); p != "" {
			x.Train = slices.Insert(was, i, p)
			x.resize(func(k int) int {
				if k > i {
					return k + 1
				}
				return k
			})
		}
	}
}

// swap puts two stages in one another's place, with their sizes.
func (x *question) swap(a, b int) {
	x.Train = slices.Clone(x.Train)
	x.Train[a], x.Train[b] = x.Train[b], x.Train[a]
	x.resize(func(k int) int {
		switch k {
		case a + 1:
			return b + 1
		case b + 1:
			return a + 1
		}
		return k
	})
}

// resize moves sizes along with their stages; 0 drops one.
func (x *question) resize(to func(int) int) {
	var kept []book.VariantSize
	for _, z := range x.Sizes {
		if z.Stage = to(z.Stage); z.Stage > 0 {
			kept = append(kept, z)
		}
	}
	slices.SortFunc(kept, func(a, b book.VariantSize) int { return a.Stage - b.Stage })
	x.Sizes = kept
}

// query is the question as an address has it: sorted, without what is as it was.
func (x question) query(own []string) url.Values {
	q := url.Values{}
	for name, text := range x.Changes {
		q.Set(name, text)
	}
	if x.anew {
		q.Set("anew", "yes")
	} else if !slices.Equal(x.Train, own) {
		q.Set("train", strings.Join(x.Train, ","))
	}
	for _, z := range x.Sizes {
		for leaf, text := range z.Figures {
			q.Set(sizeName(z.Stage, leaf), text)
		}
	}
	for part, usd := range x.Prices {
		q.Set("p."+part, usd)
	}
	for name, v := range x.Factors {
		q.Set("f."+name, v)
	}
	return q
}

// variant is the question as the domain takes it. The book's own train is named
// only where something is asked of it, so that nothing asked is nothing new.
func (x question) variant(own []string) (plan.Variant, []plan.Mistake) {
	v := x.Variant
	if x.anew {
		v.Train, v.Sizes = nil, nil
	} else if slices.Equal(v.Train, own) && len(v.Sizes)+len(v.Changes)+len(v.Prices)+len(v.Factors) == 0 {
		v.Train = nil
	}
	return plan.ReadVariant(v)
}

// words say what is asked, one line for each thing.
func (x question) words(a asking) []string {
	var ws []string
	for _, in := range a.inputs {
		if to, ok := x.Changes[in.Name]; ok {
			now, u := a.shown(in)
			if now == "" {
				now = "not said"
			}
			if u != "" && !strings.ContainsAny(to, "abcdefghijklmnopqrstuvwxyzLF") {
				to += " " + u
			}
			ws = append(ws, fmt.Sprintf("%s %s → %s", inputWords(in.Name), strings.TrimSpace(now+" "+u), to))
		}
	}
	switch {
	case x.anew:
		ws = append(ws, "the train chosen anew")
	case !slices.Equal(x.Train, a.own):
		ws = append(ws, "train: "+sheet.Train(x.Train))
	}
	for _, z := range x.Sizes {
		for _, leaf := range slices.Sorted(maps.Keys(z.Figures)) {
			what, u := sizeWords(leaf)
			ws = append(ws, strings.TrimSpace(fmt.Sprintf("%s: %s %s %s", stageWords(x.Train, z.Stage), what, z.Figures[leaf], u)))
		}
	}
	for _, part := range slices.Sorted(maps.Keys(x.Prices)) {
		ws = append(ws, part+" at $"+strings.TrimPrefix(x.Prices[part], "$"))
	}
	for _, name := range slices.Sorted(maps.Keys(x.Factors)) {
		ws = append(ws, strings.ReplaceAll(name, "_", " ")+" "+x.Factors[name])
	}
	return ws
}

func stageWords(t []string, at int) string {
	if at < 1 || at > len(t) {
		return fmt.Sprintf("stage %d", at)
	}
	return media.Process(t[at-1]).Words()
}

// inputWords is the name of an input as it is read.
func inputWords(name string) string {
	switch name {
	case "ph":
		return "pH"
	case "toc":
		return "organic carbon"
	case "pump":
		return "pump at cut-in"
	case "peak":
		return "peak of the house"
	case "daily":
		return "daily use"
	}
	return strings.ReplaceAll(name, "-", " ")
}

// askingOf is what a question of a well starts from.
func askingOf(d *plan.Desk, own *plan.Option, s unit.System) asking {
	a := asking{inputs: d.Turnable(), system: s}
	if own != nil {
		a.own = own.Train
	}
	return a
}

// asksPart reports whether a script asks for the part that follows alone.
func asksPart(r *http.Request) bool {
	return r.Header.Get("HX-Request") == "true" && r.Header.Get("HX-Target") == "follow"
}

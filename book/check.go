package book

import (
	"fmt"
	"strings"
	"time"

	"wellwright/source"
	"wellwright/water"
)

// Check returns what Read cannot know from the text alone: entries and samples
// of a later date than on, and, as notices, figures that hardly any well has and
// entries of one day that contradict each other. What is said of an entry counts
// no more once it is taken back.
func (b *Book) Check(on time.Time) []Finding {
	var found []Finding
	corrected, back := b.replaced(func(Entry) bool { return true }), b.replaced(takesBack)
	for _, e := range b.Entries {
		if !written(e, on) && !back[e.ID] {
			f := b.at(e, fmt.Sprintf("entry %s is dated %s, after %s", e.ID, e.On.Format(time.DateOnly), on.Format(time.DateOnly)), "a book holds what was found, not what is to come")
			f.TakeBack = true
			found = append(found, f)
		}
		if rep, ok := e.Body.(*water.Report); ok && rep != nil && !corrected[e.ID] {
			found = append(found, b.sampleDates(e, *rep)...)
			found = append(found, b.doubts(e, *rep)...)
		}
	}
	found = append(found, b.contradictions()...)
	sortFindings(found)
	return found
}

func (b *Book) sampleDates(e Entry, rep water.Report) []Finding {
	var found []Finding
	if !e.On.IsZero() && rep.Sampled.After(e.On.Add(24*time.Hour)) {
		found = append(found, b.at(e, fmt.Sprintf("sample of %s stands in an entry of %s", rep.Sampled.Format(time.DateOnly), e.On.Format(time.DateOnly)), "date the entry by the day it is written"))
	}
	if !rep.Analysed.IsZero() && rep.Analysed.Before(rep.Sampled.Truncate(24*time.Hour)) {
		found = append(found, b.at(e, fmt.Sprintf("analysed on %s, before it was sampled on %s", rep.Analysed.Format(time.DateOnly), rep.Sampled.Format(time.DateOnly)), "look at both dates"))
	}
	for i := range found {
		found[i].TakeBack = true
	}
	return found
}

// contradictions names the facts on which two entries of the same moment differ:
// the one with the higher name counts, and nobody may have meant that.
func (b *Book) contradictions() []Finding {
	type told struct{ entry, text string }
	var found []Finding
	first := map[string]told{}
	for _, f := range b.inForce(time.Time{}) {
		k, ok := kindOf(string(f.body.Kind))
		if !ok || !k.lasting() {
			continue
		}
		leaves(f.body.Section, k.name, func(path, text string) {
			key := f.root.On.String() + path
			before, ok := first[key]
			if ok && before.text != text {
				n := b.at(f.body, fmt.Sprintf("%s is %s here and %s in entry %s of the same day", path, text, before.text, before.entry),
					"the entry with the higher number counts; correct the wrong one")
				n.Weight = Notice
				found = append(found, n)
			}
			first[key] = told{f.body.ID, text}
		})
	}
	return found
}

// lasting reports whether entries of the kind refine one state, rather than
// add to a list.
func (k kind) lasting() bool {
	switch k.id {
	case CallKind, WellKind, HouseKind, RulesKind, WishesKind:
		return true
	}
	return false
}

// leaves calls tell with each single value below v and the keys that lead to it.
func leaves(v Value, path string, tell func(path, text string)) {
	if v.Shape == Text {
		tell(path, v.Text)
	}
	for _, p := range v.Pairs {
		leaves(p.Value, path+"/"+fold(p.Key), tell)
	}
}

// Unsealed names, as a notice, the entries at the end that were written by hand
// and that no later entry guards against a change yet.
func (b *Book) Unsealed() []Finding {
	first := len(b.Entries)
	for first > 0 && b.Entries[first-1].Previous == "" {
		first--
	}
	if first == len(b.Entries) {
		return nil
	}
	f := b.at(b.Entries[first], fmt.Sprintf("entry %s written by hand and not sealed yet", b.all(first)), "the next entry the program adds will carry its hash, and a later change will show")
	f.Weight = Notice
	return []Finding{f}
}

func (b *Book) all(first int) string {
	ids := make([]string, 0, len(b.Entries)-first)
	for _, e := range b.Entries[first:] {
		ids = append(ids, e.ID)
	}
	return strings.Join(ids, ", ")
}

// CheckFactors returns the factor entries that name no factor of the register.
func (b *Book) CheckFactors(known *source.Register) []Finding {
	var found []Finding
	corrected := b.replaced(func(Entry) bool { return true })
	for _, e := range b.Entries {
		f, ok := e.Body.(*Factor)
		if !ok || f == nil || corrected[e.ID] {
			continue
		}
		if _, ok := known.Find(f.Name); !ok {
			found = append(found, b.at(e, fmt.Sprintf("factor %q is not known%s", f.Name, nearest(f.Name, known.Names())), ""))
		}
	}
	return found
}

package form

// Mistake is what is wrong with one input, for the list above a form.
type Mistake struct {
	ID    string // of the input in the page; "" for the entry as a whole
	Label string
	Say   []string
}

// headLabels are the inputs of every entry.
var headLabels = []struct{ path, label string }{{Date, "Date"}, {By, "By"}, {Why, "Why"}, {Note, "Note"}}

// Mistakes lists what is wrong in the order of the form: first what is said of the
// entry as a whole.
func Mistakes(fields []Field, wrong map[string][]string) []Mistake {
	var out []Mistake
	if say := wrong[""]; len(say) > 0 {
		out = append(out, Mistake{Say: say})
	}
	for _, h := range headLabels {
		if say := wrong[h.path]; len(say) > 0 {
			out = append(out, Mistake{ID(h.path), h.label, say})
		}
	}
	return append(out, within(fields, "")...)
}

// within are the mistakes of fields and of all below them.
func within(fields []Field, of string) []Mistake {
	var out []Mistake
	for _, f := range fields {
		name := f.Label
		if of != "" && f.Deep {
			name = of + ": " + f.Label
		}
		if len(f.Wrong) > 0 {
			out = append(out, Mistake{f.ID(), name, f.Wrong})
		}
		for _, r := range f.Figures {
			if len(r.Wrong) > 0 {
				out = append(out, Mistake{r.ID() + "-value", label(first(r.Name, "figure")), r.Wrong})
			}
		}
		out = append(out, within(f.Under, name)...)
		out = append(out, within(f.Items, "")...)
	}
	return out
}

func first(s, other string) string {
	if s != "" {
		return s
	}
	return other
}

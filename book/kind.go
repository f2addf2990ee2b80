package book

import (
	"time"

	"wellwright/source"
	"wellwright/water"
	"wellwright/well"
)

// kind is one kind of entry: its key with the fields under it, which fill a
// Present, and how the body of one entry is taken out of a Present again.
type kind struct {
	field
	id   Kind
	body func(*Present) any
}

// kinds is every kind of entry with a section, in the order of the job. The
// reader, the fold, the template and the schema are all driven by it.
var kinds = []kind{
	{section("first call", "the call: complaint, urgency, what to leave untouched", callFields, func(p *Present) *Call {
		if p.Call == nil {
			p.Call = &Call{}
		}
		return p.Call
	}), CallKind, func(p *Present) any { return p.Call }},
	{section("well", "well record: bore, levels, pump, pressure tank, pipe", wellFields, func(p *Present) *well.Supply { return &p.Supply }),
		WellKind, func(p *Present) any { return &p.Supply }},
	{section("house", "who uses the water, drains, room, owner", houseFields, func(p *Present) *well.House { return &p.House }),
		HouseKind, func(p *Present) any { return &p.House }},
	{many("equipment", "treatment already there and how it behaves; a later entry replaces what was said of the same process", "", equipmentFields, nil, keepEquipment),
		EquipmentKind, func(p *Present) any { return p.Equipment }},
	{section("local rules", "what the place allows", rulesFields, func(p *Present) *well.Rules { return &p.Rules }),
		RulesKind, func(p *Present) any { return &p.Rules }},
	{many("signs", "what is seen, smelt or tasted, and what was looked for and not found", "clear then rust", signFields, shortSign, keepSigns),
		SignsKind, func(p *Present) any { return p.Signs }},
	{fresh("readings", "read on site at one tap", readingFields, newReading, keepReport),
		ReadingsKind, func(p *Present) any { return lastReport(p) }},
	{fresh("laboratory report", "a laboratory's figures, as printed", laboratoryFields, newLaboratory, keepReport),
		LaboratoryKind, func(p *Present) any { return lastReport(p) }},
	{many("jar tests", "jars left to stand, shaken, bleached, filtered or dosed", "", jarFields, nil, keepJars),
		JarsKind, func(p *Present) any { return p.Jars }},
	{many("cultures", "culture tests, and slime under the microscope", "", cultureFields, nil, keepCultures),
		CulturesKind, func(p *Present) any { return p.Cultures }},
	{section("wishes", "what the owner wants and will spend, and whose limits count", wishFields, func(p *Present) *well.Wishes { return &p.Wishes }),
		WishesKind, func(p *Present) any { return &p.Wishes }},
	{fresh("factor", "your own value for a factor, with the reason", factorFields, func(*reader) Factor { return Factor{} }, keepFactor),
		FactorKind, func(p *Present) any { return ownFactor(p) }},
	{fresh("variant", "a what-if kept by name; a later one of the same name replaces it", variantFields, newVariant, keepVariant),
		VariantKind, func(p *Present) any { return lastVariant(p) }},
}

// fresh makes a field that begins anew in each entry, such as a report.
func fresh[S any](name, what string, fields []field, start func(*reader) S, keep func(*Present, S)) field {
	return field{name: name, what: what, form: form{shape: Map, fields: fields},
		read: func(r *reader, v Value, body any) bool {
			s, set := start(r), r.set
			r.set = nil
			ok := r.section(v, fields, &s)
			r.set = set
			if ok {
				keep(body.(*Present), s)
			}
			return ok
		}}
}

// kindOf finds the kind whose section stands under key.
func kindOf(key string) (kind, bool) {
	for _, k := range kinds {
		if fold(k.name) == fold(key) {
			return k, true
		}
	}
	return kind{}, false
}

func kindNames() []string {
	out := make([]string, len(kinds))
	for i, k := range kinds {
		out[i] = k.name
	}
	return out
}

func newReading(r *reader) water.Report {
	return water.Report{ID: r.e.ID, Field: true, Sampled: r.e.On, Analysed: r.e.On}
}

func newLaboratory(r *reader) water.Report { return water.Report{ID: r.e.ID, Sampled: r.e.On} }

func keepReport(p *Present, rep water.Report) { p.Reports = append(p.Reports, rep) }

func lastReport(p *Present) *water.Report {
	if len(p.Reports) == 0 {
		return nil
	}
	return &p.Reports[len(p.Reports)-1]
}

func keepFactor(p *Present, f Factor) {
	if p.Own == nil {
		p.Own = map[string]source.Override{}
	}
	p.Own[f.Name] = source.Override{Value: f.Value, Why: f.Why}
}

func ownFactor(p *Present) any {
	for name, o := range p.Own {
		return &Factor{Name: name, Value: o.Value, Why: o.Why}
	}
	return (*Factor)(nil)
}

// keepEquipment replaces what earlier entries said of the same process.
func keepEquipment(_ *reader, p *Present, items []well.Equipment) {
	var kept []well.Equipment
	for _, old := range p.Equipment {
		if !anyOf(items, func(e well.Equipment) bool { return e.Process == old.Process }) {
			kept = append(kept, old)
		}
	}
	for _, e := range items {
		if !e.Removed {
			kept = append(kept, e)
		}
	}
	p.Equipment = kept
}

// keepSigns replaces what earlier entries said of the same sign.
func keepSigns(r *reader, p *Present, items []sighting) {
	var kept []Sign
	for _, old := range p.Signs {
		if old.ID == "" || !anyOf(items, func(s sighting) bool { return s.ID == old.ID }) {
			kept = append(kept, old)
		}
	}
	for _, s := range items {
		if s.ID == "" {
			s.ID, _ = symptom(s.Text)
		}
		if s.ID == "" && s.Text == "" {
			r.wrong(Value{Line: r.e.Line}, "a sign has neither a sign nor words", "write what was seen under words")
			continue
		}
		s.Seen, s.On, s.Entry = !s.denied, r.e.On, r.e.ID
		kept = append(kept, s.Sign)
	}
	p.Signs = kept
}

func keepJars(r *reader, p *Present, items []Jar) {
	for _, j := range items {
		j.On, j.Entry = r.e.On, r.e.ID
		p.Jars = append(p.Jars, j)
	}
}

func keepCultures(r *reader, p *Present, items []Culture) {
	for _, c := range items {
		c.On, c.Entry = r.e.On, r.e.ID
		p.Cultures = append(p.Cultures, c)
	}
}

func anyOf[T any](all []T, is func(T) bool) bool {
	for _, t := range all {
		if is(t) {
			return true
		}
	}
	return false
}

// keepDrains replaces what was said of the same drain before.
func keepDrains(_ *reader, h *well.House, items []well.Drain) {
	var kept []well.Drain
	for _, old := range h.Drains {
		if !anyOf(items, func(d well.Drain) bool { return d.To == old.To }) {
			kept = append(kept, old)
		}
	}
	h.Drains = append(kept, items...)
}

// keepCapacities adds measurements, one a date, oldest first.
func keepCapacities(_ *reader, s *well.Supply, items []well.Capacity) {
	for _, c := range items {
		s.Well.Capacities = putCapacity(s.Well.Capacities, c)
	}
}

func putCapacity(all []well.Capacity, c well.Capacity) []well.Capacity {
	out := make([]well.Capacity, 0, len(all)+1)
	placed := false
	for _, old := range all {
		if !placed && !old.On.Before(c.On) {
			out, placed = append(out, c), true
		}
		if !old.On.Equal(c.On) {
			out = append(out, old)
		}
	}
	if !placed {
		out = append(out, c)
	}
	return out
}

// weeks turns a length of time into weeks.
func weeks(d time.Duration) *float64 {
	w := d.Hours() / (7 * 24)
	return &w
}

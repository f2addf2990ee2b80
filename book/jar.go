package book

import (
	"errors"
	"fmt"
	"strings"
	"time"

	"wellwright/unit"
	"wellwright/water"
)

var jarFields = []field{
	required(word("test", "what was done to the jar", "settling", func(j *Jar) *Test { return &j.Test },
		Settling, Aeration, Bleach, Filtration, ChlorineDemand, Chlorinated, Alum, Ferric, Permanganate)),
	maybe("sealed", "full to the brim and capped, no air", "no", func(j *Jar) **bool { return &j.Sealed }),
	span("after", "from filling or dosing to looking", "30 min", func(j *Jar, d time.Duration) { j.After = d }),
	sawField(func(j *Jar) *Look { return &j.Saw }),
	bounded(quantity("temperature", "at which it stood", "20 C", func(j *Jar) **unit.Temperature { return &j.Temperature }), water.Temperature),
	pores,
	scalar("dose", "fed to a jar of its own: as Cl2, dry alum, FeCl3 or KMnO4; 1 mL of a 1 % stock in a litre is 10 mg/L", "20 mg/L", func(s string, j *Jar) error {
		j.Dose = new(unit.Concentration)
		return parseDose(s, j.Dose)
	}),
	ironField("total, in the filtrate or above the sediment; 0 mg/L: none found", func(j *Jar) **unit.Concentration { return &j.Iron }),
	manganeseField(func(j *Jar) **unit.Concentration { return &j.Manganese }),
	colourField(func(j *Jar) **water.Result { return &j.Colour }),
	bounded(quantity("pH", "", "7.2", func(j *Jar) **unit.PH { return &j.PH }), water.PH),
	positive("free", "free chlorine left", "0.4 mg/L", func(j *Jar) **unit.Chlorine { return &j.Free }),
	positive("total", "total chlorine left", "1.1 mg/L", func(j *Jar) **unit.Chlorine { return &j.Total }),
	positive("demand", "chlorine used up", "7.0 mg/L", func(j *Jar) **unit.Chlorine { return &j.Demand }),
	many("doses", "jars that differ in their dose alone", "", doseFields, nil, func(_ *reader, j *Jar, d []Dose) { j.Doses = d }),
	tapOf("tap", "T1", func(j *Jar) *water.Where { return &j.Tap }),
	text("note", "", "faint at first", func(j *Jar) *string { return &j.Note }),
}

var doseFields = []field{
	required(scalar("added", "as Cl2, dry alum, FeCl3 or KMnO4", "10 mg/L", func(s string, d *Dose) error { return parseDose(s, &d.Added) })),
	positive("free", "free chlorine left", "0.4 mg/L", func(d *Dose) **unit.Chlorine { return &d.Free }),
	positive("total", "total chlorine left", "1.1 mg/L", func(d *Dose) **unit.Chlorine { return &d.Total }),
	ironField("in the filtrate or above the sediment", func(d *Dose) **unit.Concentration { return &d.Iron }),
	manganeseField(func(d *Dose) **unit.Concentration { return &d.Manganese }),
	colourField(func(d *Dose) **water.Result { return &d.Colour }),
	bounded(quantity("pH", "", "7.2", func(d *Dose) **unit.PH { return &d.PH }), water.PH),
	sawField(func(d *Dose) *Look { return &d.Saw }),
}

func sawField[B any](at func(*B) *Look) field {
	return word("saw", "what it looked like then", "clear, then rust settles", at,
		StaysClear, RustAtOnce, RustSettles, RustStaysUp, HazeStays, YellowStays, TurnsBlack, RustThenBlack, Threads, GreyBlack, TurnsOrange, ColourFades, NoChange,
		FiltersClear, FiltersStained, ClearsUpward, PinkStays, PinkFades)
}

func ironField[B any](what string, at func(*B) **unit.Concentration) field {
	return bounded(positive("iron", what, "0.2 mg/L", at), water.Iron)
}

func manganeseField[B any](at func(*B) **unit.Concentration) field {
	return bounded(positive("manganese", "in the filtrate or above the sediment", "0.1 mg/L", at), water.Manganese)
}

func colourField[B any](at func(*B) **water.Result) field {
	return scalar("colour", "left, in platinum-cobalt units", "15", func(s string, b *B) error {
		figure, in := cutFigure(s)
		r, err := water.ParseResult(string(water.Colour), figure, in, water.Place{})
		if err != nil {
			return err
		}
		*at(b) = &r
		return nil
	})
}

// pores is the pore size of a filter, in any length or in micrometres.
var pores = scalar("filter", "pore size", "0.45 um", func(s string, j *Jar) error {
	for _, u := range []string{"um", "µm", "μm", "microns", "micron"} {
		if n, ok := strings.CutSuffix(s, u); ok {
			v, err := parseNumber(strings.TrimSpace(n))
			if err != nil {
				return fmt.Errorf("filter: %w", err)
			}
			j.Filter = new(unit.Length)
			*j.Filter = unit.MM(v / 1000)
			return poreful(j)
		}
	}
	j.Filter = new(unit.Length)
	if err := j.Filter.UnmarshalText([]byte(s)); err != nil {
		return err
	}
	return poreful(j)
})

func poreful(j *Jar) error {
	if j.Filter.MM() < 0 {
		return errors.New("filter: a pore size is not negative; write 0.45 um")
	}
	return nil
}

// parseDose reads what was fed; chlorine may name its basis.
func parseDose(s string, into *unit.Concentration) error {
	err := into.UnmarshalText([]byte(s))
	if err == nil {
		return nil
	}
	var c unit.Chlorine
	if c.UnmarshalText([]byte(s)) != nil {
		return err
	}
	*into = unit.MgPerL(c.MgPerLAsCl2())
	return nil
}

package media

import (
	"sync"

	"wellwright/source"
	"wellwright/unit"
)

// Grains describes the particles of a medium as it settles after a wash.
type Grains struct {
	D10             unit.Length // effective size: a tenth of the weight is finer
	D60             unit.Length // D60 / D10 is the uniformity coefficient
	SpecificGravity float64     // of the wet grain, pores of the grain filled with water
	Porosity        float64     // share of the settled bed that is water
	Sphericity      float64     // surface of a sphere of equal volume over that of the grain
	Bulk            source.Factor
	Kind            source.Kind
	From            string
}

// Uniformity is the uniformity coefficient D60 / D10.
func (g Grains) Uniformity() float64 { return g.D60.MM() / g.D10.MM() }

// Medium is one bed material with the rates it is run at. Rates are gpm/ft2 of
// nominal vessel area; the wash rate is that at 10 °C, and less water lifts the
// bed when it is colder.
type Medium struct {
	ID     string // such as "coated-sand"
	Name   string // in the words of the trade
	Grains Grains
	Part   Part // one cubic foot of it

	MinBed    unit.Length // least useful depth
	Freeboard float64     // clear height over the settled bed, as a share of bed depth: common practice

	ServiceCaution source.Factor // gpm/ft2 above which iron or manganese begins to pass
	ServiceRefuse  source.Factor // gpm/ft2 at peak above which the size is refused
	Backwash       source.Factor // gpm/ft2 at 10 °C
	BackwashPublic source.Factor // gpm/ft2 asked by public-supply rules; Name is "" where none is known
	WashMinutes    source.Factor
	RinseMinutes   source.Factor
	HoldGrains     source.Factor // grains of Fe + Mn a square foot holds between washes
	MaxDays        source.Factor // longest interval between washes, days
	Life           source.Factor // years

	// CaptureLength is the depth in inches in which floc falls to 1/e at
	// 5 gpm/ft2 (first-order capture with depth, Iwasaki 1937).
	CaptureLength source.Factor

	// FerricSurface and ManganeseSurface are what the coated grains are worth as
	// a catalyst for ferrous iron and manganese: the weight of ferric iron, and of
	// manganese dioxide, that suspended in the pore water would do the same.
	FerricSurface    source.Factor // mg Fe / L of pore water
	ManganeseSurface source.Factor // mg MnO2 / L of pore water
}

// Factors returns the factors of the medium.
func (m Medium) Factors() []source.Factor {
	all := []source.Factor{
		m.Grains.Bulk, m.ServiceCaution, m.ServiceRefuse, m.Backwash, m.WashMinutes, m.RinseMinutes,
		m.HoldGrains, m.MaxDays, m.Life, m.CaptureLength, m.FerricSurface, m.ManganeseSurface,
	}
	if m.BackwashPublic.Name != "" {
		all = append(all, m.BackwashPublic)
	}
	return all
}

// MediumFor returns the medium that fills a process, and whether it has one.
func MediumFor(p Process) (Medium, bool) {
	m, ok := mediaByProcess()[p]
	return m, ok
}

// mediaByProcess builds the table once; it is never changed afterwards.
var mediaByProcess = sync.OnceValue(func() map[Process]Medium {
	all := make(map[Process]Medium, len(mediumRows))
	for _, r := range mediumRows {
		all[r.process] = r.medium()
	}
	return all
})

// number is one value of a table with its range and its source.
type number struct {
	value, low, high float64
	kind             source.Kind
	from             string
}

// mediumRow is one medium as the tables hold it.
type mediumRow struct {
	process  Process
	id, name string
	part     Part

	d10, uniformity, gravity, porosity, sphericity float64
	grainKind                                      source.Kind
	grainFrom                                      string
	minBedIn, freeboard                            float64

	bulk, caution, refuse, wash, public, minutes, rinse  number
	hold, days, life, capture, ferricSurface, mnoSurface number
}

// medium turns a row into a medium with named factors.
func (r mediumRow) medium() Medium {
	p := snake(string(r.process))
	f := func(suffix, what, unitName string, n number) source.Factor {
		return n.factor(p+"_"+suffix, r.name+": "+what, unitName)
	}
	m := Medium{
		ID: r.id, Name: r.name, Part: r.part,
		Grains: Grains{
			D10: unit.MM(r.d10), D60: unit.MM(r.d10 * r.uniformity),
			SpecificGravity: r.gravity, Porosity: r.porosity, Sphericity: r.sphericity,
			Bulk: f("bulk", "weight as filled", "lb/ft3", r.bulk), Kind: r.grainKind, From: r.grainFrom,
		},
		MinBed: unit.Inches(r.minBedIn), Freeboard: r.freeboard,
		ServiceCaution:   f("service_caution", "service rate above which to take care", "gpm/ft2", r.caution),
		ServiceRefuse:    f("service_refuse", "peak service rate above which to refuse", "gpm/ft2", r.refuse),
		Backwash:         f("backwash", "backwash rate at 10 °C", "gpm/ft2", r.wash),
		WashMinutes:      f("wash_minutes", "length of a backwash", "min", r.minutes),
		RinseMinutes:     f("rinse_minutes", "length of the rinse after it", "min", r.rinse),
		HoldGrains:       f("hold", "iron and manganese held between washes", "grains/ft2", r.hold),
		MaxDays:          f("max_days", "longest interval between washes", "days", r.days),
		Life:             f("life", "life of the bed", "years", r.life),
		CaptureLength:    f("capture_length", "depth in which floc falls to 1/e at 5 gpm/ft2", "in", r.capture),
		FerricSurface:    f("ferric_surface", "surface for ferrous iron, as suspended ferric iron", "mg/L", r.ferricSurface),
		ManganeseSurface: f("manganese_surface", "surface for manganese, as suspended manganese dioxide", "mg/L", r.mnoSurface),
	}
	if r.public.value > 0 {
		m.BackwashPublic = f("backwash_public", "backwash rate asked by public-supply rules", "gpm/ft2", r.public)
	}
	return m
}

// factor names a number.
func (n number) factor(name, what, unitName string) source.Factor {
	return source.Factor{Name: name, What: what, Unit: unitName,
		Value: n.value, Low: n.low, High: n.high, Kind: n.kind, From: n.from}
}

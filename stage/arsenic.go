package stage

import (
	"math"
	"time"

	"wellwright/chem"
	"wellwright/media"
	"wellwright/unit"
	"wellwright/water"
)

// arsenicForms are the arsenic of a water by what it carries. What is known to be
// oxidised counts as As(V), and all of it behind a feed that turns it; else what a
// residual in the water turns within a minute. The rest counts as As(III): air and
// combined chlorine turn next to none.
func (j *Job) arsenicForms(w water.State) chem.ArsenicAmounts {
	all := w.Arsenic.MgPerL()
	v := math.Min(all, w.ArsenicV.MgPerL())
	if j.Has(media.ChlorineFeed, media.PermanganateFeed, media.OzoneFeed) {
		v = all
	}
	if v < all && strongOxidant(w) {
		v += j.Site.Model.ArsenicLaw(j.Site.Factors).Turned(chem.Dosed{
			Temperature: w.Temperature, PH: w.PH, Arsenite: unit.MgPerL(all - v),
			Free: w.FreeChlorine, Combined: w.CombinedChlorine, Permanganate: w.Permanganate, Time: time.Minute,
		}).MgPerL()
	}
	return chem.ArsenicAmounts{III: unit.MgPerL(all - v), V: unit.MgPerL(v)}
}

// flocWater is what in a water competes with arsenic for iron.
func flocWater(w water.State) chem.FlocWater {
	return chem.FlocWater{PH: w.PH, Alkalinity: w.Alkalinity, Silica: w.Silica, Phosphate: w.Phosphate, OrganicCarbon: w.OrganicCarbon}
}

// flocHold is what iron solids hold in one plausible water: it leans as the beds
// of its draw do.
func (j *Job) flocHold(h chem.FlocHold) chem.ArsenicAmounts {
	if j.Draw == nil {
		return h.Usual
	}
	switch j.Draw.Law {
	case chem.SlowLaw:
		return h.Least
	case chem.FastLaw:
		return h.Most
	}
	return h.Usual
}

// arsenicLeft is the arsenic behind a bed that has held iron which had taken some
// up, and how much of it is As(V). Floc that leaks carries its share along.
//
//	left = As - held(Fe) · Fe held/(Fe held + Fe leaked)
//
// Source: mass balance; what iron takes up as [chem.ArsenicLaw.OnFloc].
func (b *bed) arsenicLeft(in, out water.State, held float64) (all, v unit.Concentration) {
	forms := b.j.arsenicForms(in)
	held = math.Max(0, held)
	if held < traceMgL || in.Arsenic.MgPerL() <= 0 {
		return in.Arsenic, forms.V
	}
	floc := held + out.Particulate.MgPerL()
	law := b.j.Site.Model.ArsenicLaw(b.j.Site.Factors)
	on := b.j.flocHold(law.OnFloc(forms, unit.MgPerL(floc), flocWater(in)))
	share := held / floc
	v = unit.MgPerL(math.Max(0, forms.V.MgPerL()-share*on.V.MgPerL()))
	return unit.MgPerL(v.MgPerL() + math.Max(0, forms.III.MgPerL()-share*on.III.MgPerL())), v
}

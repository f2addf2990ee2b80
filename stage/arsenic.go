package stage

import (
	"math"
	"time"

	"wellwright/chem"
	"wellwright/unit"
	"wellwright/water"
)

// arsenicForms are the arsenic of a water by what it carries: what has been oxidised
// on its way, and the rest as As(III).
func (j *Job) arsenicForms(w water.State) chem.ArsenicAmounts {
	all := w.Arsenic.MgPerL()
	v := math.Min(all, w.ArsenicV.MgPerL())
	return chem.ArsenicAmounts{III: unit.MgPerL(all - v), V: unit.MgPerL(v)}
}

// arsenicTurned lets what oxidises in a vessel turn arsenic (III) too: free chlorine
// and permanganate. Air turns none (Lowry and Lowry 2002, EPA/600/R-01/102: aeration
// and five days of storage did not; what iron took of it, it took as arsenic (III)),
// combined chlorine next to none.
func (j *Job) arsenicTurned(w water.State, x, y *chem.Mix, c *chem.Conditions, t time.Duration) water.State {
	iii := w.Arsenic.MgPerL() - w.ArsenicV.MgPerL()
	if iii <= arsenicTrace*w.Arsenic.MgPerL() || x.FreeChlorine.MgPerLAsCl2() <= 0 && x.Permanganate.MgPerL() <= 0 {
		return w
	}
	turned := j.Site.Model.ArsenicLaw().Turned(*x, *y, chem.Dosed{Temperature: c.Temperature, PH: w.PH, Ionic: c.Ionic, Arsenite: unit.MgPerL(iii), Time: t})
	w.ArsenicV = unit.MgPerL(w.ArsenicV.MgPerL() + turned.MgPerL())
	return w
}

// arsenicTrace is the share of arsenic (III) that is no longer followed: judgement.
const arsenicTrace = 1e-3

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
	in.ArsenicV = unit.MgPerL(math.Max(in.ArsenicV.MgPerL(), out.ArsenicV.MgPerL())) // a residual goes on turning it in the bed
	forms := b.j.arsenicForms(in)
	held = math.Max(0, held)
	if held < traceMgL || in.Arsenic.MgPerL() <= 0 {
		return in.Arsenic, forms.V
	}
	floc := held + out.Particulate.MgPerL()
	law := b.j.Site.Model.ArsenicLaw()
	on := b.j.flocHold(law.OnFloc(forms, unit.MgPerL(floc), flocWater(in)))
	share := held / floc
	v = unit.MgPerL(math.Max(0, forms.V.MgPerL()-share*on.V.MgPerL()))
	return unit.MgPerL(v.MgPerL() + math.Max(0, forms.III.MgPerL()-share*on.III.MgPerL())), v
}

package stage
import ("testing";"wellwright/chem";"wellwright/unit";"time")
func BenchmarkY(b *testing.B) {
	g := flintbank()
	g.water.FreeChlorine = unit.MgPerLAsCl2(12)
	g.water.Sulfide = unit.MgPerLAsH2S(0.5)
	g.water.Oxygen = mg(1)
	j := g.job(b)
	w := j.In
	x, c := j.mix(w)
	b.Run("10s", func(b *testing.B){ b.ReportAllocs(); for b.Loop(){ j.Site.Model.React(x, c, chem.Vessel{Time: 10*time.Second})}})
	b.Run("0s", func(b *testing.B){ b.ReportAllocs(); for b.Loop(){ j.Site.Model.React(x, c, chem.Vessel{})}})
	x.FreeChlorine = unit.Chlorine{}
	b.Run("O2", func(b *testing.B){ b.ReportAllocs(); for b.Loop(){ j.Site.Model.React(x, c, chem.Vessel{Time: 10*time.Second})}})
}

package stage

import (
	"testing"

	"wellwright/media"
)

// placed is a stage where it stands in a train, on one well.
type placed struct {
	well string
	p    Process
	j    *Job
	z    Size
}

// usualTrains between them hold every process in a place where it is found.
var usualTrains = [][]media.Process{
	{media.ChlorineFeed, media.ContactTank, media.CoatedSandFilter, media.Softener, media.CarbonFilter, media.Ultraviolet, media.ReverseOsmosis},
	{media.AirInjectionFilter, media.Softener},
	{media.PermanganateFeed, media.GreensandFilter},
	{media.CoagulantFeed, media.ContactTank, media.SedimentFilter},
	{media.PeroxideFeed, media.ContactTank, media.CatalyticCarbonFilter},
	{media.StorageBooster, media.ChlorineFeed, media.ManganeseOreFilter},
	{media.VentedAeration, media.SedimentFilter, media.CartridgeFilter},
	{media.PressureAeration, media.LightweightFilter},
	{media.CalciteBed, media.CoatedSandFilter},
	{media.MagnesiaBlendBed, media.CopperZincFilter},
	{media.SodaAshFeed, media.CoatedSandFilter, media.CartridgeFilter},
	{media.GreensandFilter},
	{media.PolyphosphateFeed},
	{media.Softener},
	{media.TanninExchanger, media.NitrateExchanger, media.ArsenicAdsorber},
	{media.RadonAeration, media.CarbonFilter},
	{media.OzoneFeed, media.ContactTank, media.SedimentFilter},
}

// referenceWells are those of wells_test.go by name.
func referenceWells() map[string]given {
	sour := acid()
	sour.water.Ferrous = mg(3)
	return map[string]given{"tamarack": tamarack(), "marsh gate": marshGate(), "flintbank": flintbank(), "stony brow": stonyBrow(), "sour": sour}
}

// placements carries the reference waters down the usual trains and returns each
// stage as it was met, with the size that passed or the first.
func placements(t testing.TB) []placed {
	var all []placed
	for name, g := range referenceWells() {
		for _, train := range usualTrains {
			in, peak, supply := g.water, g.job(t).Peak, g.job(t).Supply
			for i, id := range train {
				p, ok := Of(id)
				if !ok {
					t.Fatalf("%s is not built", id)
				}
				j := g.job(t)
				j.In, j.Peak, j.Supply, j.Before, j.After = in, peak, supply, train[:i], train[i+1:]
				z, o, passed := firstPassing(p, j)
				if !passed {
					z = p.Sizes(j)[0]
					o = p.Run(j, z)
				}
				all = append(all, placed{name, p, j, z})
				in = o.Out
				if o.Supply != nil {
					supply = *o.Supply
				}
			}
		}
	}
	return all
}

// byProcess parts placements by their process, in the order of the registry.
func byProcess(all []placed) (order []media.Process, of map[media.Process][]placed) {
	of = map[media.Process][]placed{}
	for _, x := range all {
		of[x.p.ID()] = append(of[x.p.ID()], x)
	}
	for _, p := range processes {
		if len(of[p.ID()]) > 0 {
			order = append(order, p.ID())
		}
	}
	return order, of
}

// BenchmarkRun runs every process on the reference waters, in its usual places.
func BenchmarkRun(b *testing.B) {
	order, of := byProcess(placements(b))
	for _, id := range order {
		b.Run(string(id), func(b *testing.B) {
			b.ReportAllocs()
			xs := of[id]
			for i := 0; b.Loop(); i++ {
				x := &xs[i%len(xs)]
				x.j.Scope = nil
				x.p.Run(x.j, x.z)
			}
		})
	}
}

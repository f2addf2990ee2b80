package stage

import (
	"fmt"
	"math"
	"reflect"
	"slices"
	"strings"

	"wellwright/media"
	"wellwright/unit"
)

// Given is a size that somebody asks for instead of the one that would be chosen:
// figures by leaf name. What it does not name is chosen as ever.
type Given map[string]float64

// Count is the leaf name of vessels side by side.
const Count = "vessels"

// Dial is one figure of a size that may be asked for: any from Least to Most, or
// where it is bought ready made one of Stock.
type Dial struct {
	Leaf        string
	Least, Most float64
	Stock       []float64
	get         func(*Size) float64
	set         func(*Size, float64)
}

// Dials lists what may be asked of a process, in the order it is read.
func Dials(p media.Process) []Dial {
	switch p {
	case media.Softener, media.TanninExchanger, media.NitrateExchanger:
		return append(bedDials(), dial(SaltLb, 1, 300, func(z *Size) float64 { return z.Settings[SaltLb] }, set(SaltLb)))
	case media.ContactTank, media.PressureAeration:
		return []Dial{volumeOf(media.ContactTankSizes()), stock(TanksInSeries, []float64{1, 2, 3}, func(z *Size) float64 { return float64(z.Tanks) },
			func(z *Size, v float64) { z.Tanks = int(v) })}
	case media.OzoneFeed:
		return []Dial{volumeOf(media.ContactTankSizes())}
	case media.StorageBooster, media.VentedAeration:
		return []Dial{volumeOf(media.StorageTankSizes()), boosterDial()}
	case media.RadonAeration:
		return []Dial{boosterDial()}
	case media.ChlorineFeed, media.PermanganateFeed, media.PeroxideFeed:
		return append([]Dial{dial(DoseMgL, 0.05, 100, func(z *Size) float64 { return z.Settings[DoseMgL] }, set(DoseMgL))}, feedDials()...)
	case media.SodaAshFeed:
		return append([]Dial{dial(TargetPH, 6.5, 9, func(z *Size) float64 { return z.Settings[TargetPH] }, set(TargetPH))}, feedDials()...)
	case media.CartridgeFilter:
		return []Dial{ratedDial(4, 10, 17, 20)}
	case media.Ultraviolet:
		return []Dial{ratedDial(12, 18)}
	}
	if _, bedded := media.MediumFor(p); bedded {
		return bedDials()
	}
	return nil
}

func dial(leaf string, least, most float64, get func(*Size) float64, set func(*Size, float64)) Dial {
	return Dial{Leaf: leaf, Least: least, Most: most, get: get, set: set}
}

func stock(leaf string, of []float64, get func(*Size) float64, set func(*Size, float64)) Dial {
	return Dial{Leaf: leaf, Least: of[0], Most: of[len(of)-1], Stock: of, get: get, set: set}
}

// set puts a figure into the settings of a size of its own.
func set(leaf string) func(*Size, float64) {
	return func(z *Size, v float64) {
		s := Settings{leaf: v}
		for k, old := range z.Settings {
			if k != leaf {
				s[k] = old
			}
		}
		z.Settings = s
	}
}

// bedDials are those of a bed in vessels. Another vessel comes with its usual fill
// and the salt of its medium in proportion.
func bedDials() []Dial {
	return []Dial{
		stock(VesselDiameterIn, diameters(), func(z *Size) float64 { return z.Vessel.Diameter.Inches() }, func(z *Size, v float64) { z.refit(vesselLike(v, z.Vessel.Height.Inches())) }),
		stock(VesselHeightIn, []float64{44, 48, 52, 54, 62, 65, 72}, func(z *Size) float64 { return z.Vessel.Height.Inches() }, func(z *Size, v float64) { z.refit(vesselLike(z.Vessel.Diameter.Inches(), v)) }),
		dial(MediaFt3, 0.25, 20, func(z *Size) float64 { return z.Media.Ft3() }, func(z *Size, v float64) { z.refill(unit.Ft3(v)) }),
		stock(Count, []float64{1, 2, 3, 4}, func(z *Size) float64 { return float64(z.Count) }, func(z *Size, v float64) { z.Count = int(v) }),
		stock(PressureTankGal, gallonsOf(media.PressureTankSizes()), func(z *Size) float64 { return z.Lent.Gal() }, func(z *Size, v float64) { z.Lent = unit.Gal(v) }),
	}
}

func diameters() []float64 {
	var ds []float64
	for _, v := range media.Vessels() {
		if d := math.Round(v.Diameter.Inches()); !slices.Contains(ds, d) {
			ds = append(ds, d)
		}
	}
	return ds
}

// vesselLike is the vessel of a diameter whose height is nearest, the taller of two.
func vesselLike(diameter, height float64) media.Vessel {
	best, apart := media.Vessel{}, math.Inf(1)
	for _, v := range media.Vessels() {
		if !same(v.Diameter.Inches(), diameter) {
			continue
		}
		if d := math.Abs(v.Height.Inches() - height); d <= apart {
			best, apart = v, d
		}
	}
	return best
}

// refit puts the usual fill into another vessel.
func (z *Size) refit(v media.Vessel) {
	if v.Name != z.Vessel.Name {
		z.Vessel = v
		z.refill(v.Fill)
	}
}

// refill changes the medium, and the salt with it.
func (z *Size) refill(fill unit.Volume) {
	if salt := z.Settings[SaltLb]; salt > 0 && z.Media.Ft3() > 0 {
		set(SaltLb)(z, math.Round(salt*fill.Ft3()/z.Media.Ft3()*10)/10)
	}
	z.Media = fill
}

func feedDials() []Dial {
	return []Dial{
		stock(FeedPumpGalPerDay, feedPumps[:], func(z *Size) float64 { return z.Feed.GalPerDay() }, func(z *Size, v float64) { z.Feed = unit.GalPerDay(v) }),
		dial(SolutionGL, 0.5, 200, func(z *Size) float64 { return z.Settings[SolutionGL] }, set(SolutionGL)),
	}
}

func boosterDial() Dial {
	return stock(BoosterGPM, boosterSizes[:], func(z *Size) float64 { return z.Booster.GPM() }, func(z *Size, v float64) { z.Booster = unit.GPM(v) })
}

func volumeOf(sizes []unit.Volume) Dial {
	return stock(VolumeGal, gallonsOf(sizes), func(z *Size) float64 { return z.Volume.Gal() }, func(z *Size, v float64) { z.Volume = unit.Gal(v) })
}

// ratedDial only picks among the sizes there are: an element or lamp is bought whole.
func ratedDial(flows ...float64) Dial {
	return stock(RatedFlowGPM, flows, func(z *Size) float64 { return z.Rated.GPM() }, nil)
}

func gallonsOf(vs []unit.Volume) []float64 {
	gs := make([]float64, len(vs))
	for i, v := range vs {
		gs[i] = v.Gal()
	}
	return gs
}

// sameFigure is how near two figures of a size are the same: as near as they are
// printed.
const sameFigure = 0.005

func same(a, b float64) bool { return math.Abs(a-b) <= sameFigure*math.Max(math.Abs(a), math.Abs(b)) }

// Check returns what cannot be asked of a process, each with what would be right.
func (g Given) Check(p media.Process) []error {
	var bad []error
	for _, leaf := range g.leaves() {
		if err := g.checkLeaf(p, leaf); err != nil {
			bad = append(bad, err)
		}
	}
	if err := g.checkFill(p); err != nil && len(bad) == 0 {
		bad = append(bad, err)
	}
	return bad
}

func (g Given) leaves() []string {
	ls := make([]string, 0, len(g))
	for leaf := range g {
		ls = append(ls, leaf)
	}
	slices.Sort(ls)
	return ls
}

func (g Given) checkLeaf(p media.Process, leaf string) error {
	ds := Dials(p)
	i := slices.IndexFunc(ds, func(d Dial) bool { return d.Leaf == leaf })
	v := g[leaf]
	switch {
	case len(ds) == 0:
		return fmt.Errorf("%s: comes in one size only", p.Words())
	case i < 0:
		return fmt.Errorf("%s: %s is not a figure of its size; write %s", p.Words(), leaf, strings.Join(leavesOf(ds), ", "))
	case ds[i].Stock != nil && !slices.ContainsFunc(ds[i].Stock, func(s float64) bool { return same(s, v) }):
		return fmt.Errorf("%s: %s %g is not made; write %s", p.Words(), leaf, v, listed(ds[i].Stock))
	case !(v >= ds[i].Least && v <= ds[i].Most):
		return fmt.Errorf("%s: %s %g is outside %g to %g", p.Words(), leaf, v, ds[i].Least, ds[i].Most)
	}
	return nil
}

func leavesOf(ds []Dial) []string {
	ls := make([]string, len(ds))
	for i, d := range ds {
		ls[i] = d.Leaf
	}
	return ls
}

func listed(vs []float64) string {
	ws := make([]string, len(vs))
	for i, v := range vs {
		ws[i] = fmt.Sprintf("%g", v)
	}
	if len(ws) < 2 {
		return strings.Join(ws, "")
	}
	return strings.Join(ws[:len(ws)-1], ", ") + " or " + ws[len(ws)-1]
}

// checkFill refuses more medium than a vessel named with it has room for, a vessel
// that is not made, and a salt dose far from any in print.
func (g Given) checkFill(p media.Process) error {
	d, named := g[VesselDiameterIn]
	h, tall := g[VesselHeightIn]
	if named && tall && !same(vesselLike(d, h).Height.Inches(), h) {
		return fmt.Errorf("%s: no vessel of %g x %g in is made; write %s", p.Words(), d, h, vesselsOf(d))
	}
	if fill, filled := g[MediaFt3]; named && filled {
		if v := vesselLike(d, h); fill > v.Gross.Ft3() {
			return fmt.Errorf("%s: %g ft3 does not go into a vessel of %s in, which holds %.2g ft3 to the brim; its usual fill is %g ft3", p.Words(), fill, v.Name, v.Gross.Ft3(), v.Fill.Ft3())
		}
	}
	return nil
}

func vesselsOf(diameter float64) string {
	var names []string
	for _, v := range media.Vessels() {
		if same(v.Diameter.Inches(), diameter) {
			names = append(names, v.Name)
		}
	}
	return strings.Join(names, " or ")
}

// Sizes are those of a process that answer what is given: of the usual ones those
// that have it, else the usual ones with it put in their place.
func (g Given) Sizes(x Process, j *Job) []Size {
	zs := x.Sizes(j)
	if len(g) == 0 || len(zs) == 0 {
		return zs
	}
	ds := slices.DeleteFunc(Dials(x.ID()), func(d Dial) bool { _, asked := g[d.Leaf]; return !asked })
	if have := slices.DeleteFunc(slices.Clone(zs), func(z Size) bool { return !g.had(ds, &z) }); len(have) > 0 {
		return have
	}
	var made []Size
	for _, z := range zs {
		for _, d := range ds {
			if d.set != nil && !same(d.get(&z), g[d.Leaf]) {
				d.set(&z, g[d.Leaf])
			}
		}
		if !slices.ContainsFunc(made, func(m Size) bool { return reflect.DeepEqual(m, z) }) {
			made = append(made, z)
		}
	}
	return made
}

// had reports whether a size has all that is given.
func (g Given) had(ds []Dial, z *Size) bool {
	for _, d := range ds {
		if !same(d.get(z), g[d.Leaf]) {
			return false
		}
	}
	return true
}

package stage

import (
	"math"
	"sync"
	"time"

	"wellwright/chem"
	"wellwright/hydraulic"
	"wellwright/media"
	"wellwright/source"
	"wellwright/unit"
	"wellwright/water"
)

// bed is the granular bed of one size of one process at work, as bare numbers.
// Vessels that serve together count as one bed of their joint area.
type bed struct {
	j       *Job
	z       Size
	in      water.State // at the top of the bed, as it mostly is
	inPeak  water.State // and at the worst time
	m       *media.Medium
	grain   hydraulic.Grain
	area    float64 // of all vessels that serve, ft2
	depth   float64 // of the settled medium, in
	active  float64 // share of the area that carries water: below one when channelled
	bypass  float64 // share of the flow that goes round the bed
	length  float64 // capture length at 5 gpm/ft2 and 10 °C, in
	surface chem.Surface
	sulfide float64 // first-order uptake of sulfide by the medium, 1/min of empty bed
	charge  float64 // first-order uptake by a coat charged with permanganate, 1/min of empty bed
	hold    float64 // solids it holds between washes as iron and manganese, grains/ft2
}

// Way ids that every granular bed shares.
const (
	BypassOpen   Fault = "bypass_open"
	BedChannel   Fault = "bed_channelled"
	BackwashWeak Fault = "backwash_weak"
	CoatingSpent Fault = "coating_spent"
	MediaLost    Fault = "media_lost"
	TubeLeak     Fault = "tube_leak"
)

// How far a fault goes where nobody has measured it. Kind: judgement, meant to
// tell one fault from another by its readings, not to foretell a figure.
const (
	faultBypass  = 0.5  // half the flow through an open bypass
	faultTube    = 0.15 // past a cracked riser tube or a cut seal
	faultChannel = 0.15 // of the area left to the water
	faultMud     = 3.0  // times the capture length in a bed that is not lifted
	faultLost    = 0.4  // of the medium left
)

// filling is a medium with its grain. Those of fillingOf are shared by all runs:
// read them, do not change them.
type filling struct {
	*media.Medium
	grain hydraulic.Grain
}

// fillingOf is what fills the beds of a process that has one.
func fillingOf(p media.Process) *filling { return fillings()[p] }

// fillings makes the table once; it is never changed afterwards.
var fillings = sync.OnceValue(func() map[media.Process]*filling {
	all := map[media.Process]*filling{}
	for _, p := range media.Processes() {
		if m, ok := media.MediumFor(p); ok {
			all[p] = &filling{&m, m.Grain()}
		}
	}
	return all
})

// newBed lays out the bed of a size with some medium.
func newBed(j *Job, z Size, m media.Medium) *bed { return layBed(j, z, &filling{&m, m.Grain()}) }

// layBed lays out the bed of a size, with the job's fault in it.
func layBed(j *Job, z Size, m *filling) *bed {
	set := j.Site.Factors
	count := float64(z.Serving())
	how := j.beds(m)
	b := &bed{
		j: j, z: z, m: m.Medium, in: j.In, inPeak: j.In, grain: m.grain,
		area:  count * z.Vessel.Area.Ft2(),
		depth: z.Vessel.BedDepth(z.Media).Inches(), active: 1,
		length: m.CaptureAt(set, how), hold: set.Of(m.HoldGrains),
		surface: m.SurfaceAt(set, how),
	}
	b.spoil(j.Fault)
	return b
}

// beds is how the beds of the job's draw do: they lean as its rate law does. Resin
// does as resin does: what slips through it is ranged by itself.
func (j *Job) beds(m *filling) media.Standing {
	if j.Draw == nil || m.ID == fillingOf(media.Softener).ID {
		return media.Usual
	}
	switch j.Draw.Law {
	case chem.SlowLaw:
		return media.Poor
	case chem.FastLaw:
		return media.Good
	}
	return media.Usual
}

// spoil puts a fault into the bed.
func (b *bed) spoil(f Fault) {
	switch f {
	case BypassOpen:
		b.bypass = faultBypass
	case TubeLeak:
		b.bypass = faultTube
	case BedChannel:
		b.active = faultChannel
	case BackwashWeak:
		b.length *= faultMud
	case CoatingSpent:
		b.surface, b.sulfide = chem.Surface{}, 0
	case MediaLost:
		b.depth *= faultLost
	}
}

// loading is the service rate at a flow, gpm/ft2 of nominal area.
func (b *bed) loading(flow unit.Flow) float64 { return flow.GPM() / b.area }

// emptyBedMinutes is the volume of the medium over the flow.
func (b *bed) emptyBedMinutes(flow unit.Flow) float64 {
	return emptyBed(b.volume(), flow)
}

// volume is the room that the medium takes up in all vessels.
func (b *bed) volume() unit.Volume { return unit.Ft3(b.area * b.depth / inchesPerFoot) }

const (
	inchesPerFoot = 12
	leastFlow     = 0.01 // gpm; no draw is slower: keeps a division whole
)

// captureAt returns the depth in which floc falls to 1/e at a flow.
//
//	L = L5 (v/5)^n (mu/mu10)
//
//	L5      capture length at 5 gpm/ft2 and 10 °C, in
//	v       loading on the area that carries water, gpm/ft2
//	n       bed_capture_exponent
//	mu      viscosity; a grain that settles or drifts out of the stream does so
//	        more slowly in cold water
//
// Range: 1 to 20 gpm/ft2, between washes. Error: a factor of two.
// Source: first-order capture with depth, Iwasaki, 1937; the exponent between
// diffusion (2/3) and settling (1) of Yao, Habibian and O'Melia, 1971 (both from
// memory).
func (b *bed) captureAt(flow unit.Flow, t unit.Temperature) float64 {
	v := math.Max(b.loading(flow)/b.active, minLoading)
	n := b.j.Site.Factors.Of(captureExponent)
	thick := hydraulic.Viscosity(t) / captureViscosity
	return b.length * math.Pow(v/captureReference, n) * thick
}

// captureViscosity is that of the water at which media tell their capture length.
var captureViscosity = hydraulic.Viscosity(unit.Celsius(10))

const (
	captureReference = 5    // gpm/ft2 at which media tell their capture length
	minLoading       = 0.05 // gpm/ft2; below it the law is not asked
)

// held is what a bed took out of each litre, mg.
type held struct{ iron, manganese, sulfur, solids float64 }

// pass carries a water through the bed at a flow. The bed is cut in slices of
// plug flow: in each the water first reacts for its time in the pores, in sight
// of the coated grains, then gives up part of its floc. Iron comes before
// manganese: while ferrous iron is left it takes the oxide off the grain, and
// manganese is not held there.
func (b *bed) pass(in water.State, flow unit.Flow) (water.State, held, error) {
	out, h, err := b.through(in, flow)
	out.Arsenic, out.ArsenicV = b.arsenicLeft(in, out, h.iron)
	if err != nil || b.bypass == 0 {
		return out, h, err
	}
	keep := 1 - b.bypass
	h.iron, h.manganese, h.sulfur, h.solids = h.iron*keep, h.manganese*keep, h.sulfur*keep, h.solids*keep
	return b.j.blend(out, in, b.bypass), h, nil
}

func (b *bed) through(in water.State, flow unit.Flow) (water.State, held, error) {
	var h held
	contact := b.emptyBedMinutes(flow) * b.active
	length := b.captureAt(flow, in.Temperature)
	w, left := in, 1.0
	for left > 0 {
		share := b.slice(w, left)
		next, err := b.react(w, contact*share, &h)
		if err != nil {
			return in, h, err
		}
		w = b.capture(next, math.Exp(-b.depth*share/length), &h)
		left -= share
	}
	return w, h, nil
}

// slice is the share of the bed to take next: the rest of it at once where no
// ferrous iron is left to turn into floc that must still be caught.
func (b *bed) slice(w water.State, left float64) float64 {
	iron := w.Ferrous.MgPerL() > b.j.Site.Factors.Of(ferrousAtManganese)
	if !b.works(w) || !iron || left < 1.5/bedSlices {
		return left
	}
	return 1.0 / bedSlices
}

// bedSlices is how finely the bed is cut: six leave less than 5 % between this and
// forty in what passes. Kind: own trial.
const bedSlices = 6

// reactive reports whether anything in the water can still change within a bed.
// It need not be asked when an oxidant has finished its work in the tank ahead.
func reactive(w water.State) bool {
	reduced := w.Ferrous.MgPerL() > traceMgL || w.Sulfide.MgPerLAsH2S() > traceMgL || w.Manganese.MgPerL() > traceMgL
	oxidant := w.Oxygen.MgPerL() > traceMgL || strongOxidant(w)
	return reduced && oxidant
}

// traceMgL is a tenth of the finest field test: below it nothing is followed.
// Kind: common practice (site kits read iron to 0.05 and manganese to 0.02 mg/L).
const traceMgL = 0.005

// strongOxidant reports whether something quicker than oxygen is in the water.
func strongOxidant(w water.State) bool {
	return w.FreeChlorine.MgPerLAsCl2() > traceMgL || w.Permanganate.MgPerL() > traceMgL || w.Peroxide.MgPerL() > traceMgL
}

// react lets the water stand in one slice. What the grains themselves oxidise
// stays on them; what an oxidant in the water oxidises is floc and must be
// caught.
func (b *bed) react(w water.State, ebct float64, h *held) (water.State, error) {
	if b.charge > 0 {
		return b.takeCharge(w, ebct, h), nil
	}
	if !reactive(w) {
		return w, nil
	}
	s := b.surface
	if w.Ferrous.MgPerL() > b.j.Site.Factors.Of(ferrousAtManganese) {
		s.ManganeseOxide = unit.Concentration{}
	}
	w = b.takeSulfide(w, ebct)
	pore := time.Duration(ebct * b.m.Grains.Porosity * float64(time.Minute))
	out, err := b.j.React(w, chem.Vessel{Time: pore, Surface: s})
	if err != nil {
		return w, err
	}
	if s.Ferric.MgPerL() > 0 && !strongOxidant(w) {
		h.iron += out.Particulate.MgPerL() - w.Particulate.MgPerL()
		out.Particulate = w.Particulate
	}
	if s.ManganeseOxide.MgPerL() > 0 {
		h.manganese += out.ManganeseOx.MgPerL() - w.ManganeseOx.MgPerL()
		out.ManganeseOx = w.ManganeseOx
	}
	return out, nil
}

// works reports whether anything changes in the bed but by being caught.
func (b *bed) works(w water.State) bool { return b.charge > 0 || reactive(w) }

// takeCharge lets a coat charged with permanganate take iron and sulfide, and
// manganese where the iron is nearly gone. The coat's own oxygen does the work,
// so that none in the water is used.
//
//	dC/dt = -k C in the empty bed
func (b *bed) takeCharge(w water.State, ebct float64, h *held) water.State {
	pass := math.Exp(-b.charge * ebct)
	if w.Ferrous.MgPerL() <= b.j.Site.Factors.Of(ferrousAtManganese) {
		h.manganese += w.Manganese.MgPerL() * (1 - pass)
		w.Manganese = unit.MgPerL(w.Manganese.MgPerL() * pass)
	}
	h.iron += w.Ferrous.MgPerL() * (1 - pass)
	w.Ferrous = unit.MgPerL(w.Ferrous.MgPerL() * pass)
	s := w.Sulfide.MgPerLAsH2S()
	w.Sulfide = unit.MgPerLAsH2S(s * pass)
	w.Sulfur = unit.MgPerL(w.Sulfur.MgPerL() + s*(1-pass)*solidsMade(chem.SulfideToSulfur))
	return w
}

// takeSulfide lets a catalytic medium oxidise sulfide to sulfur with what oxygen
// and peroxide there is.
//
//	H2S + O2/2 = S + H2O,  H2S + H2O2 = S + 2 H2O,  dS/dt = -k S in the empty bed
//
//	k  the medium's own, 1/min
func (b *bed) takeSulfide(w water.State, ebct float64) water.State {
	s := w.Sulfide.MgPerLAsH2S()
	if b.sulfide <= 0 || s <= traceMgL {
		return w
	}
	perOxygen, _ := chem.Demand(chem.Oxygen, chem.SulfideToSulfur)
	perPeroxide, _ := chem.Demand(chem.Peroxide, chem.SulfideToSulfur)
	made := s * (1 - math.Exp(-b.sulfide*ebct))
	byPeroxide := math.Min(made, w.Peroxide.MgPerL()/perPeroxide)
	byOxygen := math.Min(made-byPeroxide, w.Oxygen.MgPerL()/perOxygen)
	made = byPeroxide + byOxygen
	w.Sulfide = unit.MgPerLAsH2S(math.Max(0, s-made))
	w.Sulfur = unit.MgPerL(w.Sulfur.MgPerL() + made*solidsMade(chem.SulfideToSulfur))
	w.Peroxide = unit.MgPerL(math.Max(0, w.Peroxide.MgPerL()-byPeroxide*perPeroxide))
	w.Oxygen = unit.MgPerL(math.Max(0, w.Oxygen.MgPerL()-byOxygen*perOxygen))
	return w
}

// capture takes out what one slice holds of the floc. Bound iron passes: it is
// finer than the bed can see. Sulfur haze is caught more slowly.
func (b *bed) capture(w water.State, keep float64, h *held) water.State {
	take := func(c unit.Concentration, keep float64, sum *float64) unit.Concentration {
		*sum += c.MgPerL() * (1 - keep)
		return unit.MgPerL(c.MgPerL() * keep)
	}
	w.Particulate = take(w.Particulate, keep, &h.iron)
	w.ManganeseOx = take(w.ManganeseOx, keep, &h.manganese)
	w.Solids = take(w.Solids, keep, &h.solids)
	if w.Sulfur.MgPerL() != 0 {
		w.Sulfur = take(w.Sulfur, math.Pow(keep, 1/b.j.Site.Factors.Of(sulfurLength)), &h.sulfur)
	}
	return w
}

// bedFactors are those of the beds and their washing.
var bedFactors = []source.Factor{
	captureExponent, ferrousAtManganese, sulfurLength,
	washPressure, washMargin, rinseRate, drawdownShare, winterWater, largeValveCv,
	coatedSandNoResidual, oxideSulfideRate, redoxRate,
}

var (
	captureExponent = source.Factor{
		Name: "bed_capture_exponent", What: "power of the loading with which a bed's capture length grows",
		Value: 0.85, Low: 0.67, High: 1, Kind: source.FromMemory,
		From: "between diffusion and settling in Yao, Habibian and O'Melia 1971, Environmental Science & Technology 5:1105 (from memory)",
	}
	ferrousAtManganese = source.Factor{
		Name: "bed_ferrous_at_manganese", What: "ferrous iron above which a manganese oxide bed gives up its oxide and holds no manganese",
		Unit: "mg/L", Value: 0.1, Low: 0.05, High: 0.3, Kind: source.Published,
		From: "literature on manganese oxide media, second hand: iron reduces the oxide and manganese is not removed until it is gone; the figure is judgement",
	}
	sulfurLength = source.Factor{
		Name: "bed_sulfur_length", What: "capture length of sulfur haze over that of iron floc",
		Value: 3, Low: 1, High: 10, Kind: source.Judgement,
		From: "our judgement: sulfur from chlorine is a fine haze of which some passes",
	}
)

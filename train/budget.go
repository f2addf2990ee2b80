package train

import (
	"math"

	"wellwright/media"
	"wellwright/source"
)

// PressureBudget is the pressure from cut-in to the top fixture at house peak.
type PressureBudget struct {
	CutIn, Clean, Dirty, Pipe, Rise, Left float64 // psi
	Boosted                               bool    // cut-in is the booster's
}

// stores are the stages that the house is pumped from again.
var stores = []media.Process{media.StorageBooster, media.VentedAeration, media.RadonAeration}

// budget adds the losses at peak from the last pump on.
func (c *carried) budget(i int) PressureBudget {
	d := c.job.Draws[i]
	b := PressureBudget{CutIn: c.supply[i].CutIn.PSI(), Rise: c.rise(), Pipe: c.job.Site.Factors.Of(pipeLoss)}
	b.Boosted = c.supply[i].CutIn != d.Supply.Hydraulic.CutIn || c.so.Has(stores...)
	first := 0
	if b.Boosted {
		first = lastIndex(c.so, stores) + 1
	}
	for _, l := range c.links[first:] {
		b.Clean += l.Outcomes[i].Loss.Clean.PSI()
		b.Dirty += l.Outcomes[i].Loss.Dirty.PSI()
	}
	b.Dirty = math.Max(b.Dirty, b.Clean)
	b.Left = b.CutIn - b.Dirty - b.Pipe - b.Rise
	return b
}

// rise is the pressure lost to the height of the top fixture.
func (c *carried) rise() float64 {
	ft := c.job.Site.Factors.Of(topFixture)
	if r := c.job.Site.Well.Pipe.TopRise; r != nil {
		ft = r.Ft()
	}
	return ft * 0.433
}

// limits are those of the pressure budget.
func (b PressureBudget) limits(f source.Set, g *gathered) {
	g.add(
		least("pressure_at_top_fixture", b.Left, f.Of(leastPressure), "psi", "too little pressure is left at the top fixture when the beds are dirty", from{source.Published, "International Plumbing Code Table 604.3: 8 psi at the fixture"}),
		soft(true, least("pressure_comfort", b.Left, f.Of(goodPressure), "psi", "showers feel weak at peak when the beds are dirty: wash in time, or raise the switch", common)),
		soft(true, most("clean_loss", b.Clean, f.Of(cleanLoss), "psi", "the train takes much pressure even when clean", common)),
	)
}

var (
	pipeLoss = source.Factor{Name: "house_pipe_loss", What: "pressure lost in the house pipe at peak", Unit: "psi",
		Value: 4, Low: 2, High: 10, Kind: source.CommonPractice, From: "1 in main of modest length; assumed"}
	topFixture = source.Factor{Name: "top_fixture_rise", What: "height of the top fixture above the pressure tank where not recorded", Unit: "ft",
		Value: 15, Low: 5, High: 25, Kind: source.CommonPractice, From: "basement to an upstairs shower; assumed"}
	leastPressure = source.Factor{Name: "pressure_at_top_fixture_least", What: "pressure to keep at the top fixture at peak", Unit: "psi",
		Value: 8, Low: 8, High: 20, Kind: source.Published, From: "International Plumbing Code Table 604.3 (2018): 8 psi, 20 with a balancing valve"}
	goodPressure = source.Factor{Name: "pressure_at_top_fixture_good", What: "pressure at the top fixture at peak that a house is content with", Unit: "psi",
		Value: 15, Low: 12, High: 25, Kind: source.CommonPractice, From: "20 to 25 psi in the trade with clean beds, a little less when they are due"}
	cleanLoss = source.Factor{Name: "train_clean_loss_most", What: "pressure a clean train may take at peak", Unit: "psi",
		Value: 15, Low: 10, High: 20, Kind: source.CommonPractice, From: "usual in the trade"}
	nightMinutes = source.Factor{Name: "wash_night_minutes", What: "minutes of a night open to washing", Unit: "min",
		Value: 300, Low: 180, High: 360, Kind: source.CommonPractice, From: "midnight to five"}
)

// Factors lists the factors of this room.
func Factors() []source.Factor {
	return []source.Factor{
		slimeAt, weakWash, turningDoubt, hazeFrom, airedAbove, airedManganese, fluxCaution, fluxMost, contactIronFrom, contactIron, contactSulfide, contactSlime, hiddenMost, chlorineTaste, pink, veryHardAt,
		alkalinityFloor, silicaMost, organicMost, yieldSpare, wasteMost, radonIronMost, chlorineManganesePH, carbonSulfide, peroxideManganese, arseniteShare, radonMost, tapShare, ammoniaSpoils, hardAgain,
		pipeLoss, topFixture, leastPressure, goodPressure, cleanLoss, nightMinutes,
	}
}

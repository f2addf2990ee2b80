package train

import (
	"wellwright/cloud"
	"wellwright/hydraulic"
	"wellwright/stage"
	"wellwright/unit"
	"wellwright/water"
)

// Ahead is what a stage of a train is given of the leading water.
type Ahead struct {
	Water  water.State
	Supply hydraulic.Supply
	Peak   unit.Flow // most that the house can pull through it
}

// Along lists what each stage of a train is given, and last what stands behind
// them all. It is nil for a train that could not be laid out.
func (e Evaluation) Along() []Ahead {
	if e.end == nil {
		return nil
	}
	as := make([]Ahead, len(e.Links)+1)
	for c, k := e.end, len(e.Links); c != nil; c, k = c.ahead, k-1 {
		as[k] = Ahead{Water: c.water(e.Lead), Supply: c.supply[e.Lead], Peak: c.peaks[e.Lead]}
	}
	return as
}

// Leading is the draw that the train is sized and set for.
func (e Evaluation) Leading() *cloud.Draw {
	if e.end == nil {
		return nil
	}
	return &e.end.job.Draws[e.Lead]
}

// LossAt is the pressure that each stage takes at a flow, such as that of a wash
// behind it.
func (e Evaluation) LossAt(q unit.Flow) []stage.Loss {
	losses := make([]stage.Loss, len(e.Links))
	e.eachStage(func(k int, c *carried, j *stage.Job) {
		j.Peak = q
		losses[k] = c.unit.Run(j, e.Links[k].Size).Loss
	})
	return losses
}

// Inside is the leading water within a stage, after the given shares of its
// volume or of its medium: what a stage of that part of the size would leave. It
// is nil for a stage that has neither.
func (e Evaluation) Inside(stageAt int, shares []float64) []water.State {
	z := e.Links[stageAt].Size
	if z.Volume.Gal() <= 0 && z.Media.Ft3() <= 0 {
		return nil
	}
	states := make([]water.State, len(shares))
	e.eachStage(func(k int, c *carried, j *stage.Job) {
		if k != stageAt {
			return
		}
		for i, share := range shares {
			part := z
			part.Volume, part.Media = unit.Gal(z.Volume.Gal()*share), unit.Ft3(z.Media.Ft3()*share)
			states[i] = c.unit.Run(j, part).Out
		}
	})
	return states
}

// eachStage calls f with every stage, last one first, and its job on the leading
// water.
func (e Evaluation) eachStage(f func(k int, c *carried, j *stage.Job)) {
	for c, k := e.end, len(e.Links)-1; c != nil && c.ahead != nil; c, k = c.ahead, k-1 {
		j := c.ahead.jobFor(e.Lead, c.after)
		j.Lean, j.Site = true, quiet(j.Site)
		f(k, c, &j)
	}
}

// quiet is a site that records no working.
func quiet(s *stage.Site) *stage.Site {
	silent := *s
	silent.Working = nil
	return &silent
}

// Drunk is one water at the kitchen tap with its weight among those carried.
type Drunk struct {
	Weight float64
	Water  water.State
}

// AtKitchen are the waters that people drink, of the draws that were carried: what
// the tap that belongs beside the train makes of them, where one does.
func (e Evaluation) AtKitchen() []Drunk {
	if e.end == nil {
		return nil
	}
	var ds []Drunk
	for i := range e.end.job.Draws {
		if e.Limits[i] != nil {
			ds = append(ds, Drunk{e.end.job.Draws[i].Weight, e.end.drunk(i, e.Tap != nil)})
		}
	}
	return ds
}

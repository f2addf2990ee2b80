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
	as := make([]Ahead, 0, len(e.Links)+1)
	for k := range e.Links {
		j := e.JobAt(k, e.Lead)
		as = append(as, Ahead{j.In, j.Supply, j.Peak})
	}
	return append(as, Ahead{e.end.water(e.Lead), e.end.supply[e.Lead], e.end.peaks[e.Lead]})
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
	for k, l := range e.Links {
		j := e.leanJob(k)
		j.Peak = q
		losses[k] = processOf(l).Run(&j, l.Size).Loss
	}
	return losses
}

// Inside is the leading water within a stage, after the given shares of its
// volume or of its medium: what a stage of that part of the size would leave. It
// is nil for a stage that has neither.
func (e Evaluation) Inside(k int, shares []float64) []water.State {
	l := e.Links[k]
	if l.Size.Volume.Gal() <= 0 && l.Size.Media.Ft3() <= 0 {
		return nil
	}
	states := make([]water.State, len(shares))
	for i, share := range shares {
		j, part := e.leanJob(k), l.Size
		part.Volume, part.Media = unit.Gal(l.Size.Volume.Gal()*share), unit.Ft3(l.Size.Media.Ft3()*share)
		states[i] = processOf(l).Run(&j, part).Out
	}
	return states
}

// leanJob is the job of stage k on the leading water, for its figures alone: it
// records no working.
func (e Evaluation) leanJob(k int) stage.Job {
	j := e.JobAt(k, e.Lead)
	silent := *j.Site
	silent.Working = nil
	j.Lean, j.Site = true, &silent
	return j
}

// processOf is the unit process of a link; every link has one.
func processOf(l Link) stage.Process {
	p, _ := stage.Of(l.Process)
	return p
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

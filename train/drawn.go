package train

import (
	"wellwright/cloud"
	"wellwright/hydraulic"
	"wellwright/stage"
)

// Draws are the waters that the train was carried through; Limits and Outcomes
// are in their order.
func (e Evaluation) Draws() []cloud.Draw {
	if e.end == nil {
		return nil
	}
	return e.end.job.Draws
}

// LimitsIn lists every limit of a draw in flow order, kept or broken, as Limits
// does of the leading draw alone; nil where the draw was not carried to the tap.
func (e Evaluation) LimitsIn(draw int) []Placed {
	if e.end == nil || e.Limits[draw] == nil {
		return nil
	}
	return e.end.limits(draw, true, e.Tap != nil)
}

// JobAt is the job that stage k of the train was given in a draw: the water at its
// inlet, and the supply that it is washed with.
func (e Evaluation) JobAt(k, draw int) stage.Job {
	c := e.end
	for len(c.links) > k+1 {
		c = c.ahead
	}
	return c.ahead.jobFor(draw, c.after)
}

// SupplyAtTap is what the house is fed from behind the train in a draw: the well's
// supply, or that of the last store with its booster.
func (e Evaluation) SupplyAtTap(draw int) hydraulic.Supply { return e.end.supply[draw] }

// LossAtPeak is the pressure budget of a draw.
func (e Evaluation) LossAtPeak(draw int) PressureBudget { return e.end.budget(draw) }

package cloud

import (
	"math"

	"wellwright/cloud/internal/posterior"
	"wellwright/source"
)

// classFactors are the middles of the prior by class of redox: the median that
// stands for a figure nobody measured, before the rest of the evidence moves it.
func classFactors() []source.Factor {
	p, err := readPrior()
	if err != nil {
		return nil // told when a cloud is asked for
	}
	var fs []source.Factor
	for i := range p.Classes {
		for k := range posterior.Leaves {
			fs = append(fs, middleFactor(&p.Classes[i], k))
		}
	}
	return fs
}

func middleFactor(c *posterior.Class, k int) source.Factor {
	f := source.Factor{Name: "cloud_prior_" + c.ID + "_" + posterior.Leaves[k], What: "median of " + posterior.Leaves[k] + " in " + c.ID + " wells, before any evidence",
		Kind: source.Published, From: "fitted on open data of Ohio EPA and the US Geological Survey; docs/prior.md"}
	if c.Judgement[k] {
		f.Kind, f.From = source.Judgement, "no open data hold it; docs/prior.md"
	}
	mid, spread := c.Mean[k], z05*c.SD[k]
	f.Value, f.Low, f.High = mid, mid-spread, mid+spread
	if k != posterior.Temperature && k != posterior.PH {
		f.Value, f.Low, f.High = math.Exp(mid), math.Exp(mid-spread), math.Exp(mid+spread)
	}
	return f
}

// own moves the middles of the prior to the user's own values.
func own(p posterior.Prior, set source.Set) posterior.Prior {
	classes := append([]posterior.Class(nil), p.Classes...)
	for i := range classes {
		for k := range posterior.Leaves {
			f := middleFactor(&classes[i], k)
			v := set.Of(f)
			if v == f.Value || v <= 0 {
				continue
			}
			if k != posterior.Temperature && k != posterior.PH {
				v = math.Log(v)
			}
			classes[i].Mean[k] = v
		}
	}
	return posterior.Prior{Classes: classes}
}

package plan

import (
	"wellwright/formula"
	"wellwright/train"
)

// working carries the first option once more through the middle water with the
// working written down, and prices it so.
func (d *Desk) working(rs []ranked) []formula.Placed {
	w := &formula.Working{}
	site := *d.Work.Site
	site.Working = w
	again := train.NewWork(&site, d.Work.Draws[d.middle():d.middle()+1], d.Work.Want)
	w.At("raw water")
	again.Rerun(rs[0].Evaluation, func(l train.Link) { w.At(string(l.Process)) })
	w.At("cost")
	bill, _ := d.bill(rs[0].Evaluation)
	d.work(bill, w)
	return w.Steps()
}

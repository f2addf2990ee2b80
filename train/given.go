package train

import "wellwright/stage"

// Given are the sizes asked for, by the place of a stage in the train counted
// from 0. They hold for every train that is carried, so that a search is made
// without any.
type Given map[int]stage.Given

// With returns the search with sizes given.
func (w *Work) With(g Given) *Work {
	v := *w
	v.given = g
	return &v
}

// sizes are those of a process in the next place of a train.
func (c *carried) sizes(x stage.Process, j *stage.Job) []stage.Size {
	return c.job.given[len(c.links)].Sizes(x, j)
}

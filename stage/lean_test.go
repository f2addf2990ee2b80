package stage

import (
	"reflect"
	"slices"
	"testing"
)

// A lean run is the full run with words and money left out: what a cloud of
// waters is carried on must be the same figures to the last bit. A second method
// is the full run itself.
func TestLeanRunIsTheFullRun(t *testing.T) {
	room, scopes := make([]Limit, 0, 64), map[string]*Scope{}
	for _, x := range placements(t) {
		if scopes[x.well] == nil {
			scopes[x.well] = &Scope{}
		}
		for _, w := range append([]Way{{}}, x.p.Ways()...) {
			j := *x.j
			j.Fault = w.ID
			full := x.p.Run(&j, x.z)
			j.Lean, j.Scope = true, nil
			checkLean(t, x, full, x.p.Run(&j, x.z))
			j.Room, j.Scope = room, scopes[x.well]
			for range 2 { // the second finds what the first left in the scope
				checkLean(t, x, full, x.p.Run(&j, x.z))
			}
		}
	}
}

func checkLean(t *testing.T, x placed, full, lean Outcome) {
	t.Helper()
	same := func(what string, a, b any) {
		if !reflect.DeepEqual(a, b) {
			t.Errorf("%s at %s: lean %s %v, full %v", x.p.ID(), x.well, what, b, a)
		}
	}
	same("water", full.Out, lean.Out)
	same("limits", full.Limits, lean.Limits)
	same("washes", full.Washes, lean.Washes)
	same("supply", full.Supply, lean.Supply)
	same("loss", full.Loss, lean.Loss)
	same("needs", full.Needs, lean.Needs)
	for k, v := range lean.Settings {
		same(k, full.Settings[k], v)
	}
	for _, k := range LeanSettings {
		if v, ok := full.Settings[k]; ok {
			same(k, v, lean.Settings[k])
		}
	}
}

// Every process that is built stands in some train of these tests.
func TestEveryProcessIsPlaced(t *testing.T) {
	_, of := byProcess(placements(t))
	for _, p := range processes {
		if len(of[p.ID()]) == 0 {
			t.Errorf("%s stands in none of the usual trains", p.ID())
		}
	}
}

// What a lean run leaves out costs nothing: no line of a bill and no words.
func TestLeanRunLeavesWordsOut(t *testing.T) {
	for _, x := range placements(t) {
		j := *x.j
		j.Lean = true
		o := x.p.Run(&j, x.z)
		if len(o.Bill.First)+len(o.Bill.Yearly)+len(o.Bill.Renewals)+len(o.Cautions)+len(o.WillNot) > 0 {
			t.Errorf("%s: a lean run has a bill or words", x.p.ID())
		}
		for k := range o.Settings {
			if !slices.Contains(LeanSettings, k) {
				t.Errorf("%s: a lean run gives %s, which LeanSettings does not name", x.p.ID(), k)
			}
		}
	}
}

// BenchmarkLean is BenchmarkRun as a cloud of waters asks it: many runs on each
// draw, one slice for the limits of all.
func BenchmarkLean(b *testing.B) {
	room := make([]Limit, 0, 64)
	order, of := byProcess(placements(b))
	for _, id := range order {
		b.Run(string(id), func(b *testing.B) {
			b.ReportAllocs()
			xs := of[id]
			for _, x := range xs {
				x.j.Lean, x.j.Room, x.j.Scope = true, room, &Scope{}
			}
			for i := 0; b.Loop(); i++ {
				x := &xs[i%len(xs)]
				x.p.Run(x.j, x.z)
			}
		})
	}
}

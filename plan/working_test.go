package plan_test

import (
	"math"
	"testing"

	"wellwright/formula"
	"wellwright/media"
	"wellwright/plan"
	"wellwright/train"
)

// answeredDesk opens and answers a demonstration well.
func answeredDesk(t testing.TB, name string) (*plan.Desk, plan.Answer) {
	t.Helper()
	d := deskOf(t, "../demo/"+name+".yaml", nil, plan.Ask{Prices: plan.Prices()})
	return d, answered(t, d)
}

func trainOf(o plan.Option) train.Train {
	var t train.Train
	for _, p := range o.Train {
		t = append(t, media.Process(p))
	}
	return t
}

func value(t *testing.T, s formula.Placed, name string) float64 {
	t.Helper()
	for _, y := range s.Symbols {
		if y.Name == name {
			return y.Value
		}
	}
	for _, f := range s.Factors {
		if f.Name == name {
			return f.Value
		}
	}
	t.Fatalf("%s: no symbol %s in %+v", s.Figure, name, s.Symbols)
	return 0
}

// What a step says of an option is what the option says of itself, and comes out
// of its own symbols by its own equation: a second reckoning, by hand.
func TestWorkingOfEveryOption(t *testing.T) {
	for _, name := range []string{"arsenic-with-iron", "weak-well", "red-water"} {
		d, a := answeredDesk(t, name)
		if len(a.Options) == 0 {
			t.Fatalf("%s: %d options", name, len(a.Options))
		}
		for _, o := range a.Options {
			steps, err := d.Working(trainOf(o))
			if err != nil {
				t.Fatal(err)
			}
			seen := 0
			for _, s := range steps {
				seen += checkStep(t, name, o, s)
			}
			if seen < 4 {
				t.Errorf("%s, option %d: only %d figures of it are opened", name, o.Rank, seen)
			}
		}
	}
}

// checkStep holds one step against the option and returns 1 if it could.
func checkStep(t *testing.T, name string, o plan.Option, s formula.Placed) int {
	t.Helper()
	var want float64
	ok := true
	switch s.Figure {
	case "expected cost":
		p, own := value(t, s, "p"), value(t, s, "own")
		for _, f := range s.Factors {
			if f.Name == "fails_again" {
				p = 1 - (1-p)*(1-f.Value)
			}
		}
		byHand := own + p*(value(t, s, "loss_wrong_unit")+math.Max(0, value(t, s, "refuge")-own)) + value(t, s, "n")*value(t, s, "loss_callback")
		near(t, name, o, s, byHand, 1e-9)
		want = o.ExpectedCost
	case "meets every limit":
		near(t, name, o, s, value(t, s, "n")/value(t, s, "N"), 1e-12)
		want = *o.MeetsProbability
	case "cost with own time":
		want = value(t, s, "mean of ten years") + value(t, s, "owner_hour")*value(t, s, "h")*value(t, s, "owner_hour_years")
	default:
		want, ok = shownAs(o, s)
	}
	if !ok {
		return 0
	}
	near(t, name, o, s, want, 0.01)
	return 1
}

func near(t *testing.T, name string, o plan.Option, s formula.Placed, want, share float64) {
	t.Helper()
	if math.Abs(s.Value-want) > share*math.Abs(want)+1e-9 {
		t.Errorf("%s, option %d, %s %s: working says %g, want %g", name, o.Rank, s.Place, s.Figure, s.Value, want)
	}
}

// shownAs is the figure as the option shows it.
func shownAs(o plan.Option, s formula.Placed) (float64, bool) {
	for _, st := range o.Stages {
		if st.Process == s.Place {
			v, ok := st.Settings[s.Figure]
			return v, ok
		}
	}
	return 0, false
}

// A train that is no option can be opened too; of a train that cannot be laid out
// there is nothing to open.
func TestWorkingBeyondTheOptions(t *testing.T) {
	d, a := answeredDesk(t, "arsenic-with-iron")
	alone := train.Train{media.Softener}
	for _, o := range a.Options {
		if trainOf(o).String() == alone.String() {
			t.Fatal("the softener alone is an option here: it takes no arsenic (demo/arsenic-with-iron.yaml, head)")
		}
	}
	steps, err := d.Working(alone)
	if err != nil || len(steps) == 0 {
		t.Fatalf("softener alone: %d steps, %v", len(steps), err)
	}
	if steps, err := d.Working(train.Train{media.WellRehabilitation}); err == nil && len(steps) > 0 {
		t.Errorf("well rehabilitation is no stage, yet has %d steps", len(steps))
	}
}

func TestEvidenceWorking(t *testing.T) {
	d, a := answeredDesk(t, "arsenic-with-iron")
	for _, s := range d.EvidenceWorking() {
		if s.Place != "raw water" {
			t.Errorf("%s stands at %q", s.Figure, s.Place)
		}
		if s.Figure == "bacteria_probability" && math.Abs(s.Value-float64(a.Forms.Bacteria)) > 1e-9 {
			t.Errorf("bacteria: working %g, answer %g", s.Value, float64(a.Forms.Bacteria))
		}
	}
	if len(d.EvidenceWorking()) == 0 {
		t.Error("nothing of the evidence can be opened")
	}
}

func BenchmarkWorkingOfAnOption(b *testing.B) {
	d, a := answeredDesk(b, "arsenic-with-iron")
	first := trainOf(a.Options[0])
	for b.Loop() {
		if _, err := d.Working(first); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkWhy(b *testing.B) {
	d, a := answeredDesk(b, "arsenic-with-iron")
	first := trainOf(a.Options[0])
	for b.Loop() {
		if _, err := d.Why(first); err != nil {
			b.Fatal(err)
		}
	}
}

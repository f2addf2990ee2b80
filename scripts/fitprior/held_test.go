package main

import (
	"math"
	"testing"
)

// halves parts the sheets by well: even and odd in the order of the file.
func halves(all []sheet) (first, second []sheet) {
	turn := map[string]int{}
	for _, s := range all {
		if _, seen := turn[s.well]; !seen {
			turn[s.well] = len(turn)
		}
		if turn[s.well]%2 == 0 {
			first = append(first, s)
		} else {
			second = append(second, s)
		}
	}
	return first, second
}

// A prior fitted on half of the wells must hold the other half: the widened 5 to
// 95 % range of each fitted coordinate at least nine wells in ten, and the
// conditional law of a coordinate given all others no less (definition of the
// range; the widening may only make it hold more).
func TestHeldBackWells(t *testing.T) {
	needData(t)
	all, n, err := readSheets(dataDir)
	if err != nil {
		t.Fatal(err)
	}
	first, second := halves(all)
	for k, pair := range [][2][]sheet{{first, second}, {second, first}} {
		laws, err := fitAll(sorted(pair[0], &n))
		if err != nil {
			t.Fatal(err)
		}
		group := sorted(pair[1], &n)[reduced]
		law := widened(laws[reduced])
		for _, i := range []int{atPH, atAlkalinity, atCalcium, atMagnesium, atSodium, atChloride, atSulfate, atAmmonia, atIron, atManganese} {
			alone, given := holding(t, group, law, i)
			// three standard errors of a share of 0.9 among the wells of a half
			least := 0.9 - 3*math.Sqrt(0.9*0.1/weightOf(group))
			if alone < least || given < least {
				t.Errorf("half %d, %s: the range holds %.2f of wells, given the others %.2f; want %.2f", k, coordinates[i].id, alone, given, least)
			}
			t.Logf("half %d, %s: held %.2f, given the others %.2f of %.0f wells", k, coordinates[i].id, alone, given, weightOf(group))
		}
	}
}

// widened is a law with the spreads of the prior.
func widened(law normal) normal {
	r := correlation(law.cov)
	for a, i := range joint {
		for b := a; b < len(joint); b++ {
			j := joint[b]
			r.SetSym(a, b, r.At(a, b)*spread(i, math.Sqrt(law.cov.At(a, a)))*spread(j, math.Sqrt(law.cov.At(b, b))))
		}
	}
	return normal{law.mean, r}
}

// holding returns the share of wells whose figure lies in the 5 to 95 % range of
// a coordinate, by itself and given the other figures of the sheet.
func holding(t *testing.T, group []sheet, law normal, i int) (alone, given float64) {
	t.Helper()
	at := 0
	for a, j := range joint {
		if j == i {
			at = a
		}
	}
	total := 0.0
	for k := range group {
		p := group[k].point(joint)
		if p.mark[at] != exact {
			continue
		}
		x := p.x[at]
		p.mark[at] = missing
		filled, extra, err := complete(p, law)
		if err != nil {
			t.Fatal(err)
		}
		total += p.weight
		if math.Abs(x-law.mean[at]) <= tail*math.Sqrt(law.cov.At(at, at)) {
			alone += p.weight
		}
		if math.Abs(x-filled[at]) <= tail*math.Sqrt(extra[at][at]) {
			given += p.weight
		}
	}
	return alone / total, given / total
}

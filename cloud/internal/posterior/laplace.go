package posterior

import "math"

// fit is the Gaussian laid on the density of one world.
type fit struct {
	world
	mode     vector
	root     matrix  // lower Cholesky factor of the curvature at the mode
	logDet   float64 // of the curvature
	peak     float64 // logarithm of the density at the mode
	evidence float64 // logarithm of the whole under the Gaussian
}

// settle climbs to the mode by damped Gauss-Newton steps. Not ok where no water
// fits at all.
//
//	(H + λ diag H) δ = g
//
// Source: Levenberg 1944, Marquardt 1963 (from memory).
func (b *problem) settle(w world, start vector) (fit, bool) {
	f := fit{world: w, mode: start}
	var s state
	var g, step, to vector
	var h, root matrix
	l := b.expand(&f.world, &s, &f.mode, &g, &h)
	if math.IsInf(l, -1) {
		return f, false
	}
	damp := 1e-3
	for range climbs {
		if !b.factor(&h, damp, &root) {
			damp *= 10
			continue
		}
		b.solve(&root, &g, &step)
		short := b.shorten(&step)
		to = f.mode
		for i := range b.n {
			to[i] += step[i]
		}
		if next := b.density(&f.world, &s, &to); next > l {
			rise := next - l
			f.mode = to
			l = b.expand(&f.world, &s, &f.mode, &g, &h)
			damp = math.Max(damp/8, 1e-9)
			if rise < flat && !short {
				break
			}
		} else if damp *= 10; damp > 1e8 || next > l-1e-9 {
			break
		}
	}
	for damp = 0; !b.factor(&h, damp, &f.root); damp = math.Max(1e-9, 10*damp) {
		if damp > 1 {
			return f, false
		}
	}
	f.peak = l
	for i := range b.n {
		f.logDet += 2 * math.Log(f.root[i][i])
	}
	f.evidence = l + float64(b.n)*halfLog2Pi - 0.5*f.logDet
	return f, true
}

const (
	climbs = 40   // steps to a mode, at most
	flat   = 1e-3 // rise of the logarithm below which the climb ends
	stride = 2    // longest step of one unknown
)

// shorten keeps a step within reach of the laws it was made from.
func (b *problem) shorten(step *vector) bool {
	far := 0.0
	for i := range b.n {
		far = math.Max(far, math.Abs(step[i]))
	}
	if far <= stride {
		return false
	}
	for i := range b.n {
		step[i] *= stride / far
	}
	return true
}

// factor takes the Cholesky factor of H + damp diag H. It is written out because
// it runs some ten thousand times for one well and must not allocate.
func (b *problem) factor(h *matrix, damp float64, root *matrix) bool {
	for i := range b.n {
		for k := range i + 1 {
			sum := h[i][k]
			if i == k {
				sum += damp * h[i][i]
			}
			for m := range k {
				sum -= root[i][m] * root[k][m]
			}
			if i != k {
				root[i][k] = sum / root[k][k]
				continue
			}
			if !(sum > 1e-14) {
				return false
			}
			root[i][i] = math.Sqrt(sum)
		}
	}
	return true
}

// solve returns x with L Lᵀ x = v.
func (b *problem) solve(root *matrix, v, x *vector) {
	for i := range b.n {
		sum := v[i]
		for m := range i {
			sum -= root[i][m] * x[m]
		}
		x[i] = sum / root[i][i]
	}
	b.back(root, x)
}

// back returns, in place, x with Lᵀ x = v: of independent normal deviates it
// makes deviates with the covariance of the fit.
func (b *problem) back(root *matrix, x *vector) {
	for i := b.n - 1; i >= 0; i-- {
		sum := x[i]
		for m := i + 1; m < b.n; m++ {
			sum -= root[m][i] * x[m]
		}
		x[i] = sum / root[i][i]
	}
}

// start is a water to climb from: the middle of the class, moved to what was
// read alone, with the charge given room by sodium or chloride.
func (b *problem) start(w *world) vector {
	var x vector
	for i := range nFree {
		x[i] = w.class.Mean[i]
	}
	x[manganeseOx] = math.Log(b.OxideMid)
	alk := math.Exp(w.class.Mean[Alkalinity])
	for i := range w.measures {
		m := &w.measures[i]
		if m.Sign != Exact || len(m.Terms) != 1 {
			continue
		}
		switch q := m.Terms[0].Of; {
		case q == Alkalinity:
			alk = m.Value
		case q < nFree && (m.Kind == Plain || m.Kind == LogSum):
			x[q] = m.logy() - m.Shift
		}
	}
	b.startForms(w, &x)
	b.openCharge(&x, alk)
	return x
}

// startForms parts the iron as the class of forms has it.
func (b *problem) startForms(w *world, x *vector) {
	a := w.form.Alpha
	x[toFerrous], x[toBound] = math.Log(a[0]/a[1]), math.Log(a[2]/a[1])
}

// openCharge adds sodium or chloride until the charge leaves the alkalinity asked.
func (b *problem) openCharge(x *vector, alk float64) {
	var s state
	s.make(x, &b.charges)
	gap := (alk - s.amount[Alkalinity]) * -b.charges[Alkalinity] // meq/L of cations wanting
	if gap > 0 {
		x[Sodium] = math.Log(s.amount[Sodium] + gap/b.charges[Sodium])
	} else {
		x[Chloride] = math.Log(s.amount[Chloride] + gap/b.charges[Chloride])
	}
}

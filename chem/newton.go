package chem

import "math"

// The unknowns of a speciation: the logarithms of the free ligands, that of the
// activity of H+, and ionic strength. Free metals are explicit in these, since
// every complex holds one of them:
//
//	M = T / (1 + Σ q),  q = K · g-ratio · L^n · {H+}^k
//
// so that Newton's method runs on seven unknowns with an exact Jacobian.
const (
	colH     = int(nLigands)
	colI     = colH + 1
	unknowns = colI + 1
)

type (
	vector [unknowns]float64
	matrix [unknowns]vector
)

// closing says which two conditions stand beside the balances.
type closing int8

const (
	pHAndAlkalinity     closing = iota // pH known, alkalinity gives carbonate
	alkalinityAndCarbon                // closed to the air
	alkalinityAndCO2                   // open to a gas of known CO2
)

// problem is one speciation: what is known, and constants at its temperature.
type problem struct {
	closing       closing
	amounts       amounts // ligand[lCO3] is total carbon when that is known
	alk           float64 // eq/L
	freeCO2       float64 // activity of dissolved CO2 when open
	debye         float64
	kw            float64
	k             [nComplexes]float64
	active        [nComplexes]bool
	activeLigands [nLigands + 1]bool
}

// leastAmount is the least total that counts as any, mol/L: a thousandth of an
// atom in a litre would only upset the arithmetic.
const leastAmount = 1e-25

// prepare computes the constants and marks what is present.
func (p *problem) prepare(m *Model, kelvin float64) {
	pw := powersOf(kelvin)
	p.debye = debyeA(kelvin)
	p.kw = math.Exp(ln10 * m.logK(kW, pw))
	for i, v := range p.amounts.master {
		if v < leastAmount {
			p.amounts.master[i] = 0
		}
	}
	for j := range nLigands {
		p.activeLigands[j] = p.amounts.ligand[j] >= leastAmount
	}
	if p.closing != alkalinityAndCarbon {
		p.activeLigands[lCO3] = true
	}
	p.activeLigands[lNone] = true
	for i := range complexSteps {
		s := &complexSteps[i]
		if !p.activeLigands[s.l] || (s.m != mNone && p.amounts.master[s.m] == 0) {
			continue
		}
		r := &complexRows[i]
		lk := m.logK(r.k, pw)
		if r.base != kNone {
			lk += m.logK(r.base, pw)
		}
		p.active[i] = true
		p.k[i] = math.Exp(ln10 * lk)
	}
}

// amountsFound are the species of one evaluation, mol/L, and the activity of H+.
type amountsFound struct {
	master   [nMasters]float64
	ligand   [nLigands]float64
	complex  [nComplexes]float64
	oh, h    float64 // amounts of OH- and H+
	activity float64 // of H+
	ionic    float64
	g        float64 // -ln of the activity coefficient at charge one
}

// work holds sums and derivatives while they are gathered.
type work struct {
	share [nMasters + 1]float64 // 1 + Σ q, then the free amount
	mean  [nMasters]vector      // Σ c · d ln q, by unknown
	alkOf [nMasters]float64     // alkalinity carried by each master and its complexes
	zzOf  [nMasters]float64     // the same of ½ z² c
	alk   float64
	zz    float64
	dAlk  vector
	dZZ   vector
}

const (
	deltaLow  = -1 // range of complexStep.delta
	deltaHigh = 17
	protonLow = -4 // range of complexStep.nh
	protonTop = 3
)

// coefficients fills the ratios of activity coefficients and powers of {H+}.
func coefficients(g, ionic, aH float64) (ratio [deltaHigh - deltaLow + 1]float64, neutral [3]float64, proton [protonTop - protonLow + 1]float64) {
	e := math.Exp(-g)
	ratio[0] = 1 / e
	for i := 1; i < len(ratio); i++ {
		ratio[i] = ratio[i-1] * e
	}
	n := math.Exp(neutralSlope * ln10 * ionic)
	neutral = [3]float64{1 / n, 1, n}
	proton[-protonLow] = 1
	for i := -protonLow + 1; i < len(proton); i++ {
		proton[i] = proton[i-1] * aH
	}
	inv := 1 / aH
	for i := -protonLow - 1; i >= 0; i-- {
		proton[i] = proton[i+1] * inv
	}
	return ratio, neutral, proton
}

// evaluate computes all species at y, the residuals r and their derivatives j.
func (p *problem) evaluate(y *vector, f *amountsFound, r *vector, j *matrix) {
	var w work
	*j = matrix{}
	f.activity, f.ionic = math.Exp(y[colH]), y[colI]
	g, dg := davies(p.debye, f.ionic)
	f.g = g
	for i := range nLigands {
		f.ligand[i] = 0
		if p.activeLigands[i] {
			f.ligand[i] = math.Exp(y[i])
		}
	}
	p.quotients(f, &w)
	p.gather(f, &w, r, j, dg)
	p.eliminate(&w, r, j)
	p.ions(f, &w, dg)
	p.close(y, f, &w, r, j, dg)
}

// quotients computes q of every complex and the free masters.
func (p *problem) quotients(f *amountsFound, w *work) {
	ratio, neutral, proton := coefficients(f.g, f.ionic, f.activity)
	for i := range w.share {
		w.share[i] = 1
	}
	for i := range complexSteps {
		if !p.active[i] {
			continue
		}
		s := &complexSteps[i]
		q := p.k[i] * ratio[s.delta-deltaLow] * neutral[s.neutral+1] * proton[s.nh-protonLow]
		if s.l != lNone {
			q *= f.ligand[s.l]
			if s.nl == 2 {
				q *= f.ligand[s.l]
			}
		}
		f.complex[i] = q
		if s.m != mNone {
			w.share[s.m] += q
		}
	}
	w.share[mNone] = 1
	for m := range nMasters {
		w.share[m] = p.amounts.master[m] / w.share[m]
		f.master[m] = w.share[m]
	}
}

// gather turns q into amounts and sums balances, with derivatives at fixed free
// masters.
func (p *problem) gather(f *amountsFound, w *work, r *vector, j *matrix, dg float64) {
	for i := range nLigands {
		r[i] = f.ligand[i]
		j[i][i] = f.ligand[i]
	}
	for i := range complexSteps {
		if !p.active[i] {
			continue
		}
		s := &complexSteps[i]
		c := f.complex[i] * w.share[s.m]
		f.complex[i] = c
		n, h := c*float64(s.nl), c*float64(s.nh)
		k := c * (float64(s.neutral)*neutralSlope*ln10 - float64(s.delta)*dg)
		alk, zz := float64(s.alk), 0.5*float64(s.z)*float64(s.z)
		w.alk += alk * c
		w.zz += zz * c
		w.dAlk[colH] += alk * h
		w.dAlk[colI] += alk * k
		w.dZZ[colH] += zz * h
		w.dZZ[colI] += zz * k
		if s.l != lNone {
			nl := float64(s.nl)
			r[s.l] += n
			row := &j[s.l]
			row[s.l] += nl * n
			row[colH] += nl * h
			row[colI] += nl * k
			w.dAlk[s.l] += alk * n
			w.dZZ[s.l] += zz * n
		}
		if s.m != mNone {
			mean := &w.mean[s.m]
			if s.l != lNone {
				mean[s.l] += n
			}
			mean[colH] += h
			mean[colI] += k
			w.alkOf[s.m] += alk * c
			w.zzOf[s.m] += zz * c
		}
	}
}

// eliminate takes the change of the free masters into the derivatives.
func (p *problem) eliminate(w *work, _ *vector, j *matrix) {
	for m := range nMasters {
		t := p.amounts.master[m]
		if t == 0 {
			continue
		}
		free, mean := w.share[m], w.mean[m]
		zz := 0.5 * float64(masterZ[m]*masterZ[m]) * free
		alk := float64(masterAlk[m]) * free
		w.alk += alk
		w.zz += zz
		w.alkOf[m] += alk
		w.zzOf[m] += zz
		if w.share[m] == t {
			continue // no complexes
		}
		inv := 1 / t
		for i := range nLigands {
			if mean[i] != 0 {
				axpy(&j[i], -mean[i]*inv, &mean)
			}
		}
		axpy(&w.dAlk, -w.alkOf[m]*inv, &mean)
		axpy(&w.dZZ, -w.zzOf[m]*inv, &mean)
	}
}

func axpy(to *vector, a float64, x *vector) {
	for i := range to {
		to[i] += a * x[i]
	}
}

// ions adds free ligands, H+ and OH- to alkalinity and ionic strength.
func (p *problem) ions(f *amountsFound, w *work, dg float64) {
	for i := range nLigands {
		l, a, z := f.ligand[i], float64(ligandAlk[i]), float64(ligandZ[i])
		w.alk += a * l
		w.dAlk[i] += a * l
		w.zz += 0.5 * z * z * l
		w.dZZ[i] += 0.5 * z * z * l
	}
	e := math.Exp(f.g) // amount = activity / coefficient
	f.h, f.oh = f.activity*e, p.kw/f.activity*e
	w.alk += f.oh - f.h
	w.zz += 0.5 * (f.oh + f.h)
	w.dAlk[colH] -= f.oh + f.h
	w.dAlk[colI] += (f.oh - f.h) * dg
	w.dZZ[colH] += 0.5 * (f.h - f.oh)
	w.dZZ[colI] += 0.5 * (f.oh + f.h) * dg
}

// close scales the balances and sets the rows of carbonate, pH and ionic strength.
func (p *problem) close(y *vector, f *amountsFound, w *work, r *vector, j *matrix, dg float64) {
	for i := range nLigands {
		if !p.activeLigands[i] {
			identity(r, j, int(i))
			continue
		}
		if i == lCO3 && p.closing != alkalinityAndCarbon {
			continue
		}
		inv := 1 / r[i]
		r[i] = math.Log(r[i] / p.amounts.ligand[i])
		for k := range j[i] {
			j[i][k] *= inv
		}
	}
	switch p.closing {
	case pHAndAlkalinity:
		p.alkalinityRow(f, w, r, j, int(lCO3))
		identity(r, j, colH)
	case alkalinityAndCO2:
		p.alkalinityRow(f, w, r, j, colH)
		co2 := f.complex[CarbonDioxide-firstComplex]
		r[lCO3] = math.Log(co2/p.freeCO2) + neutralSlope*ln10*f.ionic
		s := &complexSteps[CarbonDioxide-firstComplex]
		j[lCO3] = vector{colH: 2, colI: -float64(s.delta) * dg}
		j[lCO3][lCO3] = 1
	default:
		p.alkalinityRow(f, w, r, j, colH)
	}
	r[colI] = (w.zz - f.ionic) / f.ionic
	j[colI] = w.dZZ
	j[colI][colI]--
	for k := range j[colI] {
		j[colI][k] /= f.ionic
	}
}

// alkalinityRow writes the alkalinity condition, scaled by what carries it.
func (p *problem) alkalinityRow(f *amountsFound, w *work, r *vector, j *matrix, row int) {
	inv := 1 / max(math.Abs(p.alk), f.oh+f.h)
	r[row] = (w.alk - p.alk) * inv
	for k := range j[row] {
		j[row][k] = w.dAlk[k] * inv
	}
}

func identity(r *vector, j *matrix, i int) {
	r[i] = 0
	j[i] = vector{}
	j[i][i] = 1
}

// speciationTol is the largest scaled residual of an accepted answer.
const speciationTol = 1e-11

// newton solves from y. It reports whether it converged.
func (p *problem) newton(y *vector, f *amountsFound) bool {
	var r vector
	var j matrix
	for range maxNewton {
		p.evaluate(y, f, &r, &j)
		worst := 0.0
		for _, v := range r {
			worst = max(worst, math.Abs(v))
		}
		if worst < speciationTol {
			return true
		}
		if math.IsNaN(worst) || !solveInPlace(&j, &r) {
			return false
		}
		advance(y, &r)
	}
	return false
}

// advance takes a Newton step, no log moved by more than 3 and ionic strength
// neither halved twice nor quadrupled.
func advance(y, step *vector) {
	for i := range colI {
		y[i] -= max(-3, min(3, step[i]))
	}
	y[colI] = max(y[colI]/4, min(4*y[colI], y[colI]-step[colI]))
}

// solveInPlace solves j x = r by elimination with row exchange; x replaces r.
func solveInPlace(j *matrix, r *vector) bool {
	for c := range unknowns {
		p := c
		for i := c + 1; i < unknowns; i++ {
			if math.Abs(j[i][c]) > math.Abs(j[p][c]) {
				p = i
			}
		}
		if !(math.Abs(j[p][c]) > 1e-300) {
			return false
		}
		if p != c {
			j[p], j[c] = j[c], j[p]
			r[p], r[c] = r[c], r[p]
		}
		inv := 1 / j[c][c]
		for i := c + 1; i < unknowns; i++ {
			f := j[i][c] * inv
			if f == 0 {
				continue
			}
			for k := c + 1; k < unknowns; k++ {
				j[i][k] -= f * j[c][k]
			}
			r[i] -= f * r[c]
		}
	}
	for i := unknowns - 1; i >= 0; i-- {
		for k := i + 1; k < unknowns; k++ {
			r[i] -= j[i][k] * r[k]
		}
		r[i] /= j[i][i]
	}
	return true
}

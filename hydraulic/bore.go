package hydraulic

import (
	"fmt"

	"wellwright/unit"
)

// Material is what a pipe is made of.
type Material int

// The pipe materials of a house.
const (
	CopperL    Material = iota // type L tube, ASTM B88 (bores from memory)
	PEX                        // CTS SDR 9, least bore, ASTM F876
	CPVC                       // CTS SDR 11
	PVC40                      // schedule 40, ASTM D1785
	Galvanised                 // schedule 40 steel
	CopperM                    // type M tube, ASTM B88 (bores from memory)
)

var materialNames = [...]string{"copper type L", "PEX", "CPVC", "PVC schedule 40", "galvanised steel", "copper type M"}

// String names the material.
func (m Material) String() string { return materialNames[m] }

// nominals are the sizes the tables below are laid out by, in.
var nominals = [...]float64{0.5, 0.625, 0.75, 1, 1.25, 1.5, 2}

// bores are inside diameters, in; zero where there is none or none is known.
var bores = [...][len(nominals)]float64{
	CopperL:    {0.545, 0.666, 0.785, 1.025, 1.265, 1.505, 1.985},
	PEX:        {0.475, 0.574, 0.671, 0.863, 1.054, 1.244, 0},
	CPVC:       {0.489, 0, 0.715, 0.921, 1.125, 1.329, 1.739},
	PVC40:      {0.622, 0, 0.824, 1.049, 1.380, 1.610, 2.067},
	Galvanised: {0.620, 0, 0.825, 1.049, 1.381, 1.612, 2.066},
	CopperM:    {0.569, 0, 0.811, 1.055, 1.291, 1.527, 2.009},
}

// smooth holds roughness, ft, and Hazen-Williams C when new. Roughness of
// plastic and steel, and C of plastic and galvanised: US EPA, EPANET 2.2 User
// Manual, 2020; of copper from memory, its C of 140 from published loss tables
// of tube.
var smooth = [...]struct{ feet, c float64 }{
	CopperL: {5e-6, 140}, CopperM: {5e-6, 140},
	PEX: {5e-6, 150}, CPVC: {5e-6, 150}, PVC40: {5e-6, 150},
	Galvanised: {5e-4, 120},
}

func sizeIndex(nominal unit.Length) int {
	for i, n := range nominals {
		if d := nominal.Inches() - n; d > -0.01 && d < 0.01 {
			return i
		}
	}
	return -1
}

// Bore returns the inside diameter of a nominal size; not ok if the size is not
// made or not known.
//
// Source: ASTM B88, F876, D2846, D1785 and A53 dimensions.
func (m Material) Bore(nominal unit.Length) (bore unit.Length, ok bool) {
	i := sizeIndex(nominal)
	if i < 0 || bores[m][i] == 0 {
		return unit.Length{}, false
	}
	return unit.Inches(bores[m][i]), true
}

// NewPipe returns a new, clean, straight pipe. Old galvanised pipe on iron
// water is another thing: its C falls to 60 to 100 (common practice).
func NewPipe(m Material, nominal, length unit.Length) (Pipe, error) {
	bore, ok := m.Bore(nominal)
	if !ok {
		return Pipe{}, fmt.Errorf("pipe: no %g in size of %s; sizes are ½ to 2 in", nominal.Inches(), m)
	}
	s := smooth[m]
	return Pipe{Bore: bore, Length: length, Roughness: unit.Ft(s.feet), C: s.c}, nil
}

// Contents returns the water that stands in the pipe.
//
//	V = A L
//
// Source: geometry.
func (p Pipe) Contents() unit.Volume {
	return unit.Gal(CasingVolumePerFoot(p.Bore).Gal() * p.Length.Ft())
}

// WithFittings returns the pipe with the equivalent length of some fittings
// added.
func (p Pipe) WithFittings(each unit.Length, count int) Pipe {
	p.Equivalent = unit.Ft(p.Equivalent.Ft() + each.Ft()*float64(count))
	return p
}

// Family is the make of a fitting.
type Family int

// The families of fittings.
const (
	Wrought Family = iota // wrought copper
	Cast                  // cast
	Moulded               // moulded or threaded iron-pipe-size
)

// Fitting is one kind of fitting or valve.
type Fitting int

// The fittings.
const (
	Ell90 Fitting = iota
	Ell45
	TeeRun
	TeeBranch
	GateValve
	GlobeValve
	CheckValve
)

// fittingSizes are the nominal sizes of the table below, in.
var fittingSizes = [...]float64{0.5, 0.75, 1, 1.25, 1.5, 2}

// equivalents are feet of the same pipe. Wrought and cast: Illinois Plumbing
// Code, 77 Ill. Adm. Code 890, table Q; moulded: a published table of
// equivalent lengths.
var equivalents = map[Family]map[Fitting][len(fittingSizes)]float64{
	Wrought: {
		Ell45: {0.5, 0.5, 1, 1, 2, 2}, Ell90: {0.5, 1, 1, 2, 2, 2},
		TeeRun: {0.5, 0.5, 0.5, 0.5, 1, 1}, TeeBranch: {1, 2, 3, 4, 5, 7},
		GlobeValve: {0, 0, 0, 53, 66, 90}, GateValve: {0, 0, 1, 1, 2, 2},
	},
	Cast: {
		Ell45: {0.5, 1, 2, 2, 3, 5}, Ell90: {1, 2, 4, 5, 8, 11},
		TeeRun: {0.5, 0.5, 0.5, 1.5, 1, 2}, TeeBranch: {2, 3, 5, 7, 9, 12},
		GlobeValve: {0, 0, 0, 53, 66, 90}, GateValve: {0, 0, 1, 1, 2, 2},
	},
	Moulded: {
		Ell90: {1.5, 2, 2.5, 3.8, 4, 5.7}, Ell45: {0.8, 1.1, 1.4, 1.8, 2.1, 2.6},
		TeeRun: {1, 1.4, 1.7, 2.3, 2.7, 4}, TeeBranch: {3.8, 4.9, 6, 7.3, 8.4, 12},
		CheckValve: {5.2, 6.9, 8.7, 11.5, 13.4, 17.2}, GlobeValve: {17.6, 23.3, 29.7, 39.1, 45.6, 58.6},
		GateValve: {0.4, 0.6, 0.7, 0.9, 1.1, 1.4},
	},
}

// EquivalentLength returns the length of pipe that loses as much as a fitting;
// not ok if the tables have none. A crimped PEX elbow takes 3 to 5 times the
// wrought value (common practice).
//
// Source: Illinois Plumbing Code, table Q, and a published table for moulded
// fittings.
func EquivalentLength(f Family, kind Fitting, nominal unit.Length) (l unit.Length, ok bool) {
	row, ok := equivalents[f][kind]
	if !ok {
		return unit.Length{}, false
	}
	for i, n := range fittingSizes {
		if d := nominal.Inches() - n; d > -0.01 && d < 0.01 && row[i] > 0 {
			return unit.Ft(row[i]), true
		}
	}
	return unit.Length{}, false
}

// lossK are loss coefficients of fittings: US EPA, EPANET 2.2 User Manual, 2020,
// minor losses (medium-radius ell).
var lossK = map[Fitting]float64{
	Ell90: 0.8, Ell45: 0.4, TeeRun: 0.6, TeeBranch: 1.8, GateValve: 0.2, GlobeValve: 10, CheckValve: 2.5,
}

// LossK returns the loss coefficient of a fitting.
//
//	dP = K rho v2 / 2
//
// Source: US EPA, EPANET 2.2 User Manual, 2020, minor losses.
func LossK(kind Fitting) float64 { return lossK[kind] }

// Caking is how an iron pipe fares with the water it carries.
type Caking int

// The degrees of caking.
const (
	NotCaking Caking = iota
	SlightlyCaking
	CakingModerately
	CakingBadly
)

// caking holds the share of new capacity that an aged ferrous pipe loses, by
// flow band.
var caking = []struct {
	upTo float64 // gpm
	lost [4]float64
}{
	{2.5, [4]float64{0.20, 0.40, 0.60, 0.80}},
	{5, [4]float64{0.20, 0.35, 0.55, 0.75}},
	{10, [4]float64{0.20, 0.30, 0.55, 0.65}},
	{18, [4]float64{0.20, 0.30, 0.50, 0.65}},
	{37, [4]float64{0.20, 0.30, 0.45, 0.60}},
	{56, [4]float64{0.20, 0.30, 0.40, 0.60}},
}

// AgedShare returns the share of its capacity when new that a ferrous pipe
// keeps with age, for a flow and a water.
//
// Range: to 56 gpm. Error: a planning allowance. Source: Hunter, 1941,
// NBS BMS 79, table 5 (reprint).
func AgedShare(q unit.Flow, c Caking) (float64, error) {
	for _, row := range caking {
		if q.GPM() <= row.upTo {
			return 1 - row.lost[c], nil
		}
	}
	return 0, &RangeError{"aged pipe", "flow", q.GPM(), 0, caking[len(caking)-1].upTo, "gpm"}
}

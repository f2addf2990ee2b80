package rehab

import (
	"errors"
	"fmt"
	"math"

	"wellwright/hydraulic"
	"wellwright/source"
	"wellwright/unit"
)

// Well is what shock disinfection must know of a well and its house. A nil
// pointer is not measured or not known.
type Well struct {
	Static, Depth unit.Length // from the top of the casing
	CasingBore    unit.Length // true inside diameter
	CasingDepth   unit.Length // zero: cased to the bottom
	HoleBore      unit.Length // of the open hole below the casing; zero: as the casing
	Pack          *Pack
	PumpFlow      *unit.Flow
	Yield         *unit.Flow
	Plumbing      Plumbing
	Water         Water
	State         State
}

// Pack is a gravel pack or open annulus that stands in touch with the well.
type Pack struct {
	Bore     unit.Length // of the drilled hole
	Length   unit.Length // of the pack below the water level
	Porosity float64
}

// Plumbing is the house side that the raw water touches. Without pipes and
// tank the house allowance stands in.
type Plumbing struct {
	Pipes  []hydraulic.Pipe
	Tank   *hydraulic.PressureTank
	CutOut unit.Pressure
	Heater unit.Volume // nameplate; zero: none or bypassed
	Other  unit.Volume // contact tank and the like that are disinfected with the rest
}

// Water is what was measured of the raw water.
type Water struct {
	Temperature *unit.Temperature
	PH          *unit.PH
	Alkalinity  *unit.Alkalinity
	Hardness    *unit.Hardness
	FerrousIron *unit.Concentration
	Manganese   *unit.Concentration
	Sulfide     *unit.Sulfide
	Ammonia     *unit.Nitrogen
	Arsenic     *unit.Concentration
	TOC         *unit.Concentration
}

// State is what is known of the condition and the kind of the well.
type State struct {
	Dug, Driven, Flowing, Shared bool
	SteelCasing                  bool
	ArsenicArea                  bool
	Pit                          bool // head or tank in a pit
	CapOrCasingDamaged           bool
	Flooded                      bool
	EColiTwice                   bool
	FailedAfterShock             bool // coliform again after a shock properly done
	BacteriaBackSoon             bool // slime back within three months
	OwnerUnsure                  bool
}

// HouseAllowance is the water of a house whose pipes were not measured.
var HouseAllowance = source.Factor{
	Name: "shock_house_allowance", What: "water in pressure tank and pipes of a house that was not measured",
	Unit: "gal", Value: 50, Low: 10, High: 60, Kind: source.CommonPractice, From: "rule of county sheets",
}

// AirOverWaterShare is how full an air-over-water tank may stand.
var AirOverWaterShare = source.Factor{
	Name: "shock_air_over_water_share", What: "part of an air-over-water tank that is water at cut-out",
	Value: 2.0 / 3, Low: 0.5, High: 0.67, Kind: source.CommonPractice, From: "rule of the trade",
}

// Volumes is the water to be treated, part by part.
type Volumes struct {
	Casing, OpenHole, Pack    unit.Volume
	Pipes, Tank, Heater, Rest unit.Volume
	Assumed                   bool // the house allowance stands for pipes and tank
}

// Well returns the water standing in the well and its pack.
func (v Volumes) Well() unit.Volume {
	return unit.Gal(v.Casing.Gal() + v.OpenHole.Gal() + v.Pack.Gal())
}

// House returns the water of the house side.
func (v Volumes) House() unit.Volume {
	return unit.Gal(v.Pipes.Gal() + v.Tank.Gal() + v.Heater.Gal() + v.Rest.Gal())
}

// Total returns well and house together.
func (v Volumes) Total() unit.Volume { return unit.Gal(v.Well().Gal() + v.House().Gal()) }

// Column returns the height of water standing in the well; zero if the level is
// below the bottom.
func (w Well) Column() unit.Length {
	return unit.Ft(math.Max(0, w.Depth.Ft()-w.Static.Ft()))
}

// RoundVolume returns the water in a length of round bore.
//
//	V = pi/4 d2 h   (0.0408 d2 h gal with d in inches, h in feet)
//
// Source: geometry.
func RoundVolume(bore, height unit.Length) unit.Volume {
	return unit.Gal(hydraulic.CasingVolumePerFoot(bore).Gal() * height.Ft())
}

// PackVolume returns the water in the pores of a pack around a casing.
//
//	V = pi/4 (db2 - dc2) h p
//
//	db, dc  bore of the drilled hole and of the casing;  p  porosity, 0.25 to 0.40
//
// Source: Kuo, Practical Design Calculations for Groundwater and Soil
// Remediation, example 2.23.
func PackVolume(casing unit.Length, p Pack) unit.Volume {
	ring := RoundVolume(p.Bore, p.Length).Gal() - RoundVolume(casing, p.Length).Gal()
	return unit.Gal(math.Max(0, ring) * p.Porosity)
}

// VolumesOf returns every volume that the treatment must reach.
//
// Error: 10 % where the true bore is known; a nominal 6 in is 6.065 in steel, a
// nominal 5 in 4.9 in plastic. Source: geometry; house rules common practice.
func VolumesOf(set source.Set, w Well) (Volumes, error) {
	if err := w.check(); err != nil {
		return Volumes{}, err
	}
	v := houseVolumes(set, w.Plumbing)
	cased := w.Depth.Ft()
	if w.CasingDepth.Ft() > 0 {
		cased = math.Min(cased, w.CasingDepth.Ft())
	}
	hole := w.HoleBore
	if hole.Ft() == 0 {
		hole = w.CasingBore
	}
	inCasing := math.Max(0, cased-w.Static.Ft())
	v.Casing = RoundVolume(w.CasingBore, unit.Ft(inCasing))
	v.OpenHole = RoundVolume(hole, unit.Ft(w.Column().Ft()-inCasing))
	if w.Pack != nil {
		v.Pack = PackVolume(w.CasingBore, *w.Pack)
	}
	return v, nil
}

func houseVolumes(set source.Set, p Plumbing) Volumes {
	v := Volumes{Heater: p.Heater, Rest: p.Other}
	if len(p.Pipes) == 0 && p.Tank == nil {
		v.Pipes, v.Assumed = unit.Gal(set.Of(HouseAllowance)), true
		return v
	}
	for _, pipe := range p.Pipes {
		v.Pipes = unit.Gal(v.Pipes.Gal() + pipe.Contents().Gal())
	}
	if p.Tank != nil {
		v.Tank = p.Tank.Water(p.CutOut)
		if p.Tank.AirOverWater {
			v.Tank = unit.Gal(set.Of(AirOverWaterShare) * p.Tank.Total.Gal())
		}
	}
	return v
}

// check returns everything about the well that cannot be.
func (w Well) check() error {
	var errs []error
	wrong := func(bad bool, format string, args ...any) {
		if bad {
			errs = append(errs, fmt.Errorf("shock: "+format, args...))
		}
	}
	wrong(!(w.CasingBore.Inches() >= 1 && w.CasingBore.Ft() <= 12), "casing bore %s must be 1 in to 12 ft", w.CasingBore)
	wrong(!(w.Depth.Ft() > 0 && w.Depth.Ft() <= 3000), "depth %s must be above zero and no more than 3000 ft", w.Depth)
	wrong(!(w.Static.Ft() >= 0) && !w.State.Flowing, "static level %s lies above the ground; say that the well flows", w.Static)
	wrong(w.Static.Ft() >= w.Depth.Ft(), "static level %s must be above the bottom at %s", w.Static, w.Depth)
	wrong(w.CasingDepth.Ft() < 0 || w.CasingDepth.Ft() > w.Depth.Ft(), "casing to %s must end above the bottom at %s", w.CasingDepth, w.Depth)
	if w.Pack != nil {
		wrong(!(w.Pack.Porosity > 0 && w.Pack.Porosity < 1), "pack porosity %g must be between 0 and 1; 0.25 to 0.40 is usual", w.Pack.Porosity)
		wrong(w.Pack.Bore.Ft() < w.CasingBore.Ft(), "drilled hole of %s must be wider than the casing of %s", w.Pack.Bore, w.CasingBore)
	}
	return errors.Join(errs...)
}

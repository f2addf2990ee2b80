// Package media holds what a treatment plant is made of, by generic name: the
// processes, the vessels, the media with their rates and limits, the envelopes of
// water each process can take, and the parts with their prices. It is data with
// sources; how a process acts on a water is worked out elsewhere.
package media

import (
	"fmt"
	"strings"
)

// Process is one unit process of treatment, by its fixed identifier.
type Process string

// The processes.
const (
	CartridgeFilter       Process = "cartridge-filter"
	SedimentFilter        Process = "sediment-filter"
	VentedAeration        Process = "vented-aeration"
	PressureAeration      Process = "pressure-aeration"
	AirInjectionFilter    Process = "air-injection-filter"
	GreensandFilter       Process = "greensand-filter"
	CoatedSandFilter      Process = "coated-sand-filter"
	LightweightFilter     Process = "lightweight-media-filter"
	ManganeseOreFilter    Process = "manganese-ore-filter"
	CopperZincFilter      Process = "copper-zinc-filter"
	ChlorineFeed          Process = "chlorine-feed"
	PermanganateFeed      Process = "permanganate-feed"
	PeroxideFeed          Process = "peroxide-feed"
	OzoneFeed             Process = "ozone-feed"
	CoagulantFeed         Process = "coagulant-feed"
	SodaAshFeed           Process = "soda-ash-feed"
	PolyphosphateFeed     Process = "polyphosphate-feed"
	ContactTank           Process = "contact-tank"
	Softener              Process = "softener"
	TanninExchanger       Process = "tannin-exchanger"
	NitrateExchanger      Process = "nitrate-exchanger"
	CarbonFilter          Process = "carbon-filter"
	CatalyticCarbonFilter Process = "catalytic-carbon-filter"
	CalciteBed            Process = "calcite-bed"
	MagnesiaBlendBed      Process = "magnesia-blend-bed"
	ArsenicAdsorber       Process = "arsenic-adsorber"
	Ultraviolet           Process = "ultraviolet"
	ReverseOsmosis        Process = "reverse-osmosis"
	RadonAeration         Process = "radon-aeration"
	StorageBooster        Process = "storage-booster"
	WellRehabilitation    Process = "well-rehabilitation"
	ShockDisinfection     Process = "shock-disinfection"
)

// processNames lists every process with the words printed for it and whether
// it is offered: its action worked out, and its place in a train known.
var processNames = [...]struct {
	process Process
	words   string
	built   bool
}{
	{CartridgeFilter, "cartridge or screen filter", true},
	{SedimentFilter, "backwashing sediment filter", true},
	{VentedAeration, "vented aeration", true},
	{PressureAeration, "pressure aeration", true},
	{AirInjectionFilter, "single-tank air-injection filter", true},
	{GreensandFilter, "manganese greensand filter", true},
	{CoatedSandFilter, "manganese-dioxide-coated sand filter", true},
	{LightweightFilter, "lightweight manganese-coated aluminosilicate filter", true},
	{ManganeseOreFilter, "solid manganese dioxide ore filter", true},
	{CopperZincFilter, "copper-zinc redox filter", true},
	{ChlorineFeed, "chlorine feed", true},
	{PermanganateFeed, "permanganate feed", true},
	{PeroxideFeed, "peroxide feed", true},
	{OzoneFeed, "ozone feed", true},
	{CoagulantFeed, "coagulant feed", true},
	{SodaAshFeed, "soda ash feed", true},
	{PolyphosphateFeed, "polyphosphate feed", true},
	{ContactTank, "contact tank", true},
	{Softener, "softener", true},
	{TanninExchanger, "tannin exchanger", true},
	{NitrateExchanger, "nitrate exchanger", true},
	{CarbonFilter, "carbon filter", true},
	{CatalyticCarbonFilter, "catalytic carbon filter", true},
	{CalciteBed, "calcite bed", true},
	{MagnesiaBlendBed, "calcite and magnesia bed", true},
	{ArsenicAdsorber, "arsenic adsorber", true},
	{Ultraviolet, "ultraviolet disinfection", true},
	{ReverseOsmosis, "kitchen reverse osmosis", true},
	{RadonAeration, "radon aeration", true},
	{StorageBooster, "storage tank and booster pump", true},
	{WellRehabilitation, "well rehabilitation", true},
	{ShockDisinfection, "shock disinfection", true},
}

// Processes returns every process, in the order of the handbook.
func Processes() []Process {
	all := make([]Process, len(processNames))
	for i, n := range processNames {
		all[i] = n.process
	}
	return all
}

// ParseProcess reads a process identifier. Case, blanks and underscores are
// forgiven; anything else is an error that names the nearest identifiers.
func ParseProcess(s string) (Process, error) {
	key := strings.NewReplacer(" ", "-", "_", "-").Replace(strings.ToLower(strings.TrimSpace(s)))
	names := make([]string, len(processNames))
	for i, n := range processNames {
		if key == string(n.process) {
			return n.process, nil
		}
		names[i] = string(n.process)
	}
	return "", fmt.Errorf("process %q is not known%s", s, suggest(key, names))
}

// Words returns the process as it is printed.
func (p Process) Words() string {
	for _, n := range processNames {
		if n.process == p {
			return n.words
		}
	}
	return string(p)
}

// Built reports whether the process is offered: its action on a water worked out and
// its place in a train known. One that is not may be named in a book, or asked for
// by name where its action is worked out, but is never offered.
func (p Process) Built() bool {
	for _, n := range processNames {
		if n.process == p {
			return n.built
		}
	}
	return false
}

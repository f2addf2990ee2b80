package rehab

import (
	"math"
	"time"

	"wellwright/source"
	"wellwright/unit"
)

// Purpose is why a well is shocked.
type Purpose int

// The purposes.
const (
	Coliform       Purpose = iota // a positive bacteria test
	AfterWork                     // pump or pipe was out of the well
	FloodedWell                   // flood water was over the head
	IronBacteria                  // slime; chemical only, before any mechanical cleaning
	SulfurBacteria                // smell
	AfterCleaning                 // iron bacteria, after brush and acid, by a contractor
	Upkeep                        // yearly dose of a well that had slime
	HouseOnly                     // heater and pipes
)

var purposeNames = [...]string{"coliform bacteria", "after work in the well", "flooded well", "iron bacteria",
	"sulfur bacteria", "iron bacteria after mechanical cleaning", "upkeep of a well that had slime", "house plumbing only"}

// String names the purpose.
func (p Purpose) String() string { return purposeNames[p] }

const agencySpread = "chosen within 50 (Alberta Health; San Bernardino County), 50-200 (Ontario Wells Regulation; University of Missouri), 100 at least (Maryland COMAR 26.04.04.24), 100-300 (Wisconsin DNR)"

// targets are residuals, not doses, mg/L as Cl2.
var targets = [...]source.Factor{
	Coliform: {Name: "shock_target_coliform", What: "chlorine in a well with coliform bacteria", Unit: "mg/L",
		Value: 100, Low: 50, High: 200, Kind: source.CommonPractice, From: agencySpread},
	AfterWork: {Name: "shock_target_after_work", What: "chlorine in a well after work on pump or pipe", Unit: "mg/L",
		Value: 100, Low: 50, High: 200, Kind: source.CommonPractice, From: agencySpread},
	FloodedWell: {Name: "shock_target_flooded", What: "chlorine in a flooded well", Unit: "mg/L",
		Value: 200, Low: 100, High: 250, Kind: source.CommonPractice, From: agencySpread},
	IronBacteria: {Name: "shock_target_iron_bacteria", What: "chlorine in a well with iron bacteria, no mechanical cleaning", Unit: "mg/L",
		Value: 200, Low: 200, High: 500, Kind: source.Published, From: "Alberta Agriculture, Water Wells That Last, module 6 (200)"},
	SulfurBacteria: {Name: "shock_target_sulfur_bacteria", What: "chlorine in a well with sulfate-reducing bacteria", Unit: "mg/L",
		Value: 200, Low: 200, High: 500, Kind: source.Published, From: "Alberta Agriculture, Water Wells That Last, module 6 (200)"},
	AfterCleaning: {Name: "shock_target_after_cleaning", What: "chlorine after mechanical cleaning, by a contractor", Unit: "mg/L",
		Value: 500, Low: 200, High: 1000, Kind: source.CommonPractice, From: "practice 200 to 500; 1000 printed for new wells in iron-bacteria country"},
	Upkeep: {Name: "shock_target_upkeep", What: "chlorine in the yearly dose of a well that had slime", Unit: "mg/L",
		Value: 200, Low: 200, High: 263, Kind: source.CommonPractice, From: "2 quarts of 5.25 % to 100 gal in a copied agency sheet is 263"},
	HouseOnly: {Name: "shock_target_house", What: "chlorine in heater and pipes", Unit: "mg/L",
		Value: 50, Low: 50, High: 100, Kind: source.CommonPractice, From: "rule of county sheets"},
}

// Factor returns the target of the purpose with its range and source.
func (p Purpose) Factor() source.Factor { return targets[p] }

// Target returns the residual to hold for a purpose.
func (p Purpose) Target(set source.Set) unit.Chlorine {
	return unit.MgPerLAsCl2(set.Of(targets[p]))
}

// Limits of strength and contact.
var (
	MostChlorine = source.Factor{Name: "shock_most_chlorine", What: "chlorine never to be passed in a well",
		Unit: "mg/L", Value: 1000, Kind: source.Published, From: "highest row of Mich. Admin. Code R 325.1661, table 5"}
	HarmChlorine = source.Factor{Name: "shock_harm_chlorine", What: "chlorine above which pump, rubber, wire and old steel suffer",
		Unit: "mg/L", Value: 200, Kind: source.CommonPractice, From: "rule of the trade"}
	ArsenicChlorine = source.Factor{Name: "shock_arsenic_chlorine", What: "most chlorine where the rock holds arsenic",
		Unit: "mg/L", Value: 100, Kind: source.CommonPractice, From: "after the Wisconsin DNR studies of 2000 and 2007"}
	ContactProduct = source.Factor{Name: "shock_contact_product", What: "chlorine times hours of contact in a well",
		Unit: "mg h/L", Value: 1000, Kind: source.Published, From: "Mich. Admin. Code R 325.1661, table 5: 100 for 10 h to 1000 for 1 h"}
	CryptoProduct = source.Factor{Name: "shock_crypto_product", What: "chlorine times hours against Cryptosporidium, 3 log",
		Unit: "mg h/L", Value: 255, Kind: source.Published, From: "Sci. Total Environ. 720:137451, 2020, abstract"}
	LeastHours = source.Factor{Name: "shock_least_hours", What: "least standing time",
		Unit: "h", Value: 12, Low: 8, High: 12, Kind: source.Published, From: "Ontario, Water supply wells, ch. 8 (12 h undisturbed)"}
	MostHours = source.Factor{Name: "shock_most_hours", What: "longest standing time for rubber and metal",
		Unit: "h", Value: 24, Kind: source.CommonPractice, From: "rule of the trade"}
	MostPoured = source.Factor{Name: "shock_most_poured", What: "strongest solution poured into a well",
		Unit: "mg/L", Value: 500, Kind: source.Published, From: "Maryland COMAR 26.04.04.24"}
)

// Contact is how long chlorinated water stands.
type Contact struct {
	ByRule time.Duration // ContactProduct over the residual
	Stand  time.Duration // what to plan: the rule, no less than LeastHours, no more than MostHours
	Crypto bool          // Stand reaches the product for Cryptosporidium
}

// ContactTime returns the hours that chlorinated water must stand.
//
//	t = P / C,  held between the least and the most hours
//
//	P  1000 mg h/L;  C  residual
//
// Range: 50 to 1000 mg/L in clear water; slime and rust shelter what lives in
// them whatever the product. Source: Mich. Admin. Code R 325.1661, table 5.
func ContactTime(set source.Set, c unit.Chlorine) Contact {
	mg := c.MgPerLAsCl2()
	if mg <= 0 {
		return Contact{}
	}
	rule := set.Of(ContactProduct) / mg
	stand := math.Min(set.Of(MostHours), math.Max(set.Of(LeastHours), rule))
	return Contact{ByRule: hours(rule), Stand: hours(stand), Crypto: ReachesCrypto(set, c, hours(stand))}
}

// ReachesCrypto reports whether a residual held for a time reaches the product
// for 3 log of Cryptosporidium; on the limit it does.
//
// Source: Sci. Total Environ. 720:137451, 2020.
func ReachesCrypto(set source.Set, c unit.Chlorine, d time.Duration) bool {
	return c.MgPerLAsCl2()*d.Hours() >= set.Of(CryptoProduct)*(1-1e-9)
}

func hours(h float64) time.Duration { return time.Duration(h * float64(time.Hour)) }

package cost

import "wellwright/source"

// The factors of this room.
var (
	// DiscountRate is the real discount rate.
	DiscountRate = source.Factor{
		Name: "cost_discount_rate", What: "real discount rate", Unit: "share a year",
		Value: 0.03, Low: 0.01, High: 0.06, Kind: source.FromMemory,
		From: "real rate long used for US federal life-cycle costing, NIST Handbook 135 annual supplements (from memory)",
	}
	// Escalation is how fast prices rise beyond inflation.
	Escalation = source.Factor{
		Name: "cost_escalation", What: "rise of prices beyond inflation", Unit: "share a year",
		Value: 0, Low: -0.01, High: 0.02, Kind: source.Judgement,
		From: "our judgement: parts and labour rise with inflation",
	}
	// Horizon is the number of years added up.
	Horizon = source.Factor{
		Name: "cost_years", What: "years over which the cost is added up", Unit: "years",
		Value: 10, Low: 5, High: 20, Kind: source.CommonPractice,
		From: "common practice: about the life of a household valve and vessel",
	}
)

// Factors returns every factor of this room.
func Factors() []source.Factor { return []source.Factor{DiscountRate, Escalation, Horizon} }

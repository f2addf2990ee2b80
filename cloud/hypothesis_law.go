package cloud

import "wellwright/source"

// What a fault does to a result, where it is at work: shares read, and losses and
// spreads of natural logarithms.
var (
	hoseSpread   = faultLaw("hose_spread", "spread of the rust that a corroded tap adds", 0.8)
	stoodLoss    = faultLaw("stood_loss", "dissolved iron lost in a first draw that stood overnight", 0.5)
	stoodSpread  = faultLaw("stood_spread", "spread of that loss", 0.5)
	lateLoss     = faultLaw("late_loss", "dissolved iron lost in a bottle filtered late", 1.5)
	lateSpread   = faultLaw("late_spread", "spread of that loss", 1)
	resinRust    = faultLaw("softened_rust", "share of rust that a softener lets through", 0.7)
	resinBound   = faultLaw("softened_bound", "share of bound iron that a softener lets through", 0.8)
	resinFerrous = faultLaw("softened_ferrous", "share of ferrous iron that a softener lets through", 0.1)
	resinSpread  = faultLaw("softened_spread", "spread of what a softener lets through", 0.5)
	colourBound  = faultLaw("colour_bound", "share of bound iron that a ferrous kit reads where it was read late or in colour", 0.7)
	colourCarbon = faultLaw("colour_carbon", "iron that a ferrous kit reads for each mg of coloured organic carbon, mg/mg", 0.05)
	colourSpread = faultLaw("colour_spread", "spread of a ferrous kit in colour", 0.3)
	kitBound     = faultLaw("kit_bound", "share of bound iron that a kit for total iron reads without digestion", 0.8)
	kitRust      = faultLaw("kit_rust_read", "share of rust that a kit for total iron reads without digestion", 0.3)
	kitSpread    = faultLaw("kit_spread", "spread of a kit without digestion", 0.25)
	tankThrough  = faultLaw("tank_through", "share of the iron of the tap that was dissolved ahead of an air-over-water tank", 0.9)
	tankSpread   = faultLaw("tank_spread", "spread of that share", 0.3)
	airSpread    = faultLaw("air_spread", "spread of an oxygen reading that air got into", 2)
	saltSpread   = faultLaw("salt_spread", "error of salts or conductivity that something else is wrong with", 0.4)
)

func faultLaw(name, what string, v float64) source.Factor {
	high := 2 * v
	if v < 1 { // no share is more than the whole
		high = min(high, 1)
	}
	return source.Factor{Name: "cloud_law_" + name, What: what, Value: v, Low: v / 2, High: high,
		Kind: source.Judgement, From: "no published figure is known; ranking of what is met on site"}
}

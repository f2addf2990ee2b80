package hydraulic

import (
	"slices"

	"wellwright/formula"
	"wellwright/source"
)

func stackFormulas() []formula.Formula {
	return []formula.Formula{sameSettlingFormula(), twoMediaFormula()}
}

func sameSettlingFormula() formula.Formula {
	d := formula.Grain.Takes("size", "d1", "grain size").Between("0.2 mm", "2 mm")
	g, o := formula.Ratio.Takes("gravity", "s1", "specific gravity of that grain").Between("1.01", "8"), formula.Ratio.Takes("other_gravity", "s2", "specific gravity of the other medium").Between("1.01", "8")
	const sizing = "Tchobanoglous, Burton and Stensel, 2003, Wastewater Engineering, sizes for 0.55 mm sand (from memory)"
	return formula.Formula{
		Name: "same_settling_size", Subject: onBeds, What: "size of grain of another medium that settles as fast, for pairing two layers",
		Inputs: formula.Inputs(d, g, o), Equation: "d1/d2 = ((s2 - 1)/(s1 - 1))^0.667", Range: "transitional Reynolds numbers", Error: "10 to 20 %, more between shapes far apart",
		Source: "Tchobanoglous, Burton and Stensel, 2003, Wastewater Engineering (from memory)", Kind: source.FromMemory,
		Examples: formula.By(formula.On("size=0.55 mm", "gravity=2.65", "other_gravity=1.7").Is("size", "0.97 mm", "0.01 mm", sizing), formula.On("size=0.55 mm", "gravity=2.65", "other_gravity=4.2").Is("size", "0.35 mm", "0.01 mm", sizing)),
		Run: func(a formula.Args) (formula.Outcome, error) {
			return formula.Give(formula.Grain.Gives("size", "d2", "of the other medium", SameSettling(d.Of(a), g.Of(a), o.Of(a)))), nil
		},
	}
}

func twoMediaFormula() formula.Formula {
	up, low := grainOf("upper_", ", upper medium"), grainOf("lower_", ", lower medium")
	depth := formula.Bore.Takes("upper_depth", "", "settled depth of the upper medium").Between("1 in", "120 in")
	under := formula.Bore.Takes("lower_depth", "", "settled depth of the lower medium").Between("1 in", "120 in")
	v, t := loadingIn("flow through each square foot, rising in a wash"), temperatureIn()
	return formula.Formula{
		Name: "two_media_wash", Subject: onBeds, What: "how two media lift together, what they lose, and whether they stay apart",
		Inputs: slices.Concat(formula.Inputs(v, t, depth, under), up.inputs(), low.inputs()), Equation: "each bed as bed_expansion;  loss = least of the settled bed's and its weight in water;  bulk = e ρ + (1-e) ρs",
		Range: "media that stay apart", Error: "that of bed_expansion; sizes 10 %, bulk 3 %", Source: "Ergun's equation bed by bed; mixtures by the bulk density model, Cleasby and Woods, 1975 (from memory)", Kind: source.FromMemory,
		Examples: formula.By(formula.On("loading=20 gpm/ft2", "temperature=10 C", "upper_depth=18 in", "lower_depth=12 in", "upper_d10=0.9 mm", "upper_d60=1.26 mm", "upper_gravity=1.65", "upper_porosity=50 %", "upper_kv=228", "upper_ki=4.4",
			"lower_d10=0.5 mm", "lower_d60=0.7 mm", "lower_gravity=2.65", "lower_kv=112", "lower_ki=2.25").
			Is("loss", "0.6265 psi", "0.001 psi", "force balance by hand: (0.4572 · 0.5 · 650.3 + 0.3048 · 0.58 · 1650.3) kg/m2").Is("turns_over", "no", "", "fact of the trade: coal stays over sand")),
		Run: func(a formula.Args) (formula.Outcome, error) {
			s := Stack{{up.of(a), depth.Of(a)}, {low.of(a), under.Of(a)}}
			_, all := s.Wash(v.Of(a), t.Of(a))
			b := s.Boundaries(v.Of(a), t.Of(a))[0]
			return formula.Give(formula.Share.Gives("expansion", "E", "of both, of the settled depth", all.Expansion), formula.Bore.Gives("depth", "", "of both as expanded", all.Depth),
				formula.Pressure.Gives("loss", "dP", "through both in this wash", all.Loss), formula.Pressure.Gives("service_loss", "", "at the same flow downward, clean and settled", s.HeadLoss(v.Of(a), t.Of(a))),
				formula.Yes.Gives("blend", "", "coarse grains of the upper settle faster than the fine of the lower", b.Overlap), formula.Yes.Gives("turns_over", "", "the upper is the heavier mixture and sinks", b.Sinks),
				formula.Grain.Gives("match", "", "size of upper grain that settles as the fine of the lower", b.Match)), nil
		},
	}
}

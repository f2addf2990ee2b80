package main

import (
	"fmt"
	"strconv"
	"strings"
)

var sources = []citation{
	{published, "Ohio Environmental Protection Agency, Ambient Ground Water Quality Monitoring Program: raw, unfiltered water of public-supply and industrial wells to 2013 (public record; half of the wells)"},
	{published, "US Geological Survey, Water Quality Portal: wells and springs of the upper Potomac basin, hydrologic unit 02070004, 2020 to 2023 (public domain; half of the sites)"},
	{published, "British Geological Survey and DPHE 2001, Arsenic contamination of groundwater in Bangladesh, Technical Report WC/00/19: the correlations of silica, no level"},
	{"from memory", "McMahon and Chapelle 2008, Ground Water 46:259: thresholds of the redox classes"},
	{judgement, "moments marked so, the acid class, the widening of the spreads, the drawing together of the classes and the share of acid wells: our own estimates"},
}

// tail is the standard normal deviate of the 5 and 95 % points.
const tail = 1.645

// page writes the page about the prior.
func (m *made) page() []byte {
	var b strings.Builder
	b.WriteString(opening)
	m.shares(&b)
	for c := range classes {
		m.table(&b, c)
	}
	m.making(&b)
	b.WriteString(closing)
	for _, s := range sources {
		fmt.Fprintf(&b, "- %s: %s.\n", s.Kind, s.Say)
	}
	return []byte(b.String())
}

const opening = `# The prior: raw household-well waters before anything is measured

` + "`cloud/prior.json`" + ` holds, for each redox class of raw water, a normal law of 20 coordinates: the natural logarithm of each
amount, temperature and pH as they are. What a report does not say of a well is drawn from it, together with what it does say:
a hard water has its alkalinity, an iron water its ammonia. This page and that file are made by one program,
` + "`make prior`" + `; do not edit them by hand. Rows of the data, and anything that tells a well, are nowhere in the repository.

## Classes

Share is that of all wells, called that of wells whose owner calls about orange, brown, black or smell. Wells are counted in
parts: a well whose sheets fall in two classes counts in both by the share of its sheets, and "touched" counts it in each.

`

func (m *made) shares(b *strings.Builder) {
	b.WriteString("| class | what | sheets | wells | touched | share of wells in the files | share | chance of a call | called |\n| --- | --- | --- | --- | --- | --- | --- | --- | --- |\n")
	for c, l := range m.prior.Classes {
		fmt.Fprintf(b, "| %s | %s | %d | %.1f | %d | %.3f | %.3f | %.2f | %.3f |\n", l.ID, l.Say, m.sheets[c], m.wells[c], l.Wells,
			m.fitted[c], l.Share, m.call[c], l.Called)
	}
	fmt.Fprintf(b, `
- Share: by wells, then the acid class is set to %.2f of all (judgement) and the others cut in proportion. The files come from
  limestone, sandstone and glacial drift and hold no acid water at all.
- Chance of a call: that a water of the class has iron above %g, manganese above %g (both US secondary limits) or sulfide above
  %g mg/L (about where it is smelt), from %d draws. Called = share × chance, brought to one. Kind: derived, from a judgement of what makes people call.
`, acidShare, callIron, callManganese, callSulfide, callDraws)
}

func (m *made) table(b *strings.Builder, c class) {
	l := m.prior.Classes[c]
	fmt.Fprintf(b, "\n## %s: %s\n\nmg/L but for temperature and pH. Condition number of the correlations: %.0f.\n\n", strings.ToUpper(l.ID[:1])+l.ID[1:], l.Say, condition(l.matrix()))
	b.WriteString("| coordinate | median | 5 to 95 % | kind | wells with a detection, of those looked |\n| --- | --- | --- | --- | --- |\n")
	for i, co := range coordinates {
		low, mid, high := co.off(l.Mean[i]-tail*l.SD[i]), co.off(l.Mean[i]), co.off(l.Mean[i]+tail*l.SD[i])
		fmt.Fprintf(b, "| %s | %s | %s to %s | %s | %s |\n", co.label, two(mid), two(low), two(high), l.Kind[i],
			wellsOf(m.counts[c][i]))
	}
}

func wellsOf(n [2]float64) string {
	if n[1] == 0 {
		return "none"
	}
	return fmt.Sprintf("%.1f of %.1f", n[0], n[1])
}

// two writes a figure with two digits, or whole.
func two(v float64) string {
	if v >= 10 {
		return fmt.Sprintf("%.0f", v)
	}
	short, err := strconv.ParseFloat(fmt.Sprintf("%.2g", v), 64)
	if err != nil {
		return fmt.Sprint(v)
	}
	return strconv.FormatFloat(short, 'f', -1, 64)
}

func (m *made) making(b *strings.Builder) {
	fmt.Fprintf(b, `
## How it is made

1. Read: %d sheets of the files of Ohio and the Potomac; left out: %d duplicates, %d with a whole ion balance worse than %d %%,
   rejected ones, and %d without iron or manganese figures fit to put them in a class. %d used. A sheet weighs one over the number of its
   well's sheets, so that long histories do not rule. Laboratory and site readings of one visit are one water; site pH goes first.
   Total metals where there are any (all of Ohio), else dissolved. Nitrate stands for nitrate with nitrite, phosphate for total
   phosphorus in Ohio.
2. Class, by the thresholds of McMahon and Chapelle 2008 (from memory): oxygen %g, nitrate %g as N, manganese %g, iron %g, sulfate %g mg/L.
   Acid: pH below %g and alkalinity below %d. Rotten egg, noted at a well at least as often as "no odor", makes it sulfidic unless oxygen or
   nitrate is there. Iron or manganese with oxygen or nitrate is mixed; so is manganese alone. Without oxygen, nitrate, iron
   and manganese a redox reading of %d mV or more makes it oxic, else mixed (judgement: the electrode is not said).
   Iron here is unfiltered, so rust from a casing can put an oxic well among the mixed.
3. Fit: the %d coordinates that nearly every sheet holds are fitted together by expectation-maximisation for a normal law with missing values and
   values below a limit; the moments under the limits by expectation propagation, exact for one limit. First one covariance for all classes,
   drawn to its own diagonal as by %d wells; then each class's own, drawn to that one as by %d wells.
4. The means that the rock sets (temperature, pH, the major ions, fluoride) are drawn to those of all wells as by %d wells (judgement): nine smelly
   wells of one limestone are not the smelly wells of everywhere.
5. Silica and oxygen, which only the Potomac holds, are fitted by themselves where %d wells or more have them. Oxygen and sulfide are not correlated with
   anything within a class (judgement). Silica takes its correlations from its slopes on %d other coordinates in %d iron-bearing wells of the survey of Bangladesh (they tell %.0f %% of it there), no level of it.
6. A moment stands as published if %d wells or more have a detection and these are %.0f %% or more of the wells looked at; else it is judged.
7. Widened: standard deviations of logarithms ×%g (judgement; public supplies of one State are narrower than household wells everywhere), then
   kept above %g for the ions and most others, %g for alkalinity, calcium and magnesium, %g for nitrate, ammonia, iron, manganese, arsenic and
   sulfide, %g for pH and %g °C. Oxygen is not widened.
8. Every correlation is loosened by %.0f %% or more until the condition number is below %g, and rounded; a test finds it positive definite after that.

`, m.n.read, m.n.duplicate, m.n.unbalanced, worstBalance, m.n.undecided, m.n.used,
		boundOxygen, boundNitrate, boundManganese, boundIron, boundSulfate, boundAcidPH, boundAcidAlk, boundORP,
		len(joint), priorWells, priorWells, meanWells, leastAlone, len(borrowed), m.survey, 100*m.told, leastWells, 100*leastDetected,
		widen, floorMajor, floorHard, floorRedox, floorPH, floorWarm, 100*leastLoosen, worstCond)
}

const closing = `## What it is not

- Public-supply wells of Ohio and springs and monitoring wells of the Potomac are not household wells: they are deeper, pumped harder,
  better cased, and sited where the water was good. Nothing here has been checked against a survey of household wells. What is checked
  (held_test.go beside the program): fitted on half of the wells, the ranges of ten coordinates of the reduced class hold nine in ten of the other
  half, by themselves and given the rest of the sheet.
- Medians of alkalinity, calcium and magnesium are those of limestone and drift. Granite, gneiss, schist and coastal sand give softer water; the acid
  class, the widened spreads and, first of all, a measurement must carry that.
- The law has no upper end: oxygen above saturation and minerals above their solubility are for the reader of the file to cut off, and
  neutrality is for him to restore.
- The sulfidic class rests on nine wells, the acid class on none. Sulfate was looked for only down to some milligrams a litre, so that methanic
  waters without a smell are among the reduced.
- Where most wells are below the limit (iron and manganese of the oxic, arsenic, phosphate) the median is the tail of a normal law
  read backwards, and its lower end means no more than "very little".
- Sulfide, where there is a figure, is a guess from what is smelt. No open set in hand has it.
- Half of the wells of Ohio and of the Potomac were not looked at, so that forecasts can be tried on them.

## Sources

`

package statistic

import "wellwright/source"

// The numbers a user may want to change.
var (
	confidence = source.Factor{Name: "statistic_confidence", What: "confidence of intervals", Value: 0.95, Low: 0.8, High: 0.99,
		Kind: source.CommonPractice, From: "usual in water and wastewater reports"}
	plottingConstant = source.Factor{Name: "statistic_plotting_constant", What: "constant a of the plotting positions for non-detects", Value: 0, Low: 0, High: 0.375,
		Kind: source.FromMemory, From: "Helsel and Cohn 1988, and US EPA Unified Guidance 2009: 0; Blom: 0.375"}
	ewmaLambda = source.Factor{Name: "statistic_ewma_lambda", What: "weight of the newest value in the moving average chart", Value: 0.2, Low: 0.05, High: 0.25,
		Kind: source.FromMemory, From: "Lucas and Saccucci 1990"}
	ewmaWidth = source.Factor{Name: "statistic_ewma_width", What: "limits of the moving average chart in standard deviations", Value: 2.962, Low: 2.615, High: 3,
		Kind: source.FromMemory, From: "Lucas and Saccucci 1990, for lambda 0.2: one false alarm in 500"}
	cusumSlack = source.Factor{Name: "statistic_cusum_slack", What: "slack k of the cumulative sum in standard deviations", Value: 0.5, Low: 0.25, High: 1,
		Kind: source.FromMemory, From: "Montgomery, Introduction to Statistical Quality Control: half the shift to be found"}
	cusumLimit = source.Factor{Name: "statistic_cusum_limit", What: "decision limit h of the cumulative sum in standard deviations", Value: 5, Low: 4, High: 5,
		Kind: source.FromMemory, From: "Montgomery, Introduction to Statistical Quality Control"}
	combinedSlack = source.Factor{Name: "statistic_combined_slack", What: "slack k of the combined chart in standard deviations", Value: 1, Low: 0.5, High: 1,
		Kind: source.FromMemory, From: "US EPA Unified Guidance 2009, chapter 20"}
	combinedLimit = source.Factor{Name: "statistic_combined_limit", What: "cumulative limit h of the combined chart in standard deviations", Value: 5, Low: 4, High: 5,
		Kind: source.FromMemory, From: "US EPA Unified Guidance 2009, chapter 20"}
	combinedSingle = source.Factor{Name: "statistic_combined_single", What: "limit for a single value in the combined chart in standard deviations", Value: 4.5, Low: 4, High: 4.5,
		Kind: source.FromMemory, From: "US EPA Unified Guidance 2009, chapter 20"}
	combinedBaseline = source.Factor{Name: "statistic_combined_baseline", What: "least number of baseline samples for the combined chart", Value: 8,
		Kind: source.FromMemory, From: "US EPA Unified Guidance 2009, chapter 20"}
	kmShare = source.Factor{Name: "statistic_kaplan_meier_share", What: "share of non-detects from which Kaplan-Meier gives way to regression on order statistics", Value: 0.5, Low: 0.5, High: 0.7,
		Kind: source.FromMemory, From: "Helsel, Statistics for Censored Environmental Data, 2012"}
	rosShare = source.Factor{Name: "statistic_ros_share", What: "share of non-detects above which no mean is given", Value: 0.8, Low: 0.7, High: 0.8,
		Kind: source.FromMemory, From: "Helsel, Statistics for Censored Environmental Data, 2012"}
	fitLow = source.Factor{Name: "statistic_breakthrough_fit_low", What: "least C/C0 in the straight-line fit of a breakthrough", Value: 0.05, Low: 0, High: 0.1,
		Kind: source.CommonPractice, From: "column studies; nearer 0 and 1 the logit is mostly error"}
	fitHigh = source.Factor{Name: "statistic_breakthrough_fit_high", What: "greatest C/C0 in the straight-line fit of a breakthrough", Value: 0.95, Low: 0.9, High: 1,
		Kind: source.CommonPractice, From: "column studies; nearer 0 and 1 the logit is mostly error"}
)

// Factors lists the numbers of this package that a user may replace.
func Factors() []source.Factor {
	return []source.Factor{confidence, plottingConstant, ewmaLambda, ewmaWidth, cusumSlack, cusumLimit,
		combinedSlack, combinedLimit, combinedSingle, combinedBaseline, kmShare, rosShare, fitLow, fitHigh}
}

// Confidence returns the confidence of intervals in a set.
func Confidence(set source.Set) float64 { return set.Of(confidence) }

// PlottingConstant returns the constant a of the plotting positions in a set.
func PlottingConstant(set source.Set) float64 { return set.Of(plottingConstant) }

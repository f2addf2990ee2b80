package chem

import "wellwright/source"

type rates struct{ breakpoint, organics span }

func ratesOf(source.Set) rates     { return rates{} }
func rateFactors() []source.Factor { return nil }

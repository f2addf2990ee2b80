package stage

// processes is every process that is built: feeds and tanks first, then beds and
// polishers.
var processes = []Process{
	ventedAeration{},
	pressureAeration{},
	storageBooster{},
	chlorineFeed{},
	permanganateFeed{},
	peroxideFeed{},
	sodaAshFeed{},
	polyphosphateFeed{},
	contactTank{},
	neutraliser{blend: false},
	neutraliser{blend: true},
	cartridgeFilter{},
	sedimentFilter{},
	airInjectionFilter{},
	greensandFilter{},
	coatedSandFilter{},
	lightweightFilter{},
	oreFilter{},
	copperZincFilter{},
	softener{},
	carbonFilter{},
	catalyticCarbonFilter{},
	ultraviolet{},
	reverseOsmosis{},
	nitrateExchanger{},
	tanninExchanger{},
	arsenicAdsorber{},
	radonAeration{},
}

package media

import "testing"

// Of what stands in a cellar the vessel, valve and pump stay; what is in them is
// bought anew.
func TestHousings(t *testing.T) {
	for _, p := range []Part{"vessel 10 x 54", TimerValve, FeedPump, "contact tank 120 gal", "pressure tank 44 gal", "storage tank 500 gal", BoosterPump, BrineTank, Connections, UltravioletUnit} {
		if !p.Housing() {
			t.Errorf("%s is no housing", p)
		}
	}
	for _, p := range []Part{ResinFt3, SaltLb, HypochloriteGal, PeroxideGal, BleachGal, WellAcidGal, LabourHour, Visit, TestIron, UltravioletLamp, LargeElement, OsmosisMembrane, PullPump, NewWellFt} {
		if p.Housing() {
			t.Errorf("%s is a housing", p)
		}
	}
}

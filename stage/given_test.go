package stage_test

import (
	"strings"
	"testing"

	"wellwright/media"
	"wellwright/stage"
)

// What is given is had or refused with what would be right; another vessel comes
// with its usual fill, and the salt goes with the resin (definition: a dose in
// pounds to the cubic foot).
func TestGivenIsChecked(t *testing.T) {
	for _, x := range []struct {
		process media.Process
		given   stage.Given
		say     string // "": it is taken
	}{
		{media.Softener, stage.Given{stage.SaltLb: 9, stage.MediaFt3: 1.5}, ""},
		{media.Softener, stage.Given{stage.SaltLb: 0}, "outside 1 to 300"},
		{media.CoatedSandFilter, stage.Given{stage.VesselDiameterIn: 10, stage.VesselHeightIn: 44}, ""},
		{media.CoatedSandFilter, stage.Given{stage.VesselDiameterIn: 10, stage.VesselHeightIn: 65}, "10 x 44 or 10 x 54"},
		{media.CoatedSandFilter, stage.Given{stage.VesselDiameterIn: 9.5}, "9, 10"},
		{media.ContactTank, stage.Given{stage.VolumeGal: 100}, "80"},
		{media.ChlorineFeed, stage.Given{stage.DoseMgL: 4}, ""},
		{media.ChlorineFeed, stage.Given{stage.VolumeGal: 30}, "dose_mg_l"},
		{media.ReverseOsmosis, stage.Given{stage.VolumeGal: 3}, "one size only"},
	} {
		bad := x.given.Check(x.process)
		if x.say == "" && len(bad) > 0 || x.say != "" && (len(bad) != 1 || !strings.Contains(bad[0].Error(), x.say)) {
			t.Errorf("%s %v: %v, want it to say %q", x.process, x.given, bad, x.say)
		}
	}
}

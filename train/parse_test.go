package train

import (
	"strings"
	"testing"

	"wellwright/media"
)

// A train is read in the ways people write one; every wrong word is told.
func TestParse(t *testing.T) {
	want := Train{media.AirInjectionFilter, media.Softener}
	for _, text := range []string{"air-injection-filter,softener", "air-injection-filter -> softener", "air-injection-filter + softener", " air-injection-filter → softener "} {
		if got, err := Parse(text); err != nil || got.String() != want.String() {
			t.Errorf("%q is read as %v (%v), want %v", text, got, err, want)
		}
	}
	_, err := Parse("softner, magic-box")
	if err == nil || !strings.Contains(err.Error(), "softner") || !strings.Contains(err.Error(), "magic-box") {
		t.Errorf("two wrong words are told as %v", err)
	}
	if _, err := Parse(" , "); err == nil {
		t.Error("nothing is read as a train")
	}
}

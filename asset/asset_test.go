package asset_test

import (
	"bytes"
	"io/fs"
	"testing"

	"wellwright/asset"
)

// The tests are run by make, which fetches the files first.
func TestNothingIsMissing(t *testing.T) {
	if m := asset.Missing(); len(m) > 0 {
		t.Fatalf("built without %v: run make assets", m)
	}
}

// A TrueType file begins with the version 0x00010000 (OpenType specification, "Table Directory").
func TestFontsAreTrueType(t *testing.T) {
	for _, s := range []asset.Style{asset.Regular, asset.Bold, asset.Italic} {
		ttf, ok := asset.Font(s)
		if !ok || !bytes.HasPrefix(ttf, []byte{0, 1, 0, 0}) {
			t.Errorf("%s is no TrueType file", s)
		}
	}
}

// What is handed on is handed on with its licence.
func TestEveryFileHasItsLicence(t *testing.T) {
	for _, name := range []string{"htmx/LICENSE", "sse/LICENSE", "font/LICENSE.md"} {
		if text, err := fs.ReadFile(asset.Files(), name); err != nil || len(text) < 200 {
			t.Errorf("%s: %v", name, err)
		}
	}
}

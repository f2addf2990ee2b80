package canvas_test

import (
	"testing"

	"golang.org/x/image/font"
	"golang.org/x/image/font/sfnt"
	"golang.org/x/image/math/fixed"

	"wellwright/asset"
	"wellwright/canvas"
)

// No text is wider in the typeface of papers than it was reckoned: every sign that
// a drawing writes, and whole words, against the font's own advances.
func TestWidthsHoldTheRealFont(t *testing.T) {
	for _, tt := range []struct {
		style asset.Style
		bold  bool
	}{{asset.Regular, false}, {asset.Bold, true}} {
		ttf, ok := asset.Font(tt.style)
		if !ok {
			t.Skip("built without fonts: run make assets")
		}
		f, err := sfnt.Parse(ttf)
		if err != nil {
			t.Fatal(err)
		}
		l := canvas.Lettering{Size: 1000, Bold: tt.bold}
		signs := "·–°µ²³…≤≥×±½"
		for r := ' '; r <= '~'; r++ {
			signs += string(r)
		}
		for _, r := range signs {
			if real, reckoned := advance(t, f, r), l.Width(string(r)); real > reckoned+0.5 {
				t.Errorf("%q is %g wide in %s, reckoned %g", r, real, tt.style, reckoned)
			}
		}
	}
}

// advance is how wide a sign is at a size of 1000.
func advance(t *testing.T, f *sfnt.Font, r rune) float64 {
	t.Helper()
	var b sfnt.Buffer
	i, err := f.GlyphIndex(&b, r)
	if err != nil || i == 0 {
		t.Errorf("the font has no %q (%v)", r, err)
		return 0
	}
	w, err := f.GlyphAdvance(&b, i, fixed.I(1000), font.HintingNone)
	if err != nil {
		t.Fatal(err)
	}
	return float64(w) / 64
}

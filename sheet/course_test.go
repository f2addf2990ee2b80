package sheet_test

import (
	"encoding/json"
	"slices"
	"testing"

	"wellwright/media"
	"wellwright/plan"
)

// docs/answer.md lists every key that a long section has, and no list in it is null.
func TestAnswerPageListsEveryKeyOfACourse(t *testing.T) {
	page := listed(t, answerFile)
	d := desk(t, "arsenic-with-iron", plan.Ask{Prices: media.Prices()})
	for _, tr := range [][]media.Process{nil, {media.ChlorineFeed, media.ContactTank, media.CoatedSandFilter, media.Softener}} {
		c, err := d.Course(tr)
		if err != nil {
			t.Fatal(err)
		}
		text, err := json.Marshal(c)
		if err != nil {
			t.Fatal(err)
		}
		var tree map[string]any
		if err := json.Unmarshal(text, &tree); err != nil {
			t.Fatal(err)
		}
		keys(tree, func(k string) {
			if !slices.Contains(page, k) {
				page = append(page, k) // said once
				t.Errorf("%s does not list the key %s", answerFile, k)
			}
		})
		for _, k := range []string{"train", "vessels", "taps", "pressure_lines", "band"} {
			if tree[k] == nil {
				t.Errorf("%s is null", k)
			}
		}
	}
}

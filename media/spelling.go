package media

import (
	"sort"
	"strings"
)

// suggest returns "; did you mean a, b?" with the known names nearest to what
// was written, or nothing if none is near.
func suggest(written string, known []string) string {
	type near struct {
		name     string
		distance int
	}
	var close []near
	allowed := 1 + len(written)/4
	if len(written) > 80 { // no name is so long: spare the table of edits
		return ""
	}
	for _, k := range known {
		d := edits(written, k)
		if d <= allowed || len(written) > 3 && strings.Contains(k, written) {
			close = append(close, near{k, d})
		}
	}
	if len(close) == 0 {
		return ""
	}
	sort.SliceStable(close, func(i, j int) bool { return close[i].distance < close[j].distance })
	if len(close) > 3 {
		close = close[:3]
	}
	words := make([]string, len(close))
	for i, c := range close {
		words[i] = c.name
	}
	return "; did you mean " + strings.Join(words, " or ") + "?"
}

// edits is the least number of letters inserted, dropped or changed to turn a
// into b (Levenshtein 1966).
func edits(a, b string) int {
	before := make([]int, len(b)+1)
	for j := range before {
		before[j] = j
	}
	for i := 1; i <= len(a); i++ {
		now := make([]int, len(b)+1)
		now[0] = i
		for j := 1; j <= len(b); j++ {
			change := before[j-1]
			if a[i-1] != b[j-1] {
				change++
			}
			now[j] = min(change, before[j]+1, now[j-1]+1)
		}
		before = now
	}
	return before[len(b)]
}

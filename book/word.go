package book

import (
	"fmt"
	"math"
	"regexp"
	"strconv"
	"strings"
	"time"
)

// fold makes two spellings of one key or word alike: case, spaces, hyphens and
// underscores do not matter.
func fold(s string) string {
	if folded(s) {
		return s
	}
	s = joiners.Replace(strings.ToLower(s))
	return strings.Join(strings.Fields(s), " ")
}

// folded reports whether fold has nothing to do, as for nearly every key.
func folded(s string) bool {
	for i := range len(s) {
		c := s[i]
		blank := c == ' ' && (i == 0 || i == len(s)-1 || s[i-1] == ' ')
		if !(c >= 'a' && c <= 'z' || c >= '0' && c <= '9' || c == ' ') || blank {
			return false
		}
	}
	return true
}

var joiners = strings.NewReplacer("_", " ", "-", " ")

// nearest returns "; did you mean x?" for the known word that is nearest to
// what was written, or nothing if none is near.
func nearest(written string, known []string) string {
	best, least := "", 3
	if len(written) > 40 {
		return ""
	}
	for _, k := range known {
		d := changes([]rune(fold(written)), []rune(fold(k)))
		if d < least && d*3 <= len(k) {
			best, least = k, d
		}
	}
	if best == "" {
		return ""
	}
	return fmt.Sprintf("; did you mean %q?", best)
}

// changes counts the letters to be put in, taken out, changed or swapped with
// their neighbour to turn a into b (optimal string alignment).
func changes(a, b []rune) int {
	d := make([][]int, len(a)+1)
	for i := range d {
		d[i] = make([]int, len(b)+1)
		d[i][0] = i
	}
	for j := range d[0] {
		d[0][j] = j
	}
	for i := 1; i <= len(a); i++ {
		for j := 1; j <= len(b); j++ {
			cost := 1
			if a[i-1] == b[j-1] {
				cost = 0
			}
			d[i][j] = min(d[i-1][j]+1, d[i][j-1]+1, d[i-1][j-1]+cost)
			if i > 1 && j > 1 && a[i-1] == b[j-2] && a[i-2] == b[j-1] {
				d[i][j] = min(d[i][j], d[i-2][j-2]+1)
			}
		}
	}
	return d[len(a)][len(b)]
}

func parseNumber(s string) (float64, error) {
	n, err := strconv.ParseFloat(strings.ReplaceAll(s, ",", ""), 64)
	if err != nil || math.IsNaN(n) || math.IsInf(n, 0) {
		return 0, fmt.Errorf("%q is not a number", s)
	}
	return n, nil
}

var moneyForm = regexp.MustCompile(`^\$?([0-9][0-9,]*(?:\.[0-9]{1,2})?)(?: ?(?:USD|usd|dollars))?(?: ?(?:a|per) year)?$`)

// parseMoney reads US dollars: "$5,000", "5000 USD", "5000".
func parseMoney(s string) (float64, error) {
	m := moneyForm.FindStringSubmatch(s)
	if m == nil {
		return 0, fmt.Errorf("money: %q is not an amount in US dollars, such as $5000", s)
	}
	return parseNumber(m[1])
}

var spanForm = regexp.MustCompile(`^([0-9]+(?:\.[0-9]+)?) ?([a-z]+)(?: a year)?$`)

// parseSpan reads a length of time: "30 min", "2 h", "3 days", "2 weeks".
func parseSpan(s string) (time.Duration, error) {
	bad := fmt.Errorf("time: %q is not a length of time, such as 30 min, 2 h, 3 days or 2 weeks", s)
	m := spanForm.FindStringSubmatch(strings.ToLower(s))
	if m == nil {
		return 0, bad
	}
	n, err := strconv.ParseFloat(m[1], 64)
	one := spanUnit(m[2])
	if err != nil || one == 0 || n*one.Hours() > 24*366*100 {
		return 0, bad
	}
	return time.Duration(math.Round(n * float64(one))), nil
}

func spanUnit(s string) time.Duration {
	switch s {
	case "s", "sec", "second", "seconds":
		return time.Second
	case "min", "minute", "minutes":
		return time.Minute
	case "h", "hr", "hour", "hours":
		return time.Hour
	case "d", "day", "days":
		return 24 * time.Hour
	case "week", "weeks":
		return 7 * 24 * time.Hour
	}
	return 0
}

// dateWanted ends the finding on a bad date.
const dateWanted = "write year-month-day, such as 2025-04-14, or 2025-04-14 09:30"

// parseDate reads a date, with or without a time of day.
func parseDate(s string) (t time.Time, timed bool, err error) {
	if t, err = time.Parse("2006-01-02", s); err == nil {
		return t, false, inReason(t, s)
	}
	for _, form := range []string{"2006-01-02 15:04", "2006-01-02T15:04", "2006-01-02T15:04:05", "2006-01-02 15:04:05"} {
		if t, err = time.Parse(form, s); err == nil {
			return t, true, inReason(t, s)
		}
	}
	if len(s) >= 10 && s[4] == '-' && s[7] == '-' {
		return time.Time{}, false, fmt.Errorf("date %q is not in the calendar; %s", s, dateWanted)
	}
	return time.Time{}, false, fmt.Errorf("date %q cannot be read; %s", s, dateWanted)
}

func inReason(t time.Time, s string) error {
	if t.Year() < 1850 || t.Year() > 2200 {
		return fmt.Errorf("date %q is not in the life of a well; %s", s, dateWanted)
	}
	return nil
}

// parseRoughDate reads a date, a month (2025-04) or a year.
func parseRoughDate(s string) (time.Time, error) {
	for _, form := range []string{"2006", "2006-01"} {
		if t, err := time.Parse(form, s); err == nil {
			return t, inReason(t, s)
		}
	}
	t, _, err := parseDate(s)
	return t, err
}

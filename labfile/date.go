package labfile

import (
	"fmt"
	"math"
	"strconv"
	"strings"
	"time"
)

// dateOrder says which of two small numbers in a date is the month.
type dateOrder string

// The orders.
const (
	monthFirst dateOrder = "month first"
	dayFirst   dateOrder = "day first"
)

// moment is when a sample was taken.
type moment struct {
	at    time.Time
	timed bool
	zone  string // as written
}

// zones are the offsets of the abbreviations that North American agencies send,
// in hours. Kind: common practice.
var zones = map[string]float64{"UTC": 0, "GMT": 0, "Z": 0, "NST": -3.5, "NDT": -2.5, "AST": -4, "ADT": -3, "EST": -5, "EDT": -4,
	"CST": -6, "CDT": -5, "MST": -7, "MDT": -6, "PST": -8, "PDT": -7, "AKST": -9, "AKDT": -8, "HST": -10, "HAST": -10}

// moment reads date, time and zone of a row. The wall clock is kept; the zone
// stands beside it.
func (r *reader) moment(rec record) (moment, error) {
	m := moment{zone: rec.get(pZone)}
	at, timed, err := parseDate(first(rec.get(pDate), r.opt.On), rec.order, rec.epoch)
	if err != nil {
		return m, err
	}
	if s := rec.get(pTime); s != "" && !timed {
		d, err := parseClock(s)
		if err != nil {
			return m, err
		}
		at, timed = at.Add(d), true
	}
	m.at, m.timed = at, timed
	if h, ok := zones[strings.ToUpper(m.zone)]; ok && timed {
		at := m.at
		m.at = time.Date(at.Year(), at.Month(), at.Day(), at.Hour(), at.Minute(), at.Second(), 0, time.FixedZone(strings.ToUpper(m.zone), int(h*3600)))
	}
	return m, nil
}

// First and last year that a sample may bear.
const firstYear, lastYear = 1900, 2200

// parseDate reads a date with or without a time behind it: ISO, slashed, dotted,
// with the month's name, or a workbook's serial number.
func parseDate(s string, order dateOrder, from1904 bool) (time.Time, bool, error) {
	s = strings.TrimSpace(s)
	if s == "" {
		return time.Time{}, false, fmt.Errorf("no date")
	}
	if t, timed, ok := serialDate(s, from1904); ok {
		return t, timed, nil
	}
	day, clock := s, ""
	if i := strings.IndexAny(s, " T"); i > 0 && strings.ContainsAny(s[:i], "-/.") {
		day, clock = s[:i], strings.TrimSpace(s[i+1:])
	}
	t, err := parseDay(day, order)
	if err != nil {
		return t, false, err
	}
	if t.Year() < firstYear || t.Year() > lastYear {
		return t, false, fmt.Errorf("date %q is outside %d to %d", s, firstYear, lastYear)
	}
	if clock == "" {
		return t, false, nil
	}
	d, err := parseClock(clock)
	return t.Add(d), true, err
}

func parseDay(s string, order dateOrder) (time.Time, error) {
	forms := []string{"2006-01-02", "2006/1/2", "2006.1.2", "20060102", "2-Jan-2006", "2-Jan-06", "2 Jan 2006", "2 January 2006", "January 2, 2006", "Jan 2, 2006"}
	if order == dayFirst {
		forms = append(forms, "2/1/2006", "2.1.2006", "2-1-2006", "2/1/06", "2.1.06")
	} else {
		forms = append(forms, "1/2/2006", "1-2-2006", "1/2/06", "2.1.2006", "2.1.06")
	}
	for _, f := range forms {
		if t, err := time.Parse(f, s); err == nil {
			return t, nil
		}
	}
	return time.Time{}, fmt.Errorf("date %q cannot be read, %s", s, order)
}

func parseClock(s string) (time.Duration, error) {
	s = strings.ToUpper(strings.TrimSuffix(strings.TrimSpace(s), "Z"))
	for _, f := range []string{"15:04:05", "15:04", "15:04:05.999", "3:04 PM", "3:04PM", "3:04:05 PM", "1504", "15:04:05-07:00", "15:04:05Z07:00"} {
		if t, err := time.Parse(f, s); err == nil {
			return time.Duration(t.Hour())*time.Hour + time.Duration(t.Minute())*time.Minute + time.Duration(t.Second())*time.Second, nil
		}
	}
	if v, err := strconv.ParseFloat(s, 64); err == nil && v >= 0 && v < 1 { // a workbook's part of a day
		return time.Duration(math.Round(v*86400)) * time.Second, nil
	}
	return 0, fmt.Errorf("time %q cannot be read", s)
}

// Bounds of a serial number that is a date of the last and this century: it
// keeps years and sample numbers from being taken for dates.
const lowSerial, highSerial = 18264, 73050 // 1950 and 2100

// serialDate reads a workbook's day number: days since 1899-12-30, or since
// 1904-01-01. Source: ECMA-376 part 1, 18.17.4.1 (from memory).
func serialDate(s string, from1904 bool) (time.Time, bool, bool) {
	v, err := strconv.ParseFloat(s, 64)
	if err != nil || v < lowSerial || v > highSerial {
		return time.Time{}, false, false
	}
	start := time.Date(1899, 12, 30, 0, 0, 0, 0, time.UTC)
	if from1904 {
		start = time.Date(1904, 1, 1, 0, 0, 0, 0, time.UTC)
	}
	whole := math.Floor(v)
	seconds := math.Round((v - whole) * 86400)
	return start.AddDate(0, 0, int(whole)).Add(time.Duration(seconds) * time.Second), seconds > 0, true
}

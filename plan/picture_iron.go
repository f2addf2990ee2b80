package plan

import (
	"math"
	"time"

	"wellwright/chem"
	"wellwright/media"
	"wellwright/source"
	"wellwright/stage"
	"wellwright/water"
)

// IronTime is the ferrous iron left in the well's water against the minutes it
// stands in contact with air, and with chlorine where the train doses it.
type IronTime struct {
	Heading
	Ferrous     Range        `json:"ferrous_mg_l"` // raw
	PH          Range        `json:"ph"`
	Temperature Range        `json:"temperature_c"`
	Wanted      float64      `json:"iron_wanted_mg_l"`
	Courses     []IronCourse `json:"courses"`
	Contacts    []Contact    `json:"contacts"` // of the train, ahead of its first bed
	Laws        []RateLaw    `json:"laws"`
}

// IronCourse is the iron left with one oxidant.
type IronCourse struct {
	With   string   `json:"with"`               // air, chlorine
	Dose   *Range   `json:"dose_mg_l_as_cl2"`   // null: air
	Points []Left   `json:"points"`             // in order of time
	Half   Duration `json:"half_gone_min"`      // of the ferrous iron that came
	Done   Duration `json:"down_to_wanted_min"` // its value wanted at the tap
	From   string   `json:"starts_from"`        // which water the oxidant meets
	Oxygen *Range   `json:"oxygen_begins_mg_l"` // with air
	Used   float64  `json:"oxygen_used_share"`  // by the iron, of the oxygen that there is; likeliest water
}

// Left is the ferrous iron left after a time.
type Left struct {
	Minutes float64 `json:"minutes"`
	Ferrous Range   `json:"ferrous_mg_l"`
}

// Duration is a time over the plausible waters, in minutes; null beyond the last
// point.
type Duration struct {
	P05 *float64 `json:"p05"`
	P50 *float64 `json:"p50"` // in the likeliest water
	P95 *float64 `json:"p95"`
}

// Contact is the time that a stage gives.
type Contact struct {
	Stage string `json:"stage"`
	Words string `json:"words"`
	Peak  Range  `json:"at_peak_min"`
}

// RateLaw is a published law that the courses rest on.
type RateLaw struct {
	What string      `json:"what"`
	Kind source.Kind `json:"kind"`
	From string      `json:"from"`
}

// The times of a course: from a sixteenth of a second to a month, eight in a decade.
const (
	firstMinutes = 0.001
	lastMinutes  = 40000
	perDecade    = 8
)

// airDraws is how many plausible waters stand in air: the answer hangs on no train.
const airDraws = 120

// IronTime works the courses out over the plausible waters.
func (s Subject) IronTime() (IronTime, error) {
	x := IronTime{Heading: s.heading(), Wanted: s.desk.Work.Want.Iron.MgPerL(), Courses: []IronCourse{}, Contacts: s.contacts()}
	raw := s.desk.ofCloud(airDraws)
	x.Ferrous = raw.spread(func(i int) float64 { return raw.draws[i].Water.Ferrous.MgPerL() })
	x.PH = raw.spread(func(i int) float64 { return raw.draws[i].Water.PH.Value() })
	x.Temperature = raw.spread(func(i int) float64 { return raw.draws[i].Water.Temperature.Celsius() })
	air, err := s.withAir(raw)
	if err != nil {
		return x, err
	}
	x.Courses = append(x.Courses, air)
	for k, l := range s.of.Links {
		if l.Process != media.ChlorineFeed {
			continue
		}
		c, err := s.withChlorine(k)
		if err != nil {
			return x, err
		}
		x.Courses = append(x.Courses, c)
	}
	x.Laws = rateLaws(s.desk.set, len(x.Courses) > 1)
	return x, nil
}

// withAir is the raw water with all the oxygen that air gives it.
func (s Subject) withAir(raw sample) (IronCourse, error) {
	aired := make([]water.State, len(raw.draws))
	for i := range raw.draws {
		aired[i] = stage.AirSaturated(raw.draws[i].Water)
	}
	c := IronCourse{With: "air", From: "the raw water at its pH and temperature, full of oxygen"}
	oxygen := raw.spread(func(i int) float64 { return aired[i].Oxygen.MgPerL() })
	c.Oxygen = &oxygen
	perIron, _ := chem.Demand(chem.Oxygen, chem.IronII)
	lead := aired[raw.lead]
	c.Used = perIron * lead.Ferrous.MgPerL() / math.Max(lead.Oxygen.MgPerL(), 1e-9)
	err := s.follow(&c, raw, aired)
	return c, err
}

// withChlorine is the water just behind the chlorine feed, as the train doses it.
func (s Subject) withChlorine(k int) (IronCourse, error) {
	in := s.carried()
	fed, doses := make([]water.State, len(in.draws)), make([]float64, len(in.draws))
	for i := range in.draws {
		j := s.of.JobAt(k, i)
		w, dose := j.Chlorinated()
		fed[i], doses[i] = w, dose.MgPerLAsCl2()
	}
	c := IronCourse{With: "chlorine", From: "the water at the feed, dosed as the settings say"}
	dose := in.spread(func(i int) float64 { return doses[i] })
	c.Dose = &dose
	err := s.follow(&c, in, fed)
	return c, err
}

// follow lets each water stand and notes its ferrous iron as time goes.
func (s Subject) follow(c *IronCourse, over sample, begin []water.State) error {
	times := courseTimes()
	left := make([][]float64, len(begin))
	for i := range begin {
		j := stage.Job{Site: s.desk.Work.Site, Draw: &over.draws[i], In: begin[i]}
		var err error
		if left[i], err = standing(&j, times); err != nil {
			return err
		}
	}
	for n, t := range times {
		c.Points = append(c.Points, Left{t, over.spread(func(i int) float64 { return left[i][n] })})
	}
	wanted := s.desk.Work.Want.Iron.MgPerL()
	c.Half = timesDown(over, func(i int) float64 { return downTo(times, left[i], begin[i].Ferrous.MgPerL()/2) })
	c.Done = timesDown(over, func(i int) float64 { return downTo(times, left[i], wanted) })
	return nil
}

// courseTimes are the minutes of a course.
func courseTimes() []float64 {
	var ts []float64
	for n := 0; ; n++ {
		t := firstMinutes * math.Pow(10, float64(n)/perDecade)
		if t > lastMinutes {
			return ts
		}
		ts = append(ts, t)
	}
}

// standing is the ferrous iron of a water at each of the times.
func standing(j *stage.Job, times []float64) ([]float64, error) {
	left := make([]float64, len(times))
	w, was := j.In, 0.0
	for n, t := range times {
		var err error
		w, err = j.React(w, chem.Vessel{Time: time.Duration((t - was) * float64(time.Minute))})
		if err != nil {
			return nil, err
		}
		left[n], was = w.Ferrous.MgPerL(), t
	}
	return left, nil
}

// timesDown is when each water comes down to something, over the waters.
func timesDown(over sample, when func(draw int) float64) Duration {
	r := over.spread(when)
	return Duration{told(r.P05), told(r.P50), told(r.P95)}
}

func told(minutes float64) *float64 {
	if math.IsInf(minutes, 1) {
		return nil
	}
	return &minutes
}

// downTo is the time at which a falling course reaches a value: by the logarithm
// of time between two points, 0 where it begins below, never as +Inf.
func downTo(times, left []float64, to float64) float64 {
	for n := range times {
		if left[n] > to {
			continue
		}
		if n == 0 {
			return 0
		}
		share := (left[n-1] - to) / math.Max(left[n-1]-left[n], 1e-12)
		return times[n-1] * math.Pow(times[n]/times[n-1], share)
	}
	return math.Inf(1)
}

// contacts are the stages that give time ahead of the first bed.
func (s Subject) contacts() []Contact {
	cs := []Contact{}
	for _, l := range s.of.Links {
		if l.Outcomes[s.of.Lead].Settings[stage.DaysBetweenMetered] > 0 {
			break
		}
		r := s.spread(func(i int) float64 {
			set := l.Outcomes[i].Settings
			return set[stage.ContactMin] + set[stage.StorageDays]*minutesADay
		})
		if r.P50 > 0 {
			cs = append(cs, Contact{Stage: string(l.Process), Words: l.Process.Words(), Peak: r})
		}
	}
	return cs
}

const minutesADay = 24 * 60

// rateLaws are the laws that the courses rest on, the user's own in their place.
func rateLaws(set source.Set, chlorine bool) []RateLaw {
	laws := []RateLaw{}
	for _, f := range chem.Factors() {
		switch f.Name {
		case "iron_oxygen_slow_rate", "iron_oxygen_fast_rate", "iron_floc_rate":
		case "iron_chlorine_rate":
			if !chlorine {
				continue
			}
		default:
			continue
		}
		f = set.In(f)
		laws = append(laws, RateLaw{What: f.What, Kind: f.Kind, From: f.From})
	}
	return laws
}

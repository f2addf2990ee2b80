package book

import (
	"fmt"
	"strconv"
	"time"

	"wellwright/media"
	"wellwright/unit"
	"wellwright/well"
)

var houseFields = []field{
	whole("people", "who live there", "4", 0, 500, func(h *well.House, n int) { h.People = n }),
	yesNo("infants", "under six months, or bottles made with this water", "no", func(h *well.House, yes bool) { h.Infants = yes }),
	yesNo("pregnant", "anyone pregnant", "no", func(h *well.House, yes bool) { h.Pregnant = yes }),
	yesNo("low sodium", "anyone told to limit sodium", "no", func(h *well.House, yes bool) { h.LowSodium = yes }),
	number("baths", "bathrooms; a half bath is 0.5", "2.5", 0, 50, func(h *well.House, n float64) { h.Baths = &n }),
	fixtures("fixtures", "how many of each"),
	scalar("daily use", "metered or counted; one figure or a range", "240 to 300 gal/day", readDaily),
	maybe("metered", "daily use was read from a meter", "yes", func(h *well.House) **bool { return &h.Metered }),
	positive("peak", "highest flow at one time, of everything", "7 gpm", func(h *well.House) **unit.Flow { return &h.Peak }),
	lines("taken off before treatment", "branches: hose, barn, pool", "[garden hose]", func(h *well.House) *[]string { return &h.TakenOff }),
	many("branches", "parts of the plumbing with what they draw, behind the treatment or ahead of it", "", branchFields, shortBranch, keepBranches),
	many("shifts", "when a workplace draws water; leave out for a household", "", shiftFields, nil, keepShifts),
	many("drains", "where waste water may go", "", drainFields, nil, keepDrains),
	yesNo("septic", "the house drains to a septic system", "yes", func(h *well.House, yes bool) { h.Septic = yes }),
	whole("serves", "people a day if more than the household; 25 and over may be a public supply", "4", 0, 100000, func(h *well.House, n int) { h.Serves = n }),
	whole("service connections", "houses or premises on this well if more than one; 15 and over may be a public supply", "1", 0, 10000, func(h *well.House, n int) { h.Connected = n }),
	section("room", "where equipment would stand", roomFields, func(h *well.House) *well.Room { return &h.Room }),
	span("away", "each year", "2 weeks", func(h *well.House, d time.Duration) { h.Absence = weeks(d) }),
	section("owner", "what the owner can and will do", ownerFields, func(h *well.House) *well.Owner { return &h.Owner }),
	text("heater", "electric, gas, oil ...", "electric", func(h *well.House) *string { return &h.Heater }),
	text("heater rod", "the anode: magnesium, aluminium, powered, none", "magnesium", func(h *well.House) *string { return &h.Anode }),
	text("pipes", "house piping: material and age", "copper, 1998", func(h *well.House) *string { return &h.Pipes }),
	text("remarks", "", "guests in summer", func(h *well.House) *string { return &h.Remarks }),
}

// readDaily reads a flow or a range of flows; the upper end is used for sizing.
func readDaily(s string, h *well.House) error {
	low, high, err := parseRange(s)
	if err != nil {
		return err
	}
	h.Daily, h.DailyLow = &high, nil
	if low != high {
		h.DailyLow = &low
	}
	return nil
}

// fixtures reads how many there are of each fixture, by its name.
func fixtures(name, what string) field {
	return field{
		name: name, what: what, eg: "{shower: 2, washing machine: 1}", form: form{shape: Map, item: &form{number: true}},
		read: func(r *reader, v Value, body any) bool {
			if v.Shape != Map {
				r.wrong(v, fmt.Sprintf("%q stands where fixtures belong", short(v)), "write lines such as shower: 2")
				return false
			}
			h, any := body.(*well.House), false
			all := make(map[string]int, len(v.Pairs))
			for k, n := range h.Fixtures {
				all[k] = n
			}
			for _, p := range v.Pairs {
				n, err := strconv.Atoi(p.Value.Text)
				if err != nil || n < 0 || n > 500 || p.Value.Shape != Text {
					r.wrong(p.Value, fmt.Sprintf("%s: %q is no number of fixtures", p.Key, short(p.Value)), "write a whole number")
					continue
				}
				all[fold(p.Key)], any = n, true
			}
			h.Fixtures = all
			return any
		},
	}
}

var drainFields = []field{
	required(word("to", "", "dry well", func(d *well.Drain) *well.DrainKind { return &d.To }, well.Septic, well.Sewer, well.DryWell, well.Daylight)),
	maybe("backwash", "filter backwash may go there", "yes", func(d *well.Drain) **bool { return &d.Backwash }),
	maybe("brine", "softener brine may go there", "no", func(d *well.Drain) **bool { return &d.Brine }),
	text("note", "", "floor drain in the basement", func(d *well.Drain) *string { return &d.Note }),
}

var roomFields = []field{
	positive("height", "", "7 ft", func(r *well.Room) **unit.Length { return &r.Height }),
	positive("floor long", "", "10 ft", func(r *well.Room) **unit.Length { return &r.FloorLong }),
	positive("floor wide", "", "8 ft", func(r *well.Room) **unit.Length { return &r.FloorWide }),
	positive("door", "clear width", "30 in", func(r *well.Room) **unit.Length { return &r.DoorWide }),
	maybe("outlet", "electric power within reach", "yes", func(r *well.Room) **bool { return &r.Power }),
	maybe("floor drain", "within reach", "yes", func(r *well.Room) **bool { return &r.FloorDrain }),
	maybe("frost", "may freeze", "no", func(r *well.Room) **bool { return &r.Frost }),
	maybe("vent to outside", "possible", "yes", func(r *well.Room) **bool { return &r.VentOut }),
	positive("storage tank up to", "largest that fits", "500 gal", func(r *well.Room) **unit.Volume { return &r.StorageMax }),
	text("remarks", "", "basement", func(r *well.Room) *string { return &r.Remarks }),
}

var ownerFields = []field{
	maybe("carries salt", "", "yes", func(o *well.Owner) **bool { return &o.CarriesSalt }),
	maybe("handles chemicals", "bleach and the like", "no", func(o *well.Owner) **bool { return &o.Chemicals }),
	maybe("reads a residual weekly", "", "yes", func(o *well.Owner) **bool { return &o.Weekly }),
	maybe("cleans a tank", "or changes a cartridge", "yes", func(o *well.Owner) **bool { return &o.Cleans }),
	text("remarks", "", "away on weekdays", func(o *well.Owner) *string { return &o.Remarks }),
}

var rulesFields = []field{
	maybe("brine to septic", "allowed", "no", func(r *well.Rules) **bool { return &r.BrineToSeptic }),
	maybe("backwash to septic", "allowed", "no", func(r *well.Rules) **bool { return &r.BackwashToSeptic }),
	maybe("well work licensed", "only a licensed contractor may open the well", "yes", func(r *well.Rules) **bool { return &r.WellWorkLicensed }),
	text("discharge", "what else is said of waste water", "dry well with the county's leave", func(r *well.Rules) *string { return &r.DischargeNote }),
}

var wishFields = []field{
	text("jurisdiction", "whose limits count: US, CA, WHO, EU, or US-MA and the like", "US", func(w *well.Wishes) *string { return &w.Jurisdiction }),
	money("budget", "first cost, US dollars", "$5000", func(w *well.Wishes) **float64 { return &w.Budget }),
	money("yearly budget", "upkeep, US dollars a year", "$400", func(w *well.Wishes) **float64 { return &w.YearlyBudget }),
	yesNo("no salt", "the owner will have no softener salt", "no", func(w *well.Wishes, yes bool) { w.NoSalt = yes }),
	yesNo("no chemicals", "the owner will have no chemical feed", "no", func(w *well.Wishes, yes bool) { w.NoChemicals = yes }),
	maybe("soft water", "wanted; if not said, hard water is softened", "yes", func(w *well.Wishes) **bool { return &w.SoftWater }),
	positive("iron target", "if other than the limit", "0.3 mg/L", func(w *well.Wishes) **unit.Concentration { return &w.IronTarget }),
	text("price list", "file with your own prices", "prices.csv", func(w *well.Wishes) *string { return &w.PriceListFile }),
	text("rules remarks", "", "county asks for a plan", func(w *well.Wishes) *string { return &w.RulesRemarks }),
	text("remarks", "", "modest budget", func(w *well.Wishes) *string { return &w.Remarks }),
}

var equipmentFields = []field{
	required(scalar("process", "by its generic name", "softener", readProcess)),
	day("fitted", "date, month or year", "2021", func(e *well.Equipment, t time.Time) { e.Fitted, e.Since = t, t.Year() }),
	text("size", "as found", "10 x 54 in", func(e *well.Equipment) *string { return &e.Size }),
	text("setting", "as found", "25 gpg, every 3 days", func(e *well.Equipment) *string { return &e.Setting }),
	text("behaviour", "in plain words", "passes 2 to 4 mg/L iron", func(e *well.Equipment) *string { return &e.Behaviour }),
	maybe("works", "does what it should", "no", func(e *well.Equipment) **bool { return &e.Works }),
	yesNo("bypassed", "", "no", func(e *well.Equipment, yes bool) { e.Bypassed = yes }),
	tapOf("tap after it", "T2, T3 ...", func(e *well.Equipment) *string { return &e.Tap }),
	yesNo("removed", "taken out since", "no", func(e *well.Equipment, yes bool) { e.Removed = yes }),
}

func readProcess(s string, e *well.Equipment) error {
	p, err := media.ParseProcess(s)
	if err == nil {
		e.Process = string(p)
	}
	return err
}

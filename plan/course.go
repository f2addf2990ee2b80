package plan

import (
	"errors"
	"fmt"
	"math"

	"wellwright/media"
	"wellwright/source"
	"wellwright/stage"
	"wellwright/train"
	"wellwright/unit"
	"wellwright/water"
)

// Course is the way of the water through one train, from the aquifer to the
// kitchen: what a long section draws. It is worked out in the leading water, for
// which the train is sized, with ranges over the plausible ones.
type Course struct {
	Well   string   `json:"well"`
	AsOf   string   `json:"as_of"`
	Limits string   `json:"limits"`
	Train  []string `json:"train"`
	Water  string   `json:"water"` // the water it is worked out in: middle, or another

	MeetsProbability *float64 `json:"meets_probability"` // null: three waters give no probability
	MeetsError       *float64 `json:"meets_standard_error"`
	Fails            bool     `json:"fails"` // a hard limit is broken in the likeliest water
	Rule             string   `json:"order_rule"`
	First            Limit    `json:"first_limit"`
	FirstAt          int      `json:"first_limit_at"` // place of its stage from 0; -1 for the whole train

	Bore     Bore           `json:"well_record"`
	Tank     CourseTank     `json:"pressure_tank"`
	Vessels  []Vessel       `json:"vessels"` // by stage, in flow order
	Kitchen  *Vessel        `json:"kitchen"` // unit at the kitchen tap that belongs beside the train; null: none
	Taps     []CourseTap    `json:"taps"`
	Pressure []PressureLine `json:"pressure_lines"`
	Band     []Stretch      `json:"band"`

	IronLimit float64 `json:"iron_limit_mg_l"` // most at the kitchen tap
	Bacteria  float64 `json:"bacteria_probability"`
	Assumed   bool    `json:"assumed"` // some of the supply was not recorded
	Standing  bool    `json:"standing"`
}

// Vessel is one stage as it stands on the floor.
type Vessel struct {
	Process     string     `json:"process"`
	Words       string     `json:"words"`
	Form        VesselForm `json:"form"`
	AheadOfTank bool       `json:"ahead_of_tank"` // a feed ahead of the pressure tank
	Tap         string     `json:"tap"`           // behind it; "" for a feed
	Count       int        `json:"count"`         // side by side
	Series      int        `json:"tanks_in_series"`
	Diameter    float64    `json:"vessel_diameter_in"`
	Height      float64    `json:"vessel_height_in"`
	Shaped      bool       `json:"shape_assumed"` // diameter and height follow from the volume by the usual shape
	Bed         float64    `json:"bed_depth_in"`
	Freeboard   float64    `json:"freeboard_in"`
	Volume      float64    `json:"volume_gal"`
	Media       float64    `json:"media_ft3"` // in each vessel
	Booster     float64    `json:"booster_gpm"`
	Label       string     `json:"label"` // of an element
	Mode        string     `json:"mode"`

	Settings map[string]float64 `json:"settings"`
	Backwash *Backwash          `json:"backwash"` // null: it is not washed upwards
	Clean    float64            `json:"clean_loss_psi"`
	Dirty    float64            `json:"dirty_loss_psi"`
}

// VesselForm is what a stage looks like in section.
type VesselForm string

// The forms.
const (
	FeedForm    VesselForm = "feed"    // a solution tank beside the pipe
	BedForm     VesselForm = "bed"     // an upright vessel with a bed in it
	TankForm    VesselForm = "tank"    // a closed tank without a bed
	OpenForm    VesselForm = "open"    // a vented tank with a pump behind it
	HousingForm VesselForm = "housing" // a cartridge, lamp or membrane on the pipe
)

// Course lays out any train, lawful or not, or with no stage at all the well as
// it is.
func (d *Desk) Course(t train.Train) (Course, error) {
	r, err := d.laidOut(t)
	if err != nil {
		return Course{}, err
	}
	return d.courseOf(r), nil
}

// courseOf is the way of the water through a train that is laid out.
func (d *Desk) courseOf(r ranked) Course {
	t := r.Train
	c := Course{
		Well: d.Present.Name, AsOf: d.Present.AsOf.Format("2006-01-02"), Limits: d.Table.Jurisdiction, Train: names(t), Water: r.Leading().Name,
		Fails: r.Fails, First: d.limit(r.Evaluation, r.First), FirstAt: r.First.Stage,
		IronLimit: d.Work.Want.Iron.MgPerL(), Bacteria: r.Leading().Water.Bacteria,
		Standing: d.standing().String() == t.String(),
	}
	if r.Rule != nil {
		c.Rule = r.Rule.Say
	}
	if r.over != nil {
		m := d.meets(r)
		c.MeetsProbability, c.MeetsError = &m.P, &m.Error
	}
	way := d.wayOf(r)
	c.Bore, c.Tank = way.bore(), way.tank()
	c.Vessels, c.Kitchen = way.vessels(), way.kitchenUnit()
	c.Taps, c.Band, c.Pressure = way.taps(c.Vessels), way.band(), way.pressureLines()
	c.Assumed = len(c.Bore.Unrecorded) > 0 || c.Tank.Assumed
	return c
}

// laidOut sizes a train as the options are sized, and carries it over the cloud.
func (d *Desk) laidOut(t train.Train) (ranked, error) {
	e, err := d.Work.Evaluate(t)
	if err != nil {
		return ranked{}, err
	}
	r := ranked{Evaluation: d.Work.Complete(e)}
	if r.Leading() == nil {
		return r, errors.New("the train cannot be laid out: no size of some stage comes near what it must do here")
	}
	if d.Work.Whole == nil {
		return r, nil
	}
	if !r.Fails && len(t) > 0 {
		r = d.settle([]ranked{r})[0]
	}
	r.over = d.Work.Start([]train.Evaluation{r.Evaluation})[0]
	d.Work.Carry([]*train.Carried{r.over}, len(d.Work.Whole))
	return r, nil
}

// way is a train on its way to becoming a course.
type way struct {
	d       *Desk
	r       ranked
	along   []train.Ahead
	assumed map[string]bool // figures of the raw water that nobody measured
}

func (d *Desk) wayOf(r ranked) way { return way{d, r, r.Along(), d.assumedNames()} }

// raw is the leading water at the wellhead.
func (w way) raw() *water.State { return &w.r.Leading().Water }

// out is what a stage does to the leading water.
func (w way) out(k int) *stage.Outcome { return &w.r.Links[k].Outcomes[w.r.Lead] }

// vented are the stages that the house is pumped from again.
var vented = []media.Process{media.StorageBooster, media.VentedAeration, media.RadonAeration}

// fedAhead is how many feeds dose ahead of the pressure tank: those that lead the
// train. One that doses into a vented tank stands at its fill valve.
func (w way) fedAhead() int {
	if w.r.Train.Has(vented...) {
		return 0
	}
	n := 0
	for n < len(w.r.Train) && !hasTap(w.r.Train[n]) {
		n++
	}
	return n
}

// vessels are the stages as they stand.
func (w way) vessels() []Vessel {
	vs := make([]Vessel, len(w.r.Links))
	ahead, tap := w.fedAhead(), 1
	for k, l := range w.r.Links {
		v := w.vessel(l, w.out(k))
		v.AheadOfTank = k < ahead
		if hasTap(l.Process) {
			tap++
			v.Tap = fmt.Sprintf("T%d", tap)
		}
		vs[k] = v
	}
	return vs
}

// vessel is one stage as it stands.
func (w way) vessel(l train.Link, o *stage.Outcome) Vessel {
	z := l.Size
	v := Vessel{
		Process: string(l.Process), Words: l.Process.Words(), Form: formOf(l.Process, z), Count: max(z.Count, 1), Series: max(z.Tanks, 1),
		Diameter: z.Vessel.Diameter.Inches(), Height: z.Vessel.Height.Inches(), Volume: z.Volume.Gal(),
		Media: z.Media.Ft3(), Booster: z.Booster.GPM(), Label: z.Label, Mode: z.Mode, Settings: map[string]float64(o.Settings), Clean: o.Loss.Clean.PSI(), Dirty: math.Max(o.Loss.Dirty.PSI(), o.Loss.Clean.PSI()),
	}
	switch {
	case v.Form == BedForm:
		v.Bed = z.Vessel.BedDepth(z.Media).Inches()
		v.Freeboard = math.Max(0, 12*z.Vessel.Gross.Ft3()/z.Vessel.Area.Ft2()-v.Bed)
	case z.Volume.Gal() > 0:
		v.shape(w.d.set.Of(shapeOf(v.Form)))
	default:
		fmt.Sscanf(z.Label, "%g x %g in", &v.Diameter, &v.Height) // a label without a size leaves both at nothing
	}
	for _, x := range o.Washes {
		if x.Waste != stage.WasteSludge && (x.Waste == stage.WasteBackwash || v.Backwash == nil) && v.Form == BedForm && x.Need.GPM() > 0 {
			v.Backwash = &Backwash{Need: x.Need.GPM(), Have: x.Have.GPM(), Days: x.Days, Gallons: x.Gallons.Gal()}
		}
	}
	return v
}

// shape gives a tank the diameter and height that its volume comes to.
//
//	d = (4 V / pi r)^(1/3),  h = r d
//
//	V  volume of one tank;  r  height over diameter
//
// Source: geometry.
func (v *Vessel) shape(ratio float64) {
	in3 := unit.Gal(v.Volume).Ft3() * 12 * 12 * 12
	v.Diameter = math.Cbrt(4 * in3 / (math.Pi * ratio))
	v.Height, v.Shaped = ratio*v.Diameter, true
}

func formOf(p media.Process, z stage.Size) VesselForm {
	switch {
	case p == media.VentedAeration || p == media.StorageBooster || p == media.RadonAeration:
		return OpenForm
	case !hasTap(p):
		return FeedForm
	case z.Vessel.Diameter.Inches() > 0:
		return BedForm
	case p == media.ReverseOsmosis || z.Volume.Gal() <= 0:
		return HousingForm
	}
	return TankForm
}

// kitchenUnit is the tap that belongs beside the train.
func (w way) kitchenUnit() *Vessel {
	if w.r.Tap == nil {
		return nil
	}
	return &Vessel{Process: string(media.ReverseOsmosis), Words: media.ReverseOsmosis.Words(), Form: HousingForm, Count: 1, Series: 1, Tap: tapKitchen}
}

func shapeOf(f VesselForm) source.Factor {
	if f == OpenForm {
		return storageShape
	}
	return contactShape
}

var (
	pressureShape = source.Factor{Name: "pressure_tank_shape", What: "height of a pressure tank over its diameter, to draw it by", Unit: "",
		Value: 1.8, Low: 1.3, High: 2.5, Kind: source.CommonPractice, From: "an 86 gal tank is about 26 in wide and 47 in high"}
	contactShape = source.Factor{Name: "contact_tank_shape", What: "height of a contact tank over its diameter, to draw it by", Unit: "",
		Value: 2.6, Low: 2, High: 3.5, Kind: source.CommonPractice, From: "an 80 gal tank is about 20 to 24 in wide and 60 in high"}
	storageShape = source.Factor{Name: "storage_tank_shape", What: "height of a vented tank over its diameter, to draw it by", Unit: "",
		Value: 1.2, Low: 0.8, High: 2, Kind: source.CommonPractice, From: "upright polyethylene tanks of 200 to 500 gal"}
)

// courseFactors are those of the shapes.
func courseFactors() []source.Factor {
	return []source.Factor{pressureShape, contactShape, storageShape}
}

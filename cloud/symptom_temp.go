package cloud

import "wellwright/water"

const (
	signClearThenRust water.Symptom = "clear_then_rust"
	signRedAtOnce     water.Symptom = "red_at_once"
	signTeaColour     water.Symptom = "tea_colour"
	signBleachOrange  water.Symptom = "bleach_orange"
	signSlime         water.Symptom = "slime"
	signFeathers      water.Symptom = "feathers"
	signFilmBreaks    water.Symptom = "film_breaks"
	signSwampySmell   water.Symptom = "swampy_smell"
	signPumpWork      water.Symptom = "pump_work"
	signCapacity      water.Symptom = "capacity"
	signRottenEgg     water.Symptom = "rotten_egg"
)

package book

import "wellwright/water"

// symptom finds a sign of the dictionary by its identifier or its words.
func symptom(s string) (water.Symptom, bool) {
	id, err := water.ParseSymptom(s)
	return id, err == nil
}

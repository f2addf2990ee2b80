package water

// Symptom is a complaint or an observation, by its stable identifier.
type Symptom string

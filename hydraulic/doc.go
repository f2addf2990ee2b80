// Package hydraulic is the pure hydraulics of a small well: water properties,
// pumps, pressure tanks, casing storage, pipes, granular beds, contact tanks,
// household demand and chemical feed. Nothing here knows of iron.
package hydraulic

import "fmt"

// RangeError says that a method was asked outside the range it holds for.
type RangeError struct {
	Method, Input  string
	Got, Low, High float64
	Unit           string
}

// Error names the method, the value with its unit and the range.
func (e *RangeError) Error() string {
	return fmt.Sprintf("%s: %s %g %s is outside %g to %g %s",
		e.Method, e.Input, e.Got, e.Unit, e.Low, e.High, e.Unit)
}

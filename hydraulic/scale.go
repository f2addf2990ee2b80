package hydraulic

// Scaled returns a pump that gives f times the flow at every pressure: the same
// curve drawn along the flow axis, flow control and all. It stands in for another
// pump of the same build when only its flow is asked about.
//
//	p = top − k Q²  becomes  p = top − (k/f²) Q²
//
// Range: f above 0. Error: another pump also has another shut-off pressure.
func (p PumpAtTank) Scaled(f float64) PumpAtTank {
	s := p
	s.points = make([]tankPoint, len(p.points))
	for i, x := range p.points {
		s.points[i] = tankPoint{x.p, x.q * f}
	}
	s.before.k /= f * f
	s.after.k /= f * f
	s.cap *= f
	return s
}

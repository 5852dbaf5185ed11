package plan

// step returns the one component that differs, or NoChange if it is not one.
func step(a, b Dose) Component {
	if c := Changes(a, b); len(c) == 1 {
		return c[0]
	}
	return NoChange
}

// longer returns the dose one step up without a change of intensity: minutes of
// a session until 30, then sessions until 5 a week, then minutes until 60. At
// the top it returns the dose as it is, and NoChange. Warm-up and cool-down are
// not counted in these minutes.
func longer(d Dose, p Policy) (Dose, Component) {
	work := d.Minutes - d.Easy
	switch {
	case work < p.TimeFirst:
		d.Minutes += min(p.TimeStep, p.TimeFirst-work)
		return d, Time
	case d.Sessions < p.Frequency:
		d.Sessions++
		return d, Frequency
	case work < p.TimeMost:
		d.Minutes += min(p.TimeStep, p.TimeMost-work)
		return d, Time
	}
	return d, NoChange
}

// moreVigorous returns a moderate dose with some of its minutes turned vigorous.
// In the first weeks these are a small share of the week. If there is no room
// for a step it returns the dose as it is, and NoChange.
func moreVigorous(d Dose, weekOfIntroduction int, p Policy) (Dose, Component) {
	share := p.VigorousShareLater
	if weekOfIntroduction <= p.VigorousShareWeeks {
		share = p.VigorousShare
	}
	minutes := d.Vigorous + p.VigorousStep
	if minutes > p.VigorousMost || minutes*100 > share*d.Sessions*d.Minutes || minutes > d.Sessions*(d.Minutes-d.Easy) {
		return d, NoChange
	}
	d.Vigorous = minutes
	return d, Intensity
}

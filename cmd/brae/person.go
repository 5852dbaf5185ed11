package main

import (
	"math/rand/v2"

	"brae/domain"
	"brae/domain/intensity"
	"brae/domain/plan"
)

// person is a simulated client: the demo's histories come from it, and the population
// that the rules of progression are tried on. Effort grows with minutes beyond what
// they can do and with the class; what they can do grows with the sessions they do.
type person struct {
	keeps float64 // share of planned sessions that they do
	gains float64 // minutes by which a session done lengthens what they can do
	can   float64 // minutes of work that feel as they should
	worn  float64 // points of exertion by which all feels harder, as in a hot week
}

// week is what they do of a week's planned sessions of a dose, as they report it.
func (c *person) week(rnd *rand.Rand, d plan.Dose, planned int, monday domain.Date) (logs []plan.Log) {
	for i := range planned {
		if rnd.Float64() > c.keeps {
			continue
		}
		log := plan.Log{Day: monday.AddDays(min(6, i*7/d.Sessions)), Effort: c.effort(rnd, d), Talk: intensity.TalkSentences}
		switch {
		case log.Effort <= 11 && d.Class <= intensity.Light:
			log.Talk = intensity.TalkSing
		case log.Effort >= 14:
			log.Talk = intensity.TalkShort
		}
		logs = append(logs, log)
		c.can += c.gains
	}
	return logs
}

// effort is what a session feels like on 6-20.
func (c *person) effort(rnd *rand.Rand, d plan.Dose) int {
	base := map[intensity.Class]float64{intensity.Light: 9.5, intensity.Moderate: 12.5}[d.Class]
	if d.Vigorous > 0 {
		base = 14.5
	}
	over := (float64(d.Minutes) - c.can) / 6
	return max(6, min(20, int(base+over+c.worn+rnd.NormFloat64()*0.7+0.5)))
}

package plan

import (
	"fmt"
	"slices"

	"brae/domain"
	"brae/domain/intensity"
	"brae/domain/source"
	"brae/domain/volume"
)

// Preset is a programme with a fixed table of weeks.
type Preset struct {
	ID            string
	Says          string          // what it is, in a sentence
	Weeks         int             // how many it has
	Least, Most   int             // sessions a week; equal if the programme fixes them
	Hardest       intensity.Class // that it asks for
	AfterModerate bool            // it has vigorous work from early on: for clients past the moderate phase
	Sources       []source.Key

	// week returns the sessions of one of its weeks, counted from 1.
	week func(n int, start Start) []Session
}

// Session is one planned session, its bouts in order.
type Session []Bout

// Bout is a stretch of a planned session. It is in seconds since some
// programmes count in half minutes.
type Bout struct {
	Class   intensity.Class
	Seconds int
	Oxygen  int // per cent of maximal oxygen uptake; 0 if the programme names none
}

// Presets returns all presets, by how hard they get.
//
// Source: nhlbi_walk, racgp_cardiac, nhs_run, heritage.
// Practice rule: practice.
func Presets() []Preset { return slices.Clone(presets) }

// PresetOf returns the preset with that ID.
func PresetOf(id string) (Preset, bool) {
	i := slices.IndexFunc(presets, func(ps Preset) bool { return ps.ID == id })
	if i < 0 {
		return Preset{}, false
	}
	return presets[i], true
}

// Sessions returns the sessions of a week, counted from 1, for a client who
// starts so. Weeks after the last are like the last.
func (ps Preset) Sessions(week int, start Start) []Session {
	return ps.week(max(1, min(week, ps.Weeks)), start)
}

// fromPreset makes a plan from a preset.
func fromPreset(in Input, p Policy) (Plan, error) {
	ps, _ := PresetOf(in.Preset)
	if ps.Hardest > in.Ceiling {
		return Plan{}, held("preset", "This programme is harder than what is allowed now.")
	}
	if ps.Least < ps.Most && (in.Start.Sessions < ps.Least || in.Start.Sessions > ps.Most) {
		return Plan{}, domain.Problems{
			"start.sessions": fmt.Sprintf("This programme has %d to %d sessions a week.", ps.Least, ps.Most),
		}
	}
	plan := Plan{Preset: ps.ID, Sources: ps.Sources}
	for n := 1; n <= in.Weeks; n++ {
		w := weekOf(n, ps.Sessions(n, in.Start))
		if n > 1 {
			w.Step = step(plan.Weeks[n-2].Dose, w.Dose)
		}
		plan.Weeks = append(plan.Weeks, w)
	}
	plan.note(ps, in)
	plan.finish(in, p)
	return plan, nil
}

// note notes where the plan is not what the input or the programme says.
func (plan *Plan) note(ps Preset, in Input) {
	if in.Weeks < ps.Weeks {
		plan.Notes = append(plan.Notes, Reason{NoteCutShort, in.Weeks, ps.Weeks})
	}
	if in.Weeks > ps.Weeks {
		plan.Notes = append(plan.Notes, Reason{NoteRepeated, in.Weeks, ps.Weeks})
	}
	first := plan.Weeks[0].Dose
	if first.Sessions != in.Start.Sessions || first.Minutes != in.Start.Minutes || first.Class != in.Start.Class {
		plan.Notes = append(plan.Notes, Reason{Code: NoteStartNotUsed})
	}
	if ps.AfterModerate {
		plan.Notes = append(plan.Notes, Reason{Code: NoteAfterModerate})
	}
}

// weekOf adds up the sessions of a week. Seconds become minutes for each class
// of the whole week, half a minute rounded up; the minutes of a session are
// those of the longest.
func weekOf(number int, sessions []Session) Week {
	var light, moderate, vigorous, longest int
	for _, s := range sessions {
		long := 0
		for _, b := range s {
			long += b.Seconds
			switch {
			case b.Class >= intensity.Vigorous:
				vigorous += b.Seconds
			case b.Class == intensity.Moderate:
				moderate += b.Seconds
			default:
				light += b.Seconds
			}
		}
		longest = max(longest, long)
	}
	w := Week{
		Number: number,
		Dose:   Dose{Class: intensity.Light, Sessions: len(sessions), Minutes: minutes(longest)},
		Totals: volume.Sum([]volume.Part{
			{Minutes: minutes(light), Class: intensity.Light},
			{Minutes: minutes(moderate), Class: intensity.Moderate},
			{Minutes: minutes(vigorous), Class: intensity.Vigorous},
		}),
	}
	switch {
	case moderate > 0:
		w.Dose.Class, w.Dose.Vigorous = intensity.Moderate, w.Totals.Vigorous
	case vigorous > 0:
		w.Dose.Class = intensity.Vigorous
	default:
		return w
	}
	w.Dose.Easy = w.Totals.Light / w.Dose.Sessions
	return w
}

func minutes(seconds int) int { return (seconds + 30) / 60 }

package screening

import (
	"slices"
	"strconv"

	"brae/domain"
	"brae/domain/clearance"
	"brae/domain/source"
)

// Due is one reason to screen a client again.
type Due struct {
	Rule  string // E17, E4, E5, E6
	On    domain.Date
	Says  string
	Cites []source.Key
}

// RescreenInput is what decides whether a client is screened again.
type RescreenInput struct {
	On      domain.Date // the day of the screening in use
	Regular bool        // as that screening found
	Changes []clearance.Change
	History History // what the log says; the zero History says nothing
	Logs    bool    // the client logs here, so that the history tells something
}

// changeWords says what a change is.
var changeWords = map[clearance.ChangeKind]string{
	clearance.NewSymptom: "A sign or symptom is new or has changed", clearance.NewEvent: "Something has happened that the screening does not know of",
	clearance.NewDiagnosis: "A disease is new", clearance.MedicineChange: "A medicine has changed that bears on heart rate or blood sugar",
	clearance.PregnancyOrBirth: "A pregnancy has begun or ended",
}

// Rescreen returns why a client has to be screened again, the earliest first; none
// if the screening still counts: twelve months are over, something has changed
// since, thirteen weeks in a row without exercise in a regular exerciser, or three
// months of regular exercise in one who was not. Changes on the day of the
// screening are part of it, unless a client reported them after it.
//
// Source: riebe2015. Practice rule: practice.
func Rescreen(in RescreenInput, today domain.Date, p Policy) []Due {
	var list []Due
	if in.On.IsZero() {
		return nil
	}
	end := in.On.AddMonths(p.ValidMonths)
	if !today.Before(end) {
		list = append(list, Due{"E17", end, "The screening counted until " + end.Words() + ".", []source.Key{"practice", "riebe2015"}})
	}
	for _, c := range in.Changes {
		if !c.EndsScreening() || !c.On.After(in.On) || c.On.After(today) {
			continue
		}
		says := changeWords[c.Kind]
		if name := TermName(c.Code); c.Code != "" && name != c.Code {
			says += ": " + name
		}
		rule := "E17"
		if c.Kind == clearance.NewDiagnosis {
			rule = "E4"
		}
		list = append(list, Due{rule, c.On, says + ", " + c.On.Words() + ".", []source.Key{"practice", "riebe2015"}})
	}
	if in.Logs {
		idle := min(in.History.Idle, today.DaysSince(in.On)/7) // of the weeks since the screening
		switch {
		case in.Regular && AfterIdle(idle, p) == IdleRescreen:
			list = append(list, Due{"E6", today, "Was exercising regularly, and has logged no exercise for " + strconv.Itoa(idle) + " weeks.", []source.Key{"practice"}})
		case !in.Regular && in.History.Regular:
			list = append(list, Due{"E5", today, "Has exercised regularly for three months now.", []source.Key{"practice", "acsm_webinar2017"}})
		}
	}
	slices.SortStableFunc(list, func(a, b Due) int { return a.On.DaysSince(b.On) })
	return list
}

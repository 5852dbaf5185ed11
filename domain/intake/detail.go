package intake

import (
	"time"

	"brae/domain"
	"brae/domain/screening"
)

// Detail is what is asked about a yes: since when, at rest or with effort,
// changing or stable, seen by a doctor.
type Detail struct {
	Code   string      `json:"code"`
	Since  domain.Date `json:"since"` // the last day that what was typed may mean; zero if nobody knows
	Typed  string      `json:"typed"` // since when, in the client's words: 2019, 2019-05
	When   string      `json:"when"`  // rest, effort, both; of a symptom
	Course string      `json:"course"`
	Seen   domain.Date `json:"seen"` // by a doctor, about it
}

// The answers about a yes.
const (
	AtRest   = "rest"
	InEffort = "effort"
	Both     = "both"
	Stable   = "stable"
	Changing = "changing"
)

// SinceField, WhenField, CourseField and SeenField are the fields of the details
// of a health question; AsideField is the reason for which a practitioner sets its
// answer aside, AsideByField who did, which the store fills in.

// SinceField is since when.
func SinceField(code string) string { return "since." + code }

// WhenField is at rest or with effort.
func WhenField(code string) string { return "when." + code }

// CourseField is stable or changing.
func CourseField(code string) string { return "course." + code }

// SeenField is the day a doctor saw the client about it.
func SeenField(code string) string { return "seen." + code }

// AsideField is why an answer is set aside.
func AsideField(code string) string { return "aside." + code }

// AsideByField is who set an answer aside.
func AsideByField(code string) string { return "aside_by." + code }

// The fields of a practitioner's word on regular exercise. Who said so is filled
// in by the store.
const (
	FieldAttested       = "attested"
	FieldAttestedReason = "attested_reason"
	FieldAttestedBy     = "attested_by"
)

// SignedFields are the fields whose change the store signs with the name of who
// changed them, with the field that the name goes to.
func SignedFields() map[string]string {
	fields := map[string]string{FieldAttested: FieldAttestedBy, FieldAttestedReason: FieldAttestedBy}
	for _, t := range screening.Codes() {
		if t.Tier == "" {
			fields[AsideField(t.Code)] = AsideByField(t.Code)
		}
	}
	return fields
}

// Asked reports whether details are asked about a yes to a question.
func Asked(t screening.Term) bool {
	return t.Kind == screening.Symptom || t.Kind == screening.Known && t.Tier == ""
}

func (r *reader) details(record *Record) {
	for _, t := range screening.Codes() {
		if !Asked(t) || !record.Answers.Of(t.Code).CountsAsYes() {
			continue
		}
		d := Detail{Code: t.Code, Typed: r.text(SinceField(t.Code)), Course: r.text(CourseField(t.Code)), Seen: r.date(SeenField(t.Code))}
		if t.Kind == screening.Symptom {
			d.When = r.text(WhenField(t.Code))
		}
		if d.Typed != "" {
			var ok bool
			if d.Since, ok = lastDay(d.Typed); !ok {
				r.problems.Add(SinceField(t.Code), "Type a year, a month or a day, such as 2019, 2019-05 or 2019-05-20.")
			}
		}
		switch d.When {
		case "", AtRest, InEffort, Both:
		default:
			r.problems.Add(WhenField(t.Code), "Choose at rest, with effort or both.")
		}
		switch d.Course {
		case "", Stable, Changing:
		default:
			r.problems.Add(CourseField(t.Code), "Choose stable or changing.")
		}
		if d != (Detail{Code: t.Code}) {
			record.Details = append(record.Details, d)
		}
		if reason := r.text(AsideField(t.Code)); reason != "" {
			record.Reclassified = append(record.Reclassified, screening.Reclassified{
				Code: t.Code, By: r.text(AsideByField(t.Code)), Reason: reason,
			})
		}
	}
}

// lastDay returns the last day of a year, a month or a day: a doctor's word from
// before the end of the month in which something began may be from before it.
//
// Practice rule: practice.
func lastDay(typed string) (domain.Date, bool) {
	for layout, months := range map[string]int{"2006": 12, "2006-01": 1} {
		if t, err := time.Parse(layout, typed); err == nil && t.Year() > 1900 {
			return domain.DateOf(t, time.UTC).AddMonths(months).AddDays(-1), true
		}
	}
	d, err := domain.ParseDate(typed)
	return d, err == nil && d.Year > 1900
}

// onsets tells since when what was answered yes is known, not later than today.
func (r Record) onsets(today domain.Date) []screening.Onset {
	var list []screening.Onset
	for _, d := range r.Details {
		if d.Since.IsZero() {
			continue
		}
		if d.Since.After(today) {
			d.Since = today
		}
		list = append(list, screening.Onset{Code: d.Code, On: d.Since})
	}
	return list
}

// setAside are the answers that were set aside by somebody with a name.
func (r Record) setAside() []screening.Reclassified {
	var list []screening.Reclassified
	for _, a := range r.Reclassified {
		if a.By != "" {
			list = append(list, a)
		}
	}
	return list
}

// DetailOf returns the details of a question.
func (r Record) DetailOf(code string) (Detail, bool) {
	for _, d := range r.Details {
		if d.Code == code {
			return d, true
		}
	}
	return Detail{}, false
}

func (r *reader) attested(record *Record) {
	word, reason, by := r.text(FieldAttested), r.text(FieldAttestedReason), r.text(FieldAttestedBy)
	switch {
	case word == "":
		if reason != "" {
			r.problems.Add(FieldAttested, "Say whether the client counts as exercising regularly, or take the reason away.")
		}
	case word != "yes" && word != "no":
		r.problems.Add(FieldAttested, "Choose yes or no.")
	case reason == "":
		r.problems.Add(FieldAttestedReason, "Write why.")
	case by != "":
		record.Attested = &screening.Attested{Regular: word == "yes", By: by, Reason: reason}
	}
}

// Limits are what limits a client's movement.
type Limits struct {
	Text         string `json:"text,omitempty"`         // in words
	Falls        int    `json:"falls,omitempty"`        // in the last twelve months
	FallsKnown   bool   `json:"falls_known,omitempty"`  // they were asked for
	Aid          bool   `json:"aid,omitempty"`          // walks with a stick, a frame or an arm
	CannotWatch  bool   `json:"cannot_watch,omitempty"` // cannot count a pulse or answer the talk test
	NobodyThere  bool   `json:"nobody_there,omitempty"` // nobody can be reached in an emergency
	DizzyOnStand bool   `json:"dizzy_stand,omitempty"`  // dizzy on standing up
}

// The fields of the limits on movement.
const (
	FieldLimits       = "limits"
	FieldFalls        = "falls"
	FieldAid          = "aid"
	FieldDizzyOnStand = "dizzy_on_standing"
	FieldCannotWatch  = "cannot_watch"
	FieldNobodyThere  = "nobody_there"
)

func (r *reader) limits(record *Record) {
	record.Limits = Limits{
		Text: r.text(FieldLimits), FallsKnown: r.text(FieldFalls) != "",
		Falls: r.whole(FieldFalls, 0, 365, "Falls are a whole number, such as 0."),
		Aid:   r.yes(FieldAid), DizzyOnStand: r.yes(FieldDizzyOnStand), CannotWatch: r.yes(FieldCannotWatch), NobodyThere: r.yes(FieldNobodyThere),
	}
}

// yes reads a three-way answer; not sure counts as yes.
func (r *reader) yes(field string) bool {
	a, err := screening.ParseAnswer(r.text(field))
	if err != nil {
		r.problems.Add(field, "Answer with yes, no or not sure.")
	}
	return a.CountsAsYes()
}

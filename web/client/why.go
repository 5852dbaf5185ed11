package client

import (
	"context"

	"brae/domain/clearance"
	"brae/domain/intensity"
	"brae/domain/screening"
	"brae/store"
	"brae/web/page"
	"brae/web/say"
	"brae/web/ui"
)

// whyView says in plain words what the plan rests on.
type whyView struct {
	Reasons []string // empty before the first screening
	Rule    string
	Sources []ui.Source
}

// why tells the decision of the screening in use to the person it is about. The
// sentences of the record name illnesses and are written for the practice; these
// come from the same values.
func why(ctx context.Context, w store.ClientWeek) whyView {
	if w.Decision == nil {
		return whyView{}
	}
	d := *w.Decision
	var v whyView
	add := func(sentence string) { v.Reasons = append(v.Reasons, sentence) }
	switch d.Group {
	case screening.NoDisease:
		add(say.T(ctx, "You told us of no illness of the heart, blood vessels, kidneys or blood sugar, and of no warning signs."))
	case screening.Disease:
		add(say.T(ctx, "You told us of an illness that needs some care when you train."))
	case screening.Symptomatic:
		add(say.T(ctx, "You told us of signs that a doctor should look at."))
	}
	if d.Regular {
		add(say.T(ctx, "You were active on most weeks before you came to us."))
	} else {
		add(say.T(ctx, "You were not active on most weeks before you came to us. So you build up step by step."))
	}
	if d.PracticeRule != "" {
		add(say.T(ctx, "At our practice, the first weeks are easy for people who start anew."))
	}
	switch {
	case len(w.Holds) > 0:
		add(say.T(ctx, "Something is on hold, so the plan is easier for now."))
	case d.OnFile != "" && d.OnFile != "none" && d.OnFile != string(clearance.Refused) && d.OnFile != string(clearance.LapsedWord):
		add(say.T(ctx, "A doctor has said how hard you may train, and your plan keeps to that."))
	}
	if w.Allowed() >= intensity.Light {
		add(say.F(ctx, "For now, the hardest you may train is: %s.", ui.SayClassLow(ctx, w.Allowed())))
	}
	v.Rule = say.F(ctx, "Row %s of the published table.", d.Row)
	for _, key := range d.Sources {
		s := page.Source(key)
		s.Status = say.T(ctx, s.Status)
		v.Sources = append(v.Sources, s)
	}
	return v
}

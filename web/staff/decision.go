package staff

import (
	"net/http"
	"strings"

	"brae/domain/clearance"
	"brae/domain/intensity"
	"brae/domain/screening"
	"brae/store"
	"brae/web/page"
	"brae/web/ui"
)

// decisionView is what the decision page shows.
type decisionView struct {
	Client    store.Client
	Screening store.Screening
	Block     ui.Decision
	Practice  string // what the practice's own rule adds, "" if nothing
	Inputs    []ui.Definition
}

func (v decisionView) base() string { return recordPath(v.Client.ID) }

// Decision shows the screening in use: what the client may do, and why.
func (p Pages) Decision(w http.ResponseWriter, r *http.Request) error {
	id, err := pathID(r, "client")
	if err != nil {
		return err
	}
	client, s, err := p.Store.Decision(r.Context(), page.From(r.Context()).Actor(), id)
	if err != nil {
		return err
	}
	return p.renderRecord(w, r, http.StatusOK, p.Frame(r, "Decision for "+client.Name()), id, decisionPage(newDecisionView(client, s)))
}

func newDecisionView(c store.Client, s store.Screening) decisionView {
	d := s.Decision
	v := decisionView{Client: c, Screening: s}
	v.Block = ui.Decision{
		Sentence: sentenceOf(d), Held: d.Hold != clearance.NoHold,
		Rule: "Rule " + d.Rule + ", published row " + d.Row + ", " + d.RuleSet,
		Why:  d.Reasons, Next: nextOf(d),
	}
	for _, key := range d.Sources {
		v.Block.Sources = append(v.Block.Sources, page.Source(key))
	}
	if d.PracticeRule != "" {
		v.Practice = "The published rule allows " + words(d.RowCeiling) + " work at once. This practice begins with " +
			words(d.FirstPhaseCeiling) + " work (rule " + d.PracticeRule + ")."
	}
	v.Inputs = []ui.Definition{
		{Term: "Screened on", Detail: day(s.DecidedOn) + " by " + s.CreatedBy},
		{Term: "Regularly active", Detail: yesOrNo(d.Regular)},
		{Term: "Group", Detail: groupWords(d.Group)},
		{Term: "Wanted next", Detail: ui.ClassWord(d.Desired)},
		{Term: "Allowed now", Detail: ceilingWords(d.CeilingNow)},
		{Term: "May build up to", Detail: later(d.MayProgressTo)},
		{Term: "Answered yes or not sure", Detail: saidYes(s)},
	}
	return v
}

// decisionItems is the decision in short, for the client's record.
func decisionItems(s store.Screening) []ui.Definition {
	return []ui.Definition{
		{Term: "Allowed now", Detail: sentenceOf(s.Decision)},
		{Term: "Rule", Detail: s.Decision.Rule + ", " + s.Decision.RuleSet},
		{Term: "Screened", Detail: day(s.DecidedOn)},
	}
}

// sentenceOf says what may be done today.
func sentenceOf(d screening.Decision) string {
	switch {
	case d.CeilingNow == intensity.None:
		return "No exercise until a doctor has answered."
	case d.Hold == clearance.AboveLight:
		return "Light exercise only. Moderate and vigorous work wait."
	case d.Hold == clearance.Vigorous:
		return "Up to " + words(d.CeilingNow) + " exercise. Vigorous work waits until a doctor has answered."
	case d.CeilingNow == intensity.Light && d.CeilingNow < d.MayProgressTo:
		return "Start with light exercise. It may build up to " + words(d.MayProgressTo) + " in time."
	case d.CeilingNow < d.MayProgressTo:
		return "Start with up to " + words(d.CeilingNow) + " exercise. It may build up to " + words(d.MayProgressTo) + " in time."
	}
	return "Up to " + words(d.CeilingNow) + " exercise."
}

// nextOf says what happens next.
func nextOf(d screening.Decision) string {
	switch d.Action {
	case screening.Start, screening.StartLowerProgress:
		return "Sign a prescription and begin."
	case screening.Continue:
		return "Go on as before."
	case screening.Resume, screening.ResumeLowerProgress:
		return "Take exercise up again within the doctor's ceiling."
	case screening.ContinueLowerAndRefer:
		return "Go on with moderate work, and write to the doctor about vigorous work."
	case screening.ReferFirst:
		return "Write to the doctor. Exercise begins after the answer."
	case screening.StopAndRefer:
		return "Stop exercise now and write to the doctor. It begins again after the answer."
	case screening.Capped:
		return "Stay below the doctor's ceiling."
	case screening.NoExercise:
		return "The doctor has said: no exercise now."
	}
	return ""
}

func words(c intensity.Class) string { return strings.ToLower(ui.ClassWord(c)) }

func ceilingWords(c intensity.Class) string {
	if c == intensity.None {
		return "No exercise"
	}
	return "Up to " + words(c)
}

// later says how far a client may get in time.
func later(c intensity.Class) string {
	if c == intensity.None {
		return "Open until a doctor has answered"
	}
	return ceilingWords(c)
}

func yesOrNo(b bool) string {
	if b {
		return "Yes"
	}
	return "No"
}

func groupWords(g screening.Group) string {
	switch g {
	case screening.Symptomatic:
		return "Signs or symptoms"
	case screening.Disease:
		return "Known disease, no signs or symptoms"
	}
	return "No known disease, no signs or symptoms"
}

// saidYes lists what was answered with yes or not sure.
func saidYes(s store.Screening) string {
	var names []string
	for _, t := range screening.Codes() {
		switch s.Input.Answers.Of(t.Code) {
		case screening.Yes:
			names = append(names, t.Name)
		case screening.NotSure:
			names = append(names, t.Name+" (not sure)")
		}
	}
	if names == nil {
		return "Nothing"
	}
	return strings.Join(names, "; ")
}

// buttons lead on from the decision.
func (v decisionView) buttons() []ui.Button {
	if v.Screening.Decision.CeilingNow == intensity.None {
		return []ui.Button{{Label: "To the record", Href: v.base()}, {Label: "Screen again", Href: v.base() + "/intake", Kind: ui.Quiet}}
	}
	return []ui.Button{{Label: "Prescribe", Href: v.base() + "/prescription/new"}, {Label: "Screen again", Href: v.base() + "/intake", Kind: ui.Quiet}}
}

package staff

import (
	"net/http"
	"slices"
	"strings"

	"github.com/google/uuid"

	"brae/domain"
	"brae/domain/caution"
	"brae/domain/clearance"
	"brae/domain/intake"
	"brae/domain/intensity"
	"brae/domain/screening"
	"brae/store"
	"brae/web/page"
	"brae/web/ui"
)

// decisionView is what the decision page shows.
type decisionView struct {
	store.Standing
	Block    ui.Decision
	Practice string // what the practice's own rule adds, "" if nothing
	Inputs   []ui.Definition
	Compare  ui.Table // what the screening said beside what stands now

	Stricter stricterForm
	Aside    asideForm
	Problems domain.Problems
}

// stricterForm is a lower ceiling as chosen.
type stricterForm struct {
	Ceiling string `form:"ceiling"`
	Reason  string `form:"reason"`
}

// asideForm is an answer to set aside.
type asideForm struct {
	Code   string `form:"code"`
	Reason string `form:"aside_reason"`
}

func (v decisionView) base() string { return recordPath(v.Client.ID) }

// Decision shows what the client may do today, and why.
func (p Pages) Decision(w http.ResponseWriter, r *http.Request) error {
	id, err := pathID(r, "client")
	if err != nil {
		return err
	}
	return p.renderDecision(w, r, http.StatusOK, id, decisionView{})
}

func (p Pages) renderDecision(w http.ResponseWriter, r *http.Request, status int, id uuid.UUID, v decisionView) error {
	standing, err := p.Store.Standing(r.Context(), page.From(r.Context()).Actor(), id)
	if err != nil {
		return err
	}
	v.Standing = standing
	v.fill()
	frame := p.Frame(r, "Decision for "+v.Client.Name())
	frame.ProblemTitle = v.Problems != nil
	return p.renderRecord(w, r, status, frame, id, decisionPage(v))
}

// BeStricter lowers the ceiling by a practitioner's hold.
func (p Pages) BeStricter(w http.ResponseWriter, r *http.Request) error {
	id, err := pathID(r, "client")
	if err != nil {
		return err
	}
	var f stricterForm
	if err := page.Decode(r, &f); err != nil {
		return err
	}
	ceiling, err := intensity.ParseClass(f.Ceiling)
	if err != nil {
		ceiling = intensity.NearMaximal // refused with words
	}
	err = p.Store.TightenCeiling(r.Context(), page.From(r.Context()).Actor(), id, ceiling, f.Reason)
	return p.decided(w, r, id, err, decisionView{Stricter: f})
}

// SetAside sets an answer of the screening aside and decides anew.
func (p Pages) SetAside(w http.ResponseWriter, r *http.Request) error {
	id, err := pathID(r, "client")
	if err != nil {
		return err
	}
	var f asideForm
	if err := page.Decode(r, &f); err != nil {
		return err
	}
	err = p.Store.Reclassify(r.Context(), page.From(r.Context()).Actor(), id, f.Code, strings.TrimSpace(f.Reason))
	if problems, ok := page.Problems(err); ok && problems["reason"] != "" {
		err = domain.Problems{"aside_reason": problems["reason"]}
	}
	return p.decided(w, r, id, err, decisionView{Aside: f})
}

// decided shows the page again with what was refused, or goes back to it.
func (p Pages) decided(w http.ResponseWriter, r *http.Request, id uuid.UUID, err error, v decisionView) error {
	problems, ok := page.Problems(err)
	if ok {
		v.Problems = problems
		return p.renderDecision(w, r, http.StatusUnprocessableEntity, id, v)
	}
	if err != nil {
		return err
	}
	return page.See(w, r, recordPath(id)+"/decision")
}

func (v *decisionView) fill() {
	d := v.Screening.Decision
	v.Block = ui.Decision{
		Sentence: v.may(), Held: v.Ceiling < d.MayProgressTo || v.Ceiling == intensity.None,
		Rule: "Rule " + d.Rule + ", published row " + d.Row + ", " + d.RuleSet,
		Why:  d.Reasons, Next: nextOf(v.Now),
	}
	for _, key := range d.Sources {
		v.Block.Sources = append(v.Block.Sources, page.Source(key))
	}
	if d.PracticeRule != "" {
		v.Practice = "The published rule allows " + words(d.RowCeiling) + " work at once. This practice begins with " +
			words(d.FirstPhaseCeiling) + " work (rule " + d.PracticeRule + ")."
	}
	v.Inputs = []ui.Definition{
		{Term: "Screened on", Detail: day(v.Screening.DecidedOn) + " by " + v.Screening.CreatedBy},
		{Term: "Counts until", Detail: day(v.Lapses)},
		{Term: "Regularly active", Detail: yesOrNo(d.Regular)},
		{Term: "Group", Detail: groupWords(d.Group)},
		{Term: "Wanted next", Detail: ui.ClassWord(d.Desired)},
		{Term: "May build up to", Detail: later(v.Now.MayProgressTo)},
		{Term: "Answered yes or not sure", Detail: saidYes(v.Screening)},
	}
	for _, a := range v.Screening.Input.Reclassified {
		v.Inputs = append(v.Inputs, ui.Definition{Term: "Set aside", Detail: termName(a.Code) + ", by " + a.By + ": " + a.Reason})
	}
	if !v.Consented {
		v.Inputs = append(v.Inputs, ui.Definition{Term: "Consent", Detail: "None on file"})
	}
	row := func(what, was, now string) ui.Row {
		return ui.Row{Cells: []ui.Cell{{Text: what}, {Text: was}, {Text: now}}}
	}
	v.Compare = ui.Table{
		Caption: "The screening and what stands now", HideCaption: true,
		Columns: []ui.Column{{Label: ""}, {Label: "Screening of " + day(v.Screening.DecidedOn)}, {Label: "Today"}},
		Rows: []ui.Row{
			row("Allowed", ceilingWords(d.CeilingNow), ceilingWords(v.Ceiling)),
			row("May build up to", later(d.MayProgressTo), later(v.Now.MayProgressTo)),
			row("On hold", scopeWords(d.Hold), v.holdList()),
			row("A doctor's word", onFileWords(d.OnFile), onFileWords(v.Now.OnFile)),
		},
	}
}

// may says in a sentence what may be done today.
func (v decisionView) may() string {
	switch {
	case v.Ceiling == intensity.None:
		return "May do today: no exercise."
	case v.Ceiling < v.Now.CeilingNow:
		return "May do today: up to " + words(v.Ceiling) + " exercise. A hold keeps it there."
	}
	return "May do today: " + lowerFirst(sentenceOf(v.Now))
}

// mayNot says in a sentence what may not be done today.
func (v decisionView) mayNot() string {
	switch {
	case v.Ceiling == intensity.None:
		return "May not: any exercise, not even light."
	case v.Ceiling >= intensity.Vigorous && v.Gate.Allow:
		return "Nothing is ruled out."
	case v.Ceiling >= intensity.Vigorous:
		return "May not: vigorous exercise. " + v.Gate.First.Says
	}
	return "May not: anything harder than " + words(v.Ceiling) + " exercise."
}

// until says in a sentence until when that holds.
func (v decisionView) until() string {
	switch {
	case len(v.Due) > 0:
		return "Until: the client is screened again, which is due now."
	case len(v.Holds) > 0 && v.Holds[0].Needs == clearance.NeedsPractitioner:
		return "Until: a practitioner releases the hold, with a reason."
	case len(v.Holds) > 0:
		return "Until: " + untilWords(v.Holds[0].Needs)
	case v.Ceiling < v.Now.MayProgressTo:
		return "Until: the client has built up to more, step by step. The screening counts until " + day(v.Lapses) + "."
	}
	return "Until: " + day(v.Lapses) + ", or until something changes."
}

func untilWords(n clearance.Needs) string {
	switch n {
	case clearance.NeedsResolution:
		return "it is over, and a doctor has decided after that."
	case clearance.NeedsStatement:
		return "the client says that it has been over for a day."
	}
	return "a doctor has answered."
}

func lowerFirst(s string) string {
	if s == "" {
		return s
	}
	return strings.ToLower(s[:1]) + s[1:]
}

func scopeWords(s clearance.Scope) string {
	if s == clearance.NoHold {
		return "Nothing"
	}
	return holdWords(s)
}

func (v decisionView) holdList() string {
	var list []string
	for _, h := range v.Holds {
		list = append(list, holdWords(h.Scope)+" ("+termName(h.Cause)+")")
	}
	if list == nil {
		return "Nothing"
	}
	return strings.Join(list, "; ")
}

func onFileWords(word string) string {
	switch word {
	case "lapsed":
		return "Lapsed"
	case "refused":
		return "No exercise now"
	case "cap_light", "cap_moderate", "cap_vigorous":
		return "Up to " + strings.TrimPrefix(word, "cap_")
	}
	return "None that covers this"
}

// stricterOptions are the ceilings below what stands.
func (v decisionView) stricterOptions() []ui.Option {
	var list []ui.Option
	for _, o := range []struct {
		class intensity.Class
		label string
	}{{intensity.Moderate, "Up to moderate"}, {intensity.Light, "Light only"}, {intensity.None, "No exercise"}} {
		if o.class < v.Ceiling {
			list = append(list, ui.Option{Value: o.class.String(), Label: o.label})
		}
	}
	return list
}

// asideOptions are the answers that can be set aside.
func (v decisionView) asideOptions() []ui.Option {
	list := []ui.Option{{Value: "", Label: "Choose"}}
	for _, t := range screening.Codes() {
		done := slices.ContainsFunc(v.Screening.Input.Reclassified, func(a screening.Reclassified) bool { return a.Code == t.Code })
		if intake.Asked(t) && !done && v.Screening.Input.Answers.Of(t.Code).CountsAsYes() {
			list = append(list, ui.Option{Value: t.Code, Label: t.Name})
		}
	}
	return list
}

// cautionList is the cautions with their sources, by condition.
func cautionList(list []caution.Caution) []ui.Definition {
	var items []ui.Definition
	for _, c := range list {
		var cites []string
		for _, key := range c.Cites {
			cites = append(cites, string(page.Source(key).Status))
		}
		items = append(items, ui.Definition{Term: c.About, Detail: c.Says + " (" + strings.Join(slices.Compact(cites), ", ") + ")"})
	}
	return items
}

// changed says what is different from the screening before.
func (v decisionView) changed() []string {
	d := v.Changed
	var list []string
	if d.CeilingWas != d.CeilingIs {
		list = append(list, "Allowed: "+ceilingWords(d.CeilingIs)+"; before: "+lowerFirst(ceilingWords(d.CeilingWas)))
	}
	if d.RegularWas != d.RegularIs {
		list = append(list, "Regularly active: "+yesOrNo(d.RegularIs)+"; before: "+lowerFirst(yesOrNo(d.RegularWas)))
	}
	if d.GroupWas != d.GroupIs {
		list = append(list, "Group: "+groupWords(d.GroupIs)+"; before: "+lowerFirst(groupWords(d.GroupWas)))
	}
	for _, why := range d.New {
		list = append(list, "New: "+why)
	}
	for _, why := range d.Gone {
		list = append(list, "No longer: "+why)
	}
	return list
}

// decisionItems is the decision in short, for the client's record.
func decisionItems(s store.Screening) []ui.Definition {
	return []ui.Definition{
		{Term: "It allowed", Detail: sentenceOf(s.Decision)},
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
	if a := v.Now.Action; v.Ceiling == intensity.None && (a == screening.ReferFirst || a == screening.StopAndRefer) {
		return []ui.Button{{Label: "Write to the doctor", Href: v.base() + "/doctor"}, {Label: "Screen again", Href: v.base() + "/intake", Kind: ui.Quiet}}
	}
	if v.Ceiling == intensity.None {
		return []ui.Button{{Label: "To the record", Href: v.base()}, {Label: "Screen again", Href: v.base() + "/intake", Kind: ui.Quiet}}
	}
	return []ui.Button{{Label: "Prescribe", Href: v.base() + "/prescription/new"}, {Label: "Screen again", Href: v.base() + "/intake", Kind: ui.Quiet}}
}

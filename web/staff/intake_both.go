package staff

import (
	"net/http"
	"net/url"
	"slices"
	"strings"

	"brae/domain/intake"
	"brae/domain/screening"
	"brae/store"
	"brae/web/page"
	"brae/web/ui"
)

// autosave is how a script says that it saves, not a person.
const autosave = "auto"

// twoAnswers is an answer that two people have given differently.
type twoAnswers struct {
	Field, Label string
	Mine, Theirs string
	By           string // who gave the other one
	TakeTheirs   bool   // only they have changed it
}

func pickField(field string) string   { return "pick." + field }
func theirsField(field string) string { return "theirs." + field }

// intakeConflict shows both versions, field by field, when somebody else has saved
// other answers to the same step. Nothing is saved before the person has chosen.
func (p Pages) intakeConflict(w http.ResponseWriter, r *http.Request, id [16]byte, s step, version int, typed store.Answers) error {
	client, draft, err := p.Store.IntakeSince(r.Context(), page.From(r.Context()).Actor(), id, version)
	if err != nil {
		return err
	}
	v := intakeView{Client: client, Step: s}
	for _, field := range s.Fields {
		mine, theirs := typed[field], draft.Answers[field]
		if mine == theirs {
			continue
		}
		by := draft.ChangedBy[field]
		if by == "" {
			by = draft.SavedBy
		}
		v.Both = append(v.Both, twoAnswers{
			Field: field, Label: fieldLabel(field), Mine: answerWords(mine), Theirs: answerWords(theirs), By: by,
			TakeTheirs: draft.ChangedBy[field] != "" && mine == draft.Base[field],
		})
	}
	v.Doubtful = "This intake was saved from somewhere else in the meantime. "
	if len(v.Both) == 0 {
		v.Doubtful += "On this page both agree. Save once more to go on."
	} else {
		v.Doubtful += draft.SavedBy + " saved other answers on this page. Choose for each which one stands. Nothing is lost: the others are kept, too."
	}
	theirs := map[string]string{}
	for _, c := range v.Both {
		theirs[c.Field] = draft.Answers[c.Field]
	}
	for field, value := range typed {
		draft.Answers[field] = value
	}
	v.Draft, v.Theirs = draft, theirs
	return p.renderIntake(w, r, http.StatusConflict, v)
}

// takeTheirs puts the other person's answer where it was chosen.
func takeTheirs(form url.Values, s step, typed store.Answers) {
	for _, field := range s.Fields {
		if form.Get(pickField(field)) == "theirs" {
			typed[field] = form.Get(theirsField(field))
		}
	}
}

func (c twoAnswers) field() ui.Field {
	f := ui.Field{
		Name: pickField(c.Field), Label: c.Label, Value: "mine",
		Options: []ui.Option{{Value: "mine", Label: "Yours: " + c.Mine}, {Value: "theirs", Label: "By " + c.By + ": " + c.Theirs}},
	}
	if c.TakeTheirs {
		f.Value = "theirs"
	}
	return f
}

// answerRest answers with no what is left of a step, or of one group of it.
func answerRest(s step, do string, typed store.Answers) {
	group, one := strings.CutPrefix(do, "no:")
	if do != "rest_no" && !one {
		return
	}
	for _, g := range groupsOf(s.ID) {
		if one && g.ID != group {
			continue
		}
		for _, t := range g.Terms {
			if field := intake.QuestionField(t.Code); typed[field] == "" {
				typed[field] = screening.No.String()
			}
		}
	}
}

// addMedicine puts the medicine that is being added under the others.
func addMedicine(typed store.Answers) {
	name := strings.TrimSpace(typed[intake.FieldMedicineName])
	if name == "" {
		return
	}
	line := intake.MedicineLine(name, typed[intake.FieldMedicineDose], typed[intake.FieldMedicineSince])
	typed[intake.FieldMedicines] = strings.TrimSpace(strings.TrimRight(typed[intake.FieldMedicines], "\r\n") + "\n" + line)
	typed[intake.FieldMedicineName], typed[intake.FieldMedicineDose], typed[intake.FieldMedicineSince] = "", "", ""
}

// sinceOf is since when a medicine is taken.
func sinceOf(record intake.Record, name string) string {
	for _, line := range record.Medicines {
		typed, since := intake.Started(line)
		if since != "" && strings.Contains(strings.ToLower(typed), name) {
			return since
		}
	}
	return ""
}

// fieldLabels name the fields beside the health questions.
var fieldLabels = map[string]string{
	intake.FieldDays: "Days a week", intake.FieldMinutes: "Minutes a day", intake.FieldMonths: "For how many months",
	intake.FieldActivityClass: "How hard it usually is", intake.FieldMedicines: "Medicines", intake.FieldGoal: "Goal",
	intake.FieldDesired: "How hard the client wants to go next", intake.FieldPosture: "Posture", intake.FieldResting1: "First reading",
	intake.FieldResting2: "Second reading", intake.FieldResting3: "Third reading", intake.FieldSystolic: "Upper blood pressure",
	intake.FieldDiastolic: "Lower blood pressure", intake.FieldSystolic2: "Upper blood pressure, second", intake.FieldDiastolic2: "Lower blood pressure, second",
	intake.FieldWeight: "Weight", intake.FieldHeight: "Height", intake.FieldPeak: "Measured peak", intake.FieldFalls: "Falls in twelve months",
	intake.FieldLimits: "What limits movement", intake.FieldAttested: "Counts as exercising regularly", intake.FieldAttestedReason: "Why",
}

// fieldLabel names a field for people.
func fieldLabel(field string) string {
	if label, ok := fieldLabels[field]; ok {
		return label
	}
	kind, code, found := strings.Cut(field, ".")
	if !found {
		return strings.ReplaceAll(field, "_", " ")
	}
	prefix := map[string]string{
		"since": "Since when: ", "when": "At rest or with effort: ", "course": "Changing or stable: ", "seen": "Seen by a doctor: ",
		"aside": "Set aside: ", "explained": "Explained: ", "confirmed": "Confirmed: ",
	}[kind]
	if kind == "confirmed" {
		return prefix + fieldLabel(code)
	}
	return prefix + termName(code)
}

// answerWords is an answer as people read it.
func answerWords(value string) string {
	switch value = strings.TrimSpace(value); value {
	case "":
		return "nothing"
	case "yes", "no", "light", "moderate", "vigorous", "stable", "changing", "both":
		return value
	case "not_sure":
		return "not sure"
	case intake.AtRest:
		return "at rest"
	case intake.InEffort:
		return "with effort"
	}
	return strings.Join(slices.Collect(strings.Lines(strings.ReplaceAll(value, "\r", ""))), "; ")
}

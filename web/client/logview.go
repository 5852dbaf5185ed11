package client

import (
	"context"
	"fmt"
	"maps"
	"net/url"
	"slices"
	"strconv"
	"strings"

	"brae/domain"
	"brae/domain/activity"
	"brae/domain/intensity"
	"brae/domain/triage"
	"brae/store"
	"brae/web/page"
	"brae/web/say"
	"brae/web/ui"
)

// logView is what the log page shows.
type logView struct {
	Form            logForm
	Problems        domain.Problems
	Doubts          domain.Doubts
	Fresh           bool // nothing was sent yet: a script may give the form an id of its own
	Today, Earliest string
	Activities      []ui.Option
	Favourites      []favourite
	Again           *sessionLine // the last session, to log once more
	Late            []triage.Question
	Alarm           store.Triage  // what the reports of a refused form came to
	Emergency       *ui.Emergency // comes before everything else
	Edit            *editView     // the form changes a session that is there
}

// favourite is an activity with its usual minutes, one tap away.
type favourite struct{ Name, Activity, Minutes string }

// href is the form filled in with the favourite, for browsers without scripts.
func (f favourite) href() string {
	return "/log?" + url.Values{"activity": {f.Activity}, "minutes": {f.Minutes}}.Encode()
}

func (f favourite) label(ctx context.Context) string {
	return say.F(ctx, "%s, %s min", f.Name, f.Minutes)
}

// mostFavourites is how many stand on the page: what fits a phone beside the rest.
const mostFavourites = 4

// suggest offers what is done most often.
func (v *logView) suggest(ctx context.Context, week store.ClientWeek) {
	v.Late = week.Late
	if len(week.Recent) > 0 {
		line := newSessionLine(ctx, week.Recent[0], week.Target)
		v.Again = &line
	}
	known := map[string]bool{}
	for _, f := range week.Favourites {
		if len(v.Favourites) < mostFavourites && !known[f.Activity] {
			known[f.Activity] = true
			v.Favourites = append(v.Favourites, favourite{page.ActivityShort(ctx, f.Activity), f.Activity, strconv.Itoa(f.Minutes)})
		}
	}
}

func (v logView) title() string {
	if v.Edit != nil {
		return say.Key("Change a session")
	}
	return say.Key("Log a session")
}

func (v logView) action() string {
	if v.Edit != nil {
		return v.Edit.Action
	}
	return "/log"
}

// doubt is what has to be confirmed, in a sentence.
func (v logView) doubt() string {
	var sentences []string
	for _, field := range slices.Sorted(maps.Keys(v.Doubts)) {
		sentences = append(sentences, v.Doubts[field])
	}
	return strings.Join(sentences, " ")
}

// summary lists what needs another look, at the top of the page.
func (v logView) summary() []ui.Problem {
	if v.Doubts != nil {
		return ui.Problems(map[string]string{"confirmed": v.doubt()})
	}
	return ui.Problems(v.Problems, v.order()...)
}

// order lists the fields as they stand on the page.
func (v logView) order() []string {
	order := []string{"id"}
	for i := range v.Form.Parts {
		for _, field := range []string{"activity", "minutes", "talk", "effort_6_20", "hr"} {
			order = append(order, name(i, field))
		}
	}
	return append(order, "day", "symptoms", "reports", "note", "reason", "minutes")
}

// talkField asks how well the client could talk during the i-th part.
func (v logView) talkField(ctx context.Context, i int) ui.Field {
	f := ui.Field{
		Name: name(i, "talk"), Label: say.T(ctx, "How well could you talk?"), Value: v.Form.Parts[i].Talk,
		Problem: v.Problems[name(i, "talk")], Cards: true,
	}
	for _, t := range intensity.Talks() {
		f.Options = append(f.Options, ui.Option{Value: string(t), Label: say.T(ctx, t.Example())})
	}
	return f
}

// effortField asks for the perceived exertion of the i-th part.
func (v logView) effortField(ctx context.Context, i int) ui.Field {
	f := ui.Field{
		Name: name(i, "effort_6_20"), Label: say.T(ctx, "How hard did it feel, from 6 (rest) to 20 (all you have)?"), Optional: true,
		Value: v.Form.Parts[i].Effort, Problem: v.Problems[name(i, "effort_6_20")],
		Options: []ui.Option{{Value: "", Label: say.T(ctx, "No answer")}},
	}
	for n := 6; n <= 20; n++ {
		f.Options = append(f.Options, ui.Option{Value: strconv.Itoa(n), Label: strconv.Itoa(n)})
	}
	return f
}

// folded reports whether effort and heart rate of the i-th part were left alone.
func (v logView) folded(i int) bool {
	p := v.Form.Parts[i]
	return p.Effort == "" && p.HeartRate == "" && v.Problems[name(i, "effort_6_20")] == "" && v.Problems[name(i, "hr")] == ""
}

// buttons end the form. The server adds and removes parts, so that it works
// without scripts, and the page comes back at the part.
func (v logView) buttons(ctx context.Context) []ui.Button {
	list := []ui.Button{{Label: say.T(ctx, "Save")}}
	n := len(v.Form.Parts)
	if n < maxParts {
		list = append(list, ui.Button{Label: say.T(ctx, "Add a part at another effort"), Name: "do", Value: "add", To: v.action() + "#" + partID(n), Kind: ui.Quiet})
	}
	if n > 1 {
		list = append(list, ui.Button{
			Label: say.F(ctx, "Remove part %d", n), Name: "do", Value: "remove", To: v.action() + "#" + partID(n-2), Kind: ui.Quiet,
		})
	}
	return list
}

// parts answers the buttons that add or remove a part.
func (f *logForm) parts() bool {
	if len(f.Parts) == 0 {
		f.Parts = []partForm{{}}
	}
	switch f.Do {
	case "add":
		if len(f.Parts) < maxParts {
			f.Parts = append(f.Parts, partForm{})
		}
	case "remove":
		if len(f.Parts) > 1 {
			f.Parts = f.Parts[:len(f.Parts)-1]
		}
	default:
		return false
	}
	return true
}

// partForms are the parts of a session as they would be typed.
func partForms(parts []store.Part) []partForm {
	var list []partForm
	for _, p := range parts {
		f := partForm{Activity: p.Activity, Minutes: strconv.Itoa(p.Minutes), Talk: string(p.Talk)}
		if p.Effort > 0 {
			f.Effort = strconv.Itoa(p.Effort)
		}
		if p.HeartRate > 0 {
			f.HeartRate = strconv.Itoa(p.HeartRate)
		}
		list = append(list, f)
	}
	return list
}

// groupWords are the headings of the list of activities.
var groupWords = map[activity.Group]string{
	activity.Walk: say.Key("Walking"), activity.Stairs: say.Key("Stairs and steps"), activity.Run: say.Key("Running"), activity.Cycle: say.Key("Cycling"),
	activity.Machine: say.Key("Machines"), activity.Water: say.Key("In the water"), activity.Strength: say.Key("Strength"), activity.Gentle: say.Key("Gentle exercise"),
	activity.Dance: say.Key("Dancing"), activity.Sport: say.Key("Sport"), activity.Home: say.Key("House and garden"), activity.Rest: say.Key("Rest"),
}

// activityOptions lists the activities by group, those done lately first and only
// there: what most people look for is what they did the last time.
func activityOptions(ctx context.Context, recent []store.Session) []ui.Option {
	options := []ui.Option{{Value: "", Label: say.T(ctx, "Choose")}}
	lately := map[string]bool{}
	for _, s := range recent {
		for _, p := range s.Parts {
			if a, err := activity.Find(p.Activity); err == nil && !lately[a.ID] {
				lately[a.ID] = true
				options = append(options, ui.Option{Value: a.ID, Label: page.ActivityName(ctx, a.ID), Group: say.T(ctx, "What you did lately")})
			}
		}
	}
	for _, a := range activity.All() {
		if !lately[a.ID] {
			options = append(options, ui.Option{Value: a.ID, Label: page.ActivityName(ctx, a.ID), Group: say.T(ctx, groupWords[a.Group])})
		}
	}
	return options
}

func partID(i int) string { return fmt.Sprintf("part-%d", i+1) }

func partTitle(ctx context.Context, i, of int) string {
	if of == 1 {
		return say.T(ctx, "What you did")
	}
	return say.F(ctx, "Part %d of %d", i+1, of)
}

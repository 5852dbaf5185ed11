package staff

import (
	"fmt"
	"net/http"
	"slices"
	"strconv"
	"strings"

	"brae/domain"
	"brae/domain/rulebook"
	"brae/domain/source"
	"brae/store"
	"brae/web/page"
	"brae/web/ui"
)

// topics is the order of the sources page.
var topics = []source.Topic{
	source.TopicScreening, source.TopicClearance, source.TopicVitals, source.TopicTriage, source.TopicHeartRate,
	source.TopicIntensity, source.TopicMedicine, source.TopicVolume, source.TopicPlan, source.TopicFitness, source.TopicActivity, source.TopicCaution,
	source.TopicRecord,
}

// sourcesView is what the sources page shows.
type sourcesView struct {
	InUse    store.Settings
	Topics   []topicView
	Typed    map[string]string // values as typed, by key; nil before
	Reason   string
	Name     string
	Problems domain.Problems
	Lead     bool
}

// topicView is one topic with its rules, settings and citations.
type topicView struct {
	Topic     source.Topic
	ID        string
	Rules     []source.Rule
	Settings  []source.Setting
	Citations []source.Citation
}

// Sources shows every rule in use with its source, and the practice's settings.
func (p Pages) Sources(w http.ResponseWriter, r *http.Request) error {
	return p.renderSources(w, r, http.StatusOK, sourcesView{})
}

// ChangeSettings makes a new version of the settings.
func (p Pages) ChangeSettings(w http.ResponseWriter, r *http.Request) error {
	if err := page.ParseForm(r); err != nil {
		return err
	}
	v := sourcesView{Typed: map[string]string{}, Reason: r.PostForm.Get("reason")}
	values := source.Values{}
	for _, s := range rulebook.Settings() {
		if !r.PostForm.Has(s.Key) {
			continue
		}
		v.Typed[s.Key] = r.PostForm.Get(s.Key)
		n, err := strconv.Atoi(strings.TrimSpace(v.Typed[s.Key]))
		if err != nil {
			v.Problems.Add(s.Key, source.RangeSentence(s))
		}
		values[s.Key] = n
	}
	version, _ := strconv.Atoi(r.PostForm.Get("version")) // a wrong one is refused as outdated
	if v.Problems == nil {
		err := p.Store.ChangeSettings(r.Context(), page.From(r.Context()).Actor(), version, values, v.Reason)
		if err == nil {
			p.Say(r.Context(), "The settings are changed. Sign them below once they are right.")
			return page.See(w, r, "/sources")
		}
		var ok bool
		if v.Problems, ok = page.Problems(err); !ok {
			return err
		}
	}
	return p.renderSources(w, r, http.StatusUnprocessableEntity, v)
}

// SignRules puts the lead's name under the rules and settings in use.
func (p Pages) SignRules(w http.ResponseWriter, r *http.Request) error {
	if err := page.ParseForm(r); err != nil {
		return err
	}
	version, _ := strconv.Atoi(r.PostForm.Get("version")) // a wrong one is refused as outdated
	name := r.PostForm.Get("name")
	err := p.Store.SignRules(r.Context(), page.From(r.Context()).Actor(), version, name)
	if problems, ok := page.Problems(err); ok {
		return p.renderSources(w, r, http.StatusUnprocessableEntity, sourcesView{Name: name, Problems: problems})
	}
	if err != nil {
		return err
	}
	p.Say(r.Context(), "The rules and settings in use are signed.")
	return page.See(w, r, "/sources")
}

func (p Pages) renderSources(w http.ResponseWriter, r *http.Request, status int, v sourcesView) error {
	who := page.From(r.Context())
	var err error
	if v.InUse, err = p.Store.Settings(r.Context(), who.Actor()); err != nil {
		return err
	}
	v.Lead = who.Role == domain.RoleLead
	v.Topics = topicViews()
	frame := p.Frame(r, "Sources")
	frame.ProblemTitle = v.Problems != nil
	frame.Wide = true
	return p.Render(w, r, status, frame, sourcesPage(v))
}

func topicViews() []topicView {
	var views []topicView
	rules, settings, citations := rulebook.Rules(), rulebook.Settings(), source.Citations()
	for _, topic := range topics {
		views = append(views, topicView{
			Topic: topic, ID: strings.ReplaceAll(string(topic), " ", "-"),
			Rules:     slices.DeleteFunc(slices.Clone(rules), func(r source.Rule) bool { return r.Topic != topic }),
			Settings:  slices.DeleteFunc(slices.Clone(settings), func(s source.Setting) bool { return s.Topic != topic }),
			Citations: slices.DeleteFunc(slices.Clone(citations), func(c source.Citation) bool { return c.Topic != topic }),
		})
	}
	return views
}

// title is a topic as a heading.
func (t topicView) title() string { return strings.ToUpper(string(t.Topic[:1])) + string(t.Topic[1:]) }

// statusOf says how firm a rule or setting stands: by its softest source.
func statusOf(cites []source.Key) string {
	order := []source.Status{
		source.Published, source.PublishedSecond, source.FromMemory, source.CommonPractice, source.PracticeSetting, source.ToBeConfirmed,
	}
	softest := 0
	for _, key := range cites {
		if c, ok := source.Find(key); ok {
			softest = max(softest, slices.Index(order, c.Status))
		}
	}
	return string(order[softest])
}

func rulesTable(t topicView) ui.Table {
	table := ui.Table{
		Caption: t.title() + ": rules", HideCaption: true,
		Columns: []ui.Column{{Label: "Rule"}, {Label: "Says"}, {Label: "Status"}, {Label: "Sources"}},
	}
	for _, r := range t.Rules {
		table.Rows = append(table.Rows, ui.Row{Cells: []ui.Cell{
			{Text: r.ID}, {Text: r.Says}, {Text: statusOf(r.Cites)}, {Text: keys(r.Cites)},
		}})
	}
	return table
}

func citationsTable(t topicView) ui.Table {
	table := ui.Table{
		Caption: t.title() + ": sources", HideCaption: true,
		Columns: []ui.Column{{Label: "Key"}, {Label: "Source"}, {Label: "Status"}, {Label: "Note"}},
	}
	for _, c := range t.Citations {
		table.Rows = append(table.Rows, ui.Row{Cells: []ui.Cell{
			{Text: string(c.Key)}, {Content: citation(c)}, {Text: string(c.Status)}, {Text: c.Note},
		}})
	}
	return table
}

func settingsTable(t topicView, v sourcesView) ui.Table {
	table := ui.Table{
		Caption: t.title() + ": settings", HideCaption: true,
		Columns: []ui.Column{{Label: "Setting"}, {Label: "In use", Number: true}, {Label: "Default", Number: true}, {Label: "Unit"}, {Label: "Sources"}},
	}
	for _, s := range t.Settings {
		table.Rows = append(table.Rows, ui.Row{Cells: []ui.Cell{
			{Text: s.Says}, {Text: number(v.InUse.Changed.Of(s))}, {Text: number(s.Default)}, {Text: s.Unit}, {Text: keys(s.Cites)},
		}})
	}
	return table
}

func keys(cites []source.Key) string {
	texts := make([]string, len(cites))
	for i, key := range cites {
		texts[i] = string(key)
	}
	return strings.Join(texts, ", ")
}

// settingField is the input for a setting.
func (v sourcesView) settingField(s source.Setting) ui.Field {
	value, ok := v.Typed[s.Key]
	if !ok {
		value = number(v.InUse.Changed.Of(s))
	}
	f := ui.Field{
		Name: s.Key, Label: s.Says, Value: value, Problem: v.Problems[s.Key], Unit: s.Unit,
		Hint: fmt.Sprintf("From %d to %d; the default is %d.", s.Low, s.High, s.Default),
	}
	if s.Unit == "on/off" {
		f.Unit, f.Hint = "", ""
		f.Options = []ui.Option{{Value: "1", Label: "On"}, {Value: "0", Label: "Off"}}
	}
	return f
}

// signedWords says whether the lead has signed what is in use.
func (v sourcesView) signedWords() string {
	if s := v.InUse.Signed; s != nil {
		return fmt.Sprintf("Signed by %s on %s: rules %s, settings version %d.", s.Name, s.SignedAt.Format("2 January 2006"), s.RuleSet, v.InUse.Version)
	}
	return fmt.Sprintf("Not signed yet: rules %s, settings version %d.", rulebook.Version, v.InUse.Version)
}

// order lists the fields as they stand on the page.
func (v sourcesView) order() []string {
	var order []string
	for _, t := range v.Topics {
		for _, s := range t.Settings {
			order = append(order, s.Key)
		}
	}
	return append(order, "reason", "name")
}

// wrongIn reports whether a setting of the topic has a problem.
func (v sourcesView) wrongIn(t topicView) bool {
	return slices.ContainsFunc(t.Settings, func(s source.Setting) bool { return v.Problems[s.Key] != "" })
}

func count(n int, of string) string {
	if n == 1 {
		return "1 " + of
	}
	return strconv.Itoa(n) + " " + of + "s"
}

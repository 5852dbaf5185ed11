package web_test

import (
	"net/http"
	"net/url"
	"strings"
	"testing"
	"time"

	"github.com/google/uuid"

	"brae/domain"
	"brae/domain/intensity"
	"brae/domain/plan"
	"brae/store/storetest"
)

// planFields are the fields of an editor with weeks of moderate walking.
func planFields(version string, minutes ...string) []string {
	fields := []string{"version", version, "starts", "2026-11-23", "goal", "150", "do", ""}
	for i, m := range minutes {
		at := "weeks[" + string(rune('0'+i)) + "]."
		fields = append(fields, at+"class", "moderate", at+"sessions", "3", at+"minutes", m, at+"easy", "0", at+"vigorous", "0")
	}
	return fields
}

// From a published programme to a signed plan, with a steep week that has to be
// confirmed, and back to the version before.
func TestPlanEditor(t *testing.T) {
	t.Parallel()
	s := newSite(t)
	id := s.Client()
	b := s.as("mira")
	path := "/clients/" + id.String() + "/plan"
	if r := b.get(path); r.status != http.StatusOK || !strings.Contains(r.body, "Nothing is prescribed yet") {
		t.Fatalf("before the prescription: %d", r.status)
	}
	s.ScreenClient(id)
	storetest.Must(s.SignPrescription(t.Context(), s.Mira.Actor(), id, storetest.Walking(0)))
	s.JoinClient(id, "jon")

	// The NHLBI programme: 5 brisk minutes in the first week, 30 in the last.
	r := b.get(path + "?preset=walk_12&class=moderate&sessions=5&minutes=15&goal=150&weeks=12&behind=0")
	for _, want := range []string{`name="weeks[0].minutes" value="15"`, `name="weeks[11].minutes" value="40"`, "Week 12, 8 Feb", `role="img"`, "from 23 November: 25 minutes"} {
		if !strings.Contains(r.body, want) {
			t.Errorf("the programme's page lacks %q", want)
		}
	}
	if r := b.get(path + "?preset=run_walk_9&class=moderate&sessions=30&minutes=15&goal=x&weeks=12"); r.status != http.StatusUnprocessableEntity ||
		!strings.Contains(r.body, "This is a whole number from 1 to 14") || !strings.Contains(r.body, "Type a whole number") || !strings.Contains(r.body, `value="30"`) {
		t.Errorf("wrong numbers: %d, or they are not told", r.status)
	}

	r = b.post(path, planFields("0", "20", "40")...)
	if r.status != http.StatusUnprocessableEntity || !strings.Contains(r.body, "Sessions grow by 20 minutes in one week, more than 10") || !strings.Contains(r.body, `value="40"`) {
		t.Fatalf("a steep week: %d, or no warning at it", r.status)
	}
	if r := b.post(path, planFields("0", "20", "x")...); r.status != http.StatusUnprocessableEntity || !strings.Contains(r.body, `id="weeks[1].minutes-problem"`) || !strings.Contains(r.body, `value="x"`) {
		t.Errorf("no number: %d, or not told at the week", r.status)
	}
	if r := b.post(path, append(planFields("0", "20", "40"), "confirmed", "yes")...); r.status != http.StatusSeeOther {
		t.Fatalf("confirmed: %d", r.status)
	}
	for _, path := range []string{"/plan", "/week"} {
		if r := s.as("jon").get(path); r.status != http.StatusOK || path == "/plan" && !strings.Contains(r.body, "3 times, 40 minutes each") || path == "/week" && !strings.Contains(r.body, "60 minutes") {
			t.Errorf("%s as the client: %d, without the weeks", path, r.status)
		}
	}
	if r := b.post(path, planFields("0", "20")...); r.status != http.StatusConflict {
		t.Errorf("an old form: %d", r.status)
	}
	// A button that changes the weeks saves nothing.
	fields := planFields("1", "20", "25")
	fields[7] = "repeat 0"
	if r := b.post(path, fields...); r.status != http.StatusOK || !strings.Contains(r.body, `name="weeks[2].minutes" value="25"`) {
		t.Errorf("repeat a week: %d", r.status)
	}
	if r := b.post(path, planFields("1", "20", "25")...); r.status != http.StatusSeeOther {
		t.Fatalf("version 2: %d", r.status)
	}
	if r := b.get(path + "?again=1"); !strings.Contains(r.body, `name="weeks[1].minutes" value="40"`) || !strings.Contains(r.body, `name="origin" value="again"`) {
		t.Errorf("version 1 again: %d", r.status)
	}
	if r := b.get(path + "?again=7"); r.status != http.StatusNotFound {
		t.Errorf("a version that there is not: %d", r.status)
	}
}

// A copy has the numbers alone, and is checked against what the client may do.
func TestPlanCopy(t *testing.T) {
	t.Parallel()
	s := newSite(t)
	mira := s.Mira.Actor()
	from, to := s.Client(), s.Client()
	s.ScreenClient(from)
	s.ScreenClient(to, "q.diabetes_type_2", "yes")
	for _, id := range []uuid.UUID{from, to} {
		storetest.Must(s.SignPrescription(t.Context(), mira, id, storetest.Walking(0)))
	}
	b := s.as("mira")
	fields := planFields("0", "30")
	fields = append(fields[:len(fields)-1], "8", "confirmed", "yes") // vigorous minutes within
	if r := b.post("/clients/"+from.String()+"/plan", fields...); r.status != http.StatusSeeOther {
		t.Fatalf("vigorous minutes for a client who may: %d", r.status)
	}
	path := "/clients/" + to.String() + "/plan"
	r := b.get(path + "?copy=" + from.String())
	if r.status != http.StatusUnprocessableEntity || !strings.Contains(r.body, `id="weeks[0].vigorous-problem"`) || !strings.Contains(r.body, "Above what is allowed now") {
		t.Errorf("a copy above the ceiling: %d, or not told at the week", r.status)
	}
	if r := b.post(path, fields...); r.status != http.StatusUnprocessableEntity || s.Count(`SELECT count(*) FROM plans WHERE client_id = $1`, to) != 0 {
		t.Errorf("signed under a hold: %d", r.status)
	}
	if r := s.as("tomas").get("/clients/" + to.String() + "/plan?copy=" + from.String()); r.status != http.StatusNotFound {
		t.Errorf("another practitioner: %d", r.status)
	}
}

// field returns the value of a hidden field of a page.
func hidden(body, name string) string {
	_, rest, _ := strings.Cut(body, `name="`+name+`" value="`)
	value, _, _ := strings.Cut(rest, `"`)
	return value
}

func TestPauseAndProgress(t *testing.T) {
	t.Parallel()
	s := newSite(t)
	id := s.Client()
	s.ScreenClient(id)
	storetest.Must(s.SignPrescription(t.Context(), s.Mira.Actor(), id, storetest.Walking(0)))
	b := s.as("mira")
	base := "/clients/" + id.String()
	if r := b.post(base+"/plan", append(planFields("0", "20", "25", "30"), "confirmed", "yes")...); r.status != http.StatusSeeOther {
		t.Fatal(r.status)
	}
	pause := hidden(b.get(base+"/plan").body, "id")
	if r := b.post(base+"/pauses", "id", pause, "kind", "illness", "from", "2026-13-01", "note", "A cold"); r.status != http.StatusUnprocessableEntity ||
		!strings.Contains(r.body, "Type the first day") || !strings.Contains(r.body, `value="A cold"`) {
		t.Errorf("no such day: %d", r.status)
	}
	if r := b.post(base+"/pauses", "id", pause, "kind", "illness", "from", "2026-11-25"); r.status != http.StatusSeeOther {
		t.Fatalf("pause: %d", r.status)
	}
	if r := b.get(base + "/plan"); !strings.Contains(r.body, "Illness from 25 November 2026, end not known") {
		t.Error("the plan's page does not tell of the pause")
	}
	s.Wait(20 * time.Minute)
	if r := b.post(base + "/pauses/" + pause + "/end"); r.status != http.StatusSeeOther || r.header.Get("Location") != base+"/progress" {
		t.Errorf("the end of the pause: %d to %s", r.status, r.header.Get("Location"))
	}

	r := b.get(base + "/progress")
	fields := []string{"id", hidden(r.body, "id"), "version", hidden(r.body, "version"), "suggested", hidden(r.body, "suggested"), "reserve", hidden(r.body, "reserve")}
	if r.status != http.StatusOK || fields[3] != "1" {
		t.Fatalf("progress: %d, version %q", r.status, fields[3])
	}
	changed := append(fields, "answer", "changed", "class", "moderate", "sessions", "3", "minutes", "25", "easy", "0", "vigorous", "0")
	if r := b.post(base+"/progress", changed...); r.status != http.StatusUnprocessableEntity || !strings.Contains(r.body, "Say why in a few words") || !strings.Contains(r.body, `value="25"`) {
		t.Errorf("changed without a word: %d", r.status)
	}
	if r := b.post(base+"/progress", append(changed, "word", "She walks to work.")...); r.status != http.StatusSeeOther {
		t.Errorf("changed: %d", r.status)
	}
	r = b.get(base + "/progress")
	for _, want := range []string{"She walks to work.", "Changed", "mira"} {
		if !strings.Contains(r.body, want) {
			t.Errorf("the steps so far lack %q", want)
		}
	}
	if r := b.post(base+"/progress", append(fields, "answer", "declined", "word", "x")...); r.status != http.StatusConflict && r.status != http.StatusSeeOther {
		t.Errorf("an old form: %d", r.status)
	}
	if r := b.get(base); !strings.Contains(r.body, "Progress and the next step") {
		t.Error("the record does not tell the status")
	}
	if r := b.get("/review"); !strings.Contains(r.body, "On plan") && !strings.Contains(r.body, "Behind") {
		t.Error("the review does not tell the status")
	}
}

// Every code that the rules of progression can give has words.
func TestPlanCodesHaveWords(t *testing.T) {
	t.Parallel()
	s := newSite(t)
	id := s.Client()
	s.ScreenClient(id)
	storetest.Must(s.SignPrescription(t.Context(), s.Mira.Actor(), id, storetest.Walking(0)))
	b := s.as("mira")
	for _, ps := range plan.Presets() {
		q := url.Values{"preset": {ps.ID}, "class": {"moderate"}, "sessions": {"3"}, "minutes": {"20"}, "goal": {"150"}, "weeks": {"26"}, "behind": {"0"}}
		r := b.get("/clients/" + id.String() + "/plan?" + q.Encode())
		if r.status != http.StatusOK {
			t.Errorf("%s: %d", ps.ID, r.status)
		}
		for _, code := range []string{"goal_not_reached", "last_week_repeats", "start_not_used", "after_moderate", "two_parts", "steep_time", "early_vigorous", "vigorous_share"} {
			if strings.Contains(r.body, code) {
				t.Errorf("%s: the code %s is shown", ps.ID, code)
			}
		}
	}
}

// A step beyond what is prescribed, or within the class, is taken with the signature
// under the prescription; until then nothing is recorded of it.
func TestStepWithASignature(t *testing.T) {
	t.Parallel()
	s := newSite(t)
	s.Wait(-5 * 7 * 24 * time.Hour) // sign-ins end by the real clock, so the past is invented
	mira := s.Mira.Actor()
	id := s.Client()
	s.ScreenClient(id, "q.diabetes_type_2", "yes", "resting_1", "60", "posture", "seated")
	rx := storetest.Walking(0)
	rx.Note = "After lunch"
	storetest.Must(s.SignPrescription(t.Context(), mira, id, rx))
	for range 5 {
		for range 5 {
			in := storetest.Walk(30)
			in.Day = domain.DateOf(s.Tick(), time.UTC)
			in.Parts[0].Effort, in.Parts[0].Talk = 11, intensity.TalkSentences
			storetest.Must(s.LogSession(t.Context(), mira, id, in))
			s.Wait(24 * time.Hour)
		}
		s.Wait(48 * time.Hour)
	}
	b := s.as("mira")
	base := "/clients/" + id.String()
	r := b.get(base + "/progress")
	for _, want := range []string{"Steady too long", "A little harder within moderate", "Judged by the last 4 sessions, from 19 to 22 November, and by the week of 9 November and that of 16 November.", "Accept", "Change", "Decline", "your signature there takes the step"} {
		if !strings.Contains(r.body, want) {
			t.Errorf("the progress lacks %q", want)
		}
	}
	fields := []string{"id", hidden(r.body, "id"), "version", "0", "suggested", hidden(r.body, "suggested"), "reserve", "5", "answer", "accepted", "word", "The hill is easy now."}
	r = b.post(base+"/progress", fields...)
	if r.status != http.StatusOK || !strings.Contains(r.body, "until then nothing is recorded") || !strings.Contains(r.body, `value="The hill is easy now."`) ||
		!strings.Contains(r.body, `<option value="5" selected`) || !strings.Contains(r.body, `name="step.reserve" value="5"`) {
		t.Fatalf("accepted: %d, or not the form with the step", r.status)
	}
	if n := s.Count(`SELECT count(*) FROM progress_steps`) + s.Count(`SELECT count(*) FROM prescriptions WHERE version = 2`); n != 0 {
		t.Errorf("%d records before the signature", n)
	}
	sign := []string{
		"version", "1", "class", "moderate", "method", "talk", "sessions_per_week", "5", "minutes_per_session", "30", "activities", "Walking", "target", "150",
		"raised", "5", "note", "After lunch", "step.id", fields[1], "step.version", "0", "step.suggested", fields[5], "step.reserve", "5", "step.answer", "accepted",
	}
	if r := b.post(base+"/prescription", append(sign, "do", "zones")...); r.status != http.StatusOK || !strings.Contains(r.body, "5 per cent of the reserve above the low end of moderate") {
		t.Errorf("what follows from it: %d, or not told", r.status)
	}
	other := append([]string(nil), sign...)
	other[7] = "4"
	if r := b.post(base+"/prescription", other...); r.status != http.StatusUnprocessableEntity || !strings.Contains(r.body, `id="step.word-problem"`) || !strings.Contains(r.body, `name="sessions_per_week" value="4"`) && !strings.Contains(r.body, `value="4"`) {
		t.Errorf("another step without a word why: %d", r.status)
	}
	other[7], other[15] = "5", "25"
	if r := b.post(base+"/prescription", append(other, "step.word", "x")...); r.status != http.StatusUnprocessableEntity || !strings.Contains(r.body, `id="raised-problem"`) {
		t.Errorf("beyond the class: %d, or not told at the field", r.status)
	}
	for range 2 { // sent twice
		if r := b.post(base+"/prescription", append(sign, "step.word", "The hill is easy now.")...); r.status != http.StatusSeeOther || r.header.Get("Location") != base+"/progress" {
			t.Fatalf("signed: %d to %s", r.status, r.header.Get("Location"))
		}
	}
	if r := b.get(base + "/progress"); !strings.Contains(r.body, "The hill is easy now.") || !strings.Contains(r.body, "Accepted") {
		t.Error("the answer is not among the steps so far")
	}
	if r := b.get(base + "/timeline?kind=plan"); !strings.Contains(r.body, "The hill is easy now.") {
		t.Error("the answer is not in the timeline")
	}
	if n := s.Count(`SELECT count(*) FROM progress_steps`); n != 1 {
		t.Errorf("%d answers; want 1", n)
	}
	s.JoinClient(id, "jon")
	if r := s.as("jon").get("/week"); !strings.Contains(r.body, "Go for the harder end of this.") {
		t.Error("the client is not told of it")
	}
}

// What a status is judged by stands beside it: the sessions with their days, and the
// weeks. Where talk test and heart rate differ there is one thing to do first.
func TestProgressTellsWhatItIsJudgedBy(t *testing.T) {
	t.Parallel()
	s := newSite(t)
	mira := s.Mira.Actor()
	hard, drift := s.Client(), s.Client()
	for i, id := range []uuid.UUID{hard, drift} {
		s.ScreenClient(id, "resting_1", "60", "posture", "seated")
		storetest.Must(s.SignPrescription(t.Context(), mira, id, storetest.Walking(0)))
		for range 5 {
			in := storetest.Walk(30)
			in.Parts[0].Talk, in.Parts[0].Effort = intensity.TalkShort, 16
			if i == 1 {
				in.Parts[0].Talk, in.Parts[0].Effort, in.Parts[0].HeartRate = intensity.TalkSing, 0, 150
			}
			storetest.Must(s.LogSession(t.Context(), mira, id, in))
		}
	}
	b := s.as("mira")
	for id, want := range map[uuid.UUID][]string{
		hard: {
			"Too hard", "Talking was too hard in 3 of the last sessions; 2 are enough to ease off.",
			"Judged by the last 4 sessions, on 25 November. The dose is the same since the week of 23 November.", "One step back.", "not over yet",
		},
		drift: {
			"Talk test and heart rate do not agree", "In 5 of the last 5 sessions with both, on 25 November, the heart rate was higher than it felt.",
			"/intake/measurements\">measure the resting heart rate again</a>",
		},
	} {
		contains(t, "progress", b.get("/clients/"+id.String()+"/progress"), http.StatusOK, want...)
	}
}

// A plan may be longer than what is prescribed holds: it says in which week that ends,
// and the client reads that the later weeks are to be confirmed. A doctor's decision
// until 13 December 2026, a Sunday, covers the weeks of 23 and 30 November and 7 December
// (practice rule: a decision counts until the day that the doctor gave).
func TestPlanBeyondThePrescription(t *testing.T) {
	t.Parallel()
	s := newSite(t)
	id := s.Client()
	b, record := s.as("mira"), "/clients/"+id.String()
	s.ScreenClient(id)
	in := storetest.Cleared(intensity.Moderate)
	in.ValidUntil = domain.NewDate(2026, 12, 13)
	storetest.Must(s.RecordClearance(t.Context(), s.Mira.Actor(), id, in))
	storetest.Must(s.SignPrescription(t.Context(), s.Mira.Actor(), id, storetest.Walking(0)))
	s.JoinClient(id, "jon")
	const ends = "The prescription ends in week 3, on Sun 13 Dec 2026, when the doctor's decision lapses. From week 4 on the plan is to be confirmed"
	weeks := planFields("0", "20", "20", "20", "20", "20")
	weeks[7] = "look"
	r := b.post(record+"/plan", weeks...)
	weeks[7] = ""
	if !strings.Contains(page(strings.ReplaceAll(r.body, "&#39;", "'")), ends) || strings.Count(r.body, "To be confirmed:") != 2 {
		t.Error("the weeks do not say where the prescription ends")
	}
	if r := b.post(record+"/plan", weeks...); r.status != http.StatusSeeOther {
		t.Fatalf("sign the plan: %d", r.status)
	}
	for who, path := range map[string]string{"jon": "/plan", "mira": record + "/handout"} {
		if n := strings.Count(s.as(who).get(path).body, "To be confirmed. Talk to your practitioner first."); n != 2 {
			t.Errorf("%s: %d weeks are to be confirmed; want 2", path, n)
		}
	}
	if body := b.get(record + "/handout?in=es").body; strings.Count(body, "Por confirmar.") != 2 {
		t.Error("the Spanish handout does not say so")
	}
	// What is harder than prescribed is to be confirmed, too, and done no harder until then.
	light := storetest.Walking(1)
	light.Class = intensity.Light
	storetest.Must(s.SignPrescription(t.Context(), s.Mira.Actor(), id, light))
	if body := page(b.get(record + "/plan").body); !strings.Contains(body, "it asks for more than is prescribed") {
		t.Error("weeks above the prescription are not to be confirmed")
	}
}

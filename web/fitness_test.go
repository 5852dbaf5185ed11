package web_test

import (
	"net/http"
	"strings"
	"testing"
	"time"

	"github.com/google/uuid"

	"brae/domain"
	"brae/domain/fitness"
	"brae/domain/intake"
	"brae/store"
	"brae/store/storetest"
)

// walked is a six-minute walk on a course of 30 m.
func walked(metres float64, on domain.Date) store.TestInput {
	return store.TestInput{
		ID: uuid.New(), On: on,
		Input:      fitness.Input{Test: fitness.SixMinuteWalk, Sex: fitness.Male, WeightKg: new(80.0), HeightCm: new(175.0), DistanceM: &metres},
		Conditions: fitness.Conditions{RestingHR: new(70), SBP: new(130), DBP: new(80), CourseM: new(30.0)},
	}
}

// atRest are the readings at rest that most tests ask for.
func atRest(more ...string) []string {
	return append([]string{"id", uuid.NewString(), "on", storetest.Day.String(), "resting_before", "64", "sbp", "124", "dbp", "78"}, more...)
}

// TestHandbookTests puts the worked examples of handbooks and papers through the
// forms of a client's record and reads the saved result.
func TestHandbookTests(t *testing.T) {
	t.Parallel()
	s := newSite(t)
	b := s.as("mira")
	// A man born on 14 March 1968 is 58 on the day.
	id := s.Client()
	s.ScreenClient(id, intake.FieldDesired, "vigorous", intake.FieldActivityClass, "vigorous", intake.FieldWeight, "80", intake.FieldHeight, "175")
	base := "/clients/" + id.String() + "/tests/"
	for _, tt := range []struct {
		source string
		test   string
		typed  []string
		want   []string
	}{
		{"Cooper 1968, printed: 2400 m give 42.4", "cooper_12_min", atRest("distance_m", "2400", "sex", "male"), []string{"42.4 ml", "None was published", "gave everything"}},
		{"ACSM guidelines 11th ed., by hand: 12:00 give 43.75", "run_1_5_mile", atRest("minutes", "12:00"), []string{"43.8 ml"}},
		{"Kline 1987, by hand: 58 years, 80 kg, 15:12, 128 beats", "rockport_walk", atRest("minutes", "15:12", "hr", "128", "sex", "male", "weight_kg", "80"),
			[]string{"33.5 ml", "5.0 either way", "Percentile", "Percentile with its error", "Treadmill of 2022", "Kline"}},
		{"Enright 1998, by hand: 58 years, 175 cm, 80 kg: 583.8 m, limit 430.8", "six_minute_walk",
			atRest("distance_m", "402", "course_m", "30", "sex", "male", "weight_kg", "80", "height_cm", "175"), []string{"402 m", "431 m", "69 %", "Good for the mean of a group"}},
		{"Rikli 1999 has no norms below 60 years", "chair_stand_30_s", atRest("stands", "14", "sex", "male"), []string{"14 stands", "no norms for this age"}},
		{"McArdle 1972, by hand: 132 beats give a man 55.9", "queens_step", atRest("hr", "132", "sex", "male"), []string{"55.9 ml", "worked out in students"}},
		{"Kokkinos 2017, from memory, by hand: 134 m/min at 10 % give 36.9", "treadmill_peak",
			atRest("speed_m_min", "134 m/min", "grade", "10", "peak_hr", "168", "to_limit", "yes", "usual_medicines", "yes"),
			[]string{"36.9 ml", "The highest heart rate was 168", "Nothing changes by itself", "/intake/measurements"}},
	} {
		t.Run(tt.source, func(t *testing.T) {
			page := b.get(base + tt.test)
			if page.status != http.StatusOK || !strings.Contains(page.body, "Save the test") || !strings.Contains(page.body, "Stop at once for") {
				t.Fatalf("the form: %d", page.status)
			}
			r := b.post(base+tt.test, tt.typed...)
			if r.status != http.StatusSeeOther {
				t.Fatalf("saved with %d: %s", r.status, words(element(t, r.body, "main")))
			}
			shown := b.get(r.header.Get("Location"))
			text := words(element(t, shown.body, "main"))
			for _, want := range tt.want {
				if !strings.Contains(text, want) && !strings.Contains(shown.body, want) {
					t.Errorf("the result does not say %q: %s", want, text)
				}
			}
		})
	}
}

// TestTestForms: what is typed is kept, problems stand beside their fields, and a
// test that must not be done has no form.
func TestTestForms(t *testing.T) {
	t.Parallel()
	s := newSite(t)
	b := s.as("mira")
	id, new := s.Client(), s.Client()
	s.ScreenClient(id, intake.QuestionField("diabetes_type_2"), "yes")
	base := "/clients/" + id.String() + "/tests/"
	for _, path := range []string{base + "run_1_5_mile", "/clients/" + new.String() + "/tests/six_minute_walk"} {
		r := b.get(path)
		if r.status != http.StatusOK || strings.Contains(r.body, "Save the test") || !strings.Contains(r.body, "This test waits.") {
			t.Errorf("%s: %d, with a form: %v", path, r.status, strings.Contains(r.body, "Save the test"))
		}
	}
	if r := b.post(base+"run_1_5_mile", atRest("minutes", "12:00")...); r.status != http.StatusConflict || !strings.Contains(r.body, "This test waits.") {
		t.Errorf("a maximal test sent under a hold: %d", r.status)
	}
	r := b.post(base+"six_minute_walk", atRest("distance_m", "4oo", "course_m", "", "sex", "", "note", "windy <b>")...)
	if r.status != http.StatusUnprocessableEntity {
		t.Fatalf("a form with slips: %d", r.status)
	}
	for _, want := range []string{`value="4oo"`, "windy &lt;b&gt;", `href="#course_m"`, `href="#distance_m"`, `href="#sex"`, "Error: "} {
		if !strings.Contains(r.body, want) {
			t.Errorf("the refused form has no %q", want)
		}
	}
	// ATS 2002: caution above 100 mmHg has to be seen.
	caution := []string{"id", uuid.NewString(), "on", storetest.Day.String(), "resting_before", "70", "sbp", "150", "dbp", "102",
		"distance_m", "402", "course_m", "30", "sex", "male", "weight_kg", "80", "height_cm", "175"}
	if r = b.post(base+"six_minute_walk", caution...); r.status != http.StatusUnprocessableEntity || !strings.Contains(r.body, `name="confirmed"`) {
		t.Errorf("102 mmHg: %d", r.status)
	}
	if r = b.post(base+"six_minute_walk", append(caution, "confirmed", "yes")...); r.status != http.StatusSeeOther {
		t.Errorf("102 mmHg, seen: %d", r.status)
	}
	if r = b.get(base + "no_such_test"); r.status != http.StatusNotFound {
		t.Errorf("an unknown test: %d", r.status)
	}
}

// TestTestPages follows two walks to the pages of the practice and of the client.
func TestTestPages(t *testing.T) {
	t.Parallel()
	s := newSite(t)
	id := s.Client()
	s.JoinClient(id, "jon")
	const weeks = 12 * 7 * 24 * time.Hour
	s.Wait(-weeks) // sign-ins end by the real clock, so the past is invented and not the future
	s.ScreenClient(id)
	mira := s.Mira.Actor()
	storetest.Must(s.AddTest(t.Context(), mira, id, walked(402, storetest.Day.AddDays(-84))))
	s.Wait(weeks)
	b := s.as("mira")
	base := "/clients/" + id.String()
	if body := b.get(base + "/tests").body; !strings.Contains(body, "A retest is due since") {
		t.Error("after 12 weeks no retest is due")
	}
	if body := b.get(base).body; !strings.Contains(body, "A retest is due since") {
		t.Error("the record does not say so")
	}
	second := storetest.Must(s.AddTest(t.Context(), mira, id, walked(455, storetest.Day)))
	third := storetest.Must(s.AddTest(t.Context(), mira, id, walked(460, storetest.Day)))
	body := b.get(base + "/tests").body
	for _, want := range []string{"58 m more than on", "a large change for the better", "<desc", "Show as a table"} { // Perera 2006; the longer walk of the day
		if !strings.Contains(body, want) {
			t.Errorf("the page does not say %q", want)
		}
	}
	jon := s.as("jon").get("/tests").body
	if !strings.Contains(jon, "Clearly better than on") || strings.Contains(strings.ToLower(jon), "percentile") {
		t.Error("the client's page: no change, or a percentile")
	}
	result := base + "/tests/six_minute_walk/" + third.ID.String()
	if r := b.post(result+"/error", "reason", ""); r.status != http.StatusUnprocessableEntity {
		t.Errorf("marked without a reason: %d", r.status)
	}
	if r := b.post(result+"/error", "reason", "It was somebody else."); r.status != http.StatusSeeOther {
		t.Errorf("marked: %d", r.status)
	}
	if body = b.get(result).body; !strings.Contains(body, "Entered in error: It was somebody else.") {
		t.Error("the marked result does not say so")
	}
	corrects := base + "/tests/six_minute_walk?corrects=" + second.ID.String()
	if body = b.get(corrects).body; !strings.Contains(body, `value="455"`) || !strings.Contains(body, "Why it is corrected") {
		t.Error("the correction does not start from what was stored")
	}
}

// TestWorkloads: worked by hand from the ACSM equations, 35 ml per kg and minute,
// 70 kg: moderate is 16.1 to 22.4 ml.
func TestWorkloads(t *testing.T) {
	t.Parallel()
	s := newSite(t)
	b := s.as("mira")
	r := b.get(numbers("workload", "class", "moderate", "vo2max", "35", "see", "5", "weight_kg", "70"))
	text := words(element(t, r.body, "result"))
	for _, want := range []string{
		"40 to 60 % of the oxygen uptake reserve: 16.1 to 22.4", "4.6 to 6.4 METs",
		"Walking, treadmill at 5 % 3.1 km/h 4.0 to 6.0 km/h", // 12.6 / 0.19 and 18.9 / 0.19 m/min; start (14.1 / 1.07 - 3.5) / 0.19
		"Cycle below 49 W 58 to 98 W",                        // 9.1 and 15.4 x 70 / 1.8 kgm/min
		"Step of 20 cm", "19 to 28 steps a minute", "Begin lower", "talk test",
	} {
		if !strings.Contains(text, want) {
			t.Errorf("the answer does not say %q: %s", want, text)
		}
	}
	id := s.Client()
	s.ScreenClient(id, intake.QuestionField("diabetes_type_2"), "yes")
	path := "/clients/" + id.String() + "/workload?vo2max=35&class="
	if r = b.get(path + "vigorous"); r.status != http.StatusUnprocessableEntity || !strings.Contains(r.body, "above what is allowed now") || strings.Contains(r.body, "60 to 80 %") {
		t.Errorf("vigorous work under a hold: %d", r.status)
	}
	if r = b.get(path + "moderate"); r.status != http.StatusOK || !strings.Contains(r.body, "16.1 to 22.4") || strings.Contains(r.body, `value="vigorous"`) {
		t.Errorf("moderate work under a hold on vigorous: %d", r.status)
	}
	if body := b.get(numbers("zones", "age", "60")).body; !strings.Contains(body, "Gellish 2007: 207 - 0.7 x age") {
		t.Error("the equations have no names")
	}
}

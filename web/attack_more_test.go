package web_test

import (
	"net/http"
	"regexp"
	"strings"
	"testing"

	"github.com/google/uuid"

	"brae/domain/consent"
	"brae/store/storetest"
	"brae/web"
)

// TestForeignPagesChangeNothing sends every change that there is as pages of other
// sites can make a browser send it. Source: OWASP WSTG v4.2, SESS-05.
func TestForeignPagesChangeNothing(t *testing.T) {
	t.Parallel()
	s := newSite(t)
	s.JoinClient(s.Client(), "jon")
	all := []*browser{s.browser(), s.as("jon"), s.as("ines")}
	parameter := regexp.MustCompile(`\{[a-z]+\}`)
	tried := 0
	for _, route := range web.Routes(s.server.Config.Handler) {
		method, path, _ := strings.Cut(route, " ")
		if method != http.MethodPost {
			continue
		}
		path = parameter.ReplaceAllString(path, uuid.NewString())
		for i, h := range []http.Header{
			{"Sec-Fetch-Site": {"cross-site"}}, {"Sec-Fetch-Site": {"same-site"}},
			{"Sec-Fetch-Site": nil, "Origin": {"https://elsewhere.example"}}, {"Sec-Fetch-Site": nil, "Origin": {"null"}},
		} {
			r := all[(tried+i)%len(all)].send(method, path, h)
			if r.status != http.StatusForbidden || !strings.Contains(r.body, "another site") {
				t.Errorf("%s with %v: %d; want a refusal for where it comes from", route, h, r.status)
			}
		}
		tried++
	}
	if tried < 60 {
		t.Errorf("%d changes were tried", tried)
	}
}

// doctorLink sends a letter about a client and returns the address of its link and
// the client's birth date.
func doctorLink(s *site, client uuid.UUID) (at, birth string) {
	s.t.Helper()
	ctx := s.t.Context()
	id := storetest.Must(s.WriteReferral(ctx, s.Mira.Actor(), client))
	c, letter, err := s.Referral(ctx, s.Mira.Actor(), client, id)
	if err != nil {
		s.t.Fatal(err)
	}
	l := letter.Letter
	l.Doctor, l.ConsentOn, l.ConsentHow = "Dr Edda Lund", storetest.Day, consent.Signed
	if err := s.SendReferral(ctx, s.Mira.Actor(), client, id, 1, l, storetest.Day, "link"); err != nil {
		s.t.Fatal(err)
	}
	return "/answer/" + storetest.Must(s.NewDoctorLink(ctx, s.Mira.Actor(), client, id)), c.BirthDate.String()
}

// TestAnswersAtOnce sends a doctor's answer many times at the same moment, and
// guesses a birth date as often: one answer is taken, and no more guesses than are
// allowed are judged.
func TestAnswersAtOnce(t *testing.T) {
	t.Parallel()
	s := newSite(t)
	at, birth := doctorLink(s, heldClient(s))
	sent := atOnce(8, func() reply {
		return s.browser().post(at+"/send", answerFields("birth_date", birth, "signature", "Edda Lund")...)
	})
	if sent[http.StatusOK] != 1 || sent[http.StatusNotFound] != 7 {
		t.Errorf("answers %v; want one taken and seven refused", sent)
	}
	if n := s.Count(`SELECT count(*) FROM audit WHERE action = 'referral.link_answer'`); n != 1 {
		t.Errorf("%d answers in the trail; want 1", n)
	}
	at, birth = doctorLink(s, heldClient(s))
	guessed := atOnce(12, func() reply { return s.browser().post(at, "birth_date", "1950-01-01") })
	judged := s.Count(`SELECT count(*) FROM audit WHERE action = 'referral.link_refused'`)
	if judged != 5 || guessed[http.StatusUnprocessableEntity]+guessed[http.StatusNotFound] != 12 { // five is a practice setting
		t.Errorf("%d guesses are judged, answers %v; want five", judged, guessed)
	}
	if r := s.browser().post(at, "birth_date", birth); r.status != http.StatusNotFound {
		t.Errorf("the right date after that: %d; want 404", r.status)
	}
}

// TestHoldIsNotBypassedByPlans puts vigorous work where the pages of a client on hold
// have none: in the hidden totals of a week, in a copied plan, beside moderate work,
// and in a prescription that says it belongs to a step.
func TestHoldIsNotBypassedByPlans(t *testing.T) {
	t.Parallel()
	s := newSite(t)
	held := s.Client()
	s.ScreenClient(held, "q.diabetes_type_2", "yes") // vigorous waits for a doctor
	storetest.Must(s.SignPrescription(t.Context(), s.Mira.Actor(), held, storetest.Walking(0)))
	b, record := s.as("mira"), "/clients/"+held.String()
	plan := func(fields ...string) reply {
		return b.post(record+"/plan", append([]string{"version", "0", "starts", "2026-11-23", "goal", "150", "do", "", "confirmed", "yes", "origin", "copy"}, fields...)...)
	}
	week := func(class, vigorous, of, totals string) []string {
		return []string{"weeks[0].class", class, "weeks[0].sessions", "3", "weeks[0].minutes", "20", "weeks[0].easy", "0", "weeks[0].vigorous", vigorous, "weeks[0].of", of, "weeks[0].totals", totals}
	}
	step := func(class string, more ...string) reply {
		return b.post(record+"/prescription", append([]string{
			"version", "1", "class", class, "sessions_per_week", "3", "minutes_per_session", "20", "target", "60", "activities", "Walking", "confirmed", "yes",
			"step.id", uuid.NewString(), "step.version", "0", "step.answer", "changed", "step.word", "because", "step.confirmed", "yes",
		}, more...)...)
	}
	for why, r := range map[string]reply{
		"a vigorous week":                   plan(week("vigorous", "0", "", "")...),
		"vigorous minutes in moderate ones": plan(week("moderate", "10", "", "")...),
		"hidden totals of a moderate week":  plan(week("moderate", "0", "moderate 3 20 0 0", "0 30 30")...),
		"hidden totals of a light week":     plan(week("light", "0", "light 3 20 0 0", "30 0 30")...),
		"a vigorous prescription":           step("vigorous"),
		"a vigorous step": step("vigorous", "step.to.class", "vigorous", "step.class", "vigorous", "step.sessions", "3",
			"step.minutes", "20", "step.easy", "0", "step.vigorous", "0"),
		"moderate raised into vigorous":      b.post(record+"/prescription", "version", "1", "class", "moderate", "sessions_per_week", "3", "minutes_per_session", "20", "target", "60", "activities", "Walking", "raised", "20"),
		"moderate raised far above vigorous": b.post(record+"/prescription", "version", "1", "class", "moderate", "sessions_per_week", "3", "minutes_per_session", "20", "target", "60", "activities", "Walking", "raised", "4000"),
		"lowered":                            b.post(record+"/prescription", "version", "1", "class", "moderate", "sessions_per_week", "3", "minutes_per_session", "20", "target", "60", "activities", "Walking", "raised", "-30"),
	} {
		if r.status != http.StatusUnprocessableEntity && r.status != http.StatusConflict {
			t.Errorf("%s: %d; want a refusal", why, r.status)
		}
	}
	if n := s.Count(`SELECT count(*) FROM plans`) + s.Count(`SELECT count(*) FROM prescriptions WHERE client_id = $1 AND version > 1`, held) + s.Count(`SELECT count(*) FROM progress_steps`); n != 0 {
		t.Errorf("%d of them were signed", n)
	}
	if r := plan(week("moderate", "0", "", "")...); r.status != http.StatusSeeOther {
		t.Errorf("what is allowed: %d", r.status)
	}
}

// TestListsShowOnesOwn asks for the pages about many clients in turn, so that what is
// remembered of a client for one person is there when another asks: it is shown to
// who may see the record now.
func TestListsShowOnesOwn(t *testing.T) {
	t.Parallel()
	s := newSite(t)
	client := heldClient(s)
	s.JoinClient(client, "jon")
	storetest.Must(s.WriteReferral(t.Context(), s.Mira.Actor(), client))
	all := map[string]*browser{"mira": s.as("mira"), "tomas": s.as("tomas"), "ines": s.as("ines"), "jon": s.as("jon")}
	see := func(when string, want map[string]bool) {
		t.Helper()
		for _, path := range []string{"/clients", "/today", "/doctor"} {
			for _, who := range []string{"ines", "mira", "tomas", "ines"} {
				if got := strings.Contains(all[who].get(path).body, client.String()); got != want[who] {
					t.Errorf("%s: %s shows the client to %s: %t; want %t", when, path, who, got, want[who])
				}
			}
			if r := all["jon"].get(path); r.status != http.StatusForbidden || strings.Contains(r.body, client.String()) {
				t.Errorf("%s: %s as the client: %d", when, path, r.status)
			}
		}
	}
	exec := func(sql string, args ...any) {
		t.Helper()
		if _, err := s.Pool.Exec(t.Context(), sql, args...); err != nil {
			t.Fatal(err)
		}
	}
	see("at first", map[string]bool{"mira": true, "ines": true})
	exec(`UPDATE clients SET practitioner_id = $2 WHERE id = $1`, client, s.Tomas.ID) // the revision stays: so does what is remembered
	see("in another's care", map[string]bool{"tomas": true, "ines": true})
	exec(`UPDATE accounts SET role = 'practitioner' WHERE id = $1`, s.Lead.ID)
	see("without the lead", map[string]bool{"tomas": true})
	exec(`UPDATE clients SET closed_at = now() WHERE id = $1`, client)
	see("closed", map[string]bool{})
}

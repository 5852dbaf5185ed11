package web_test

import (
	"net/http"
	"strings"
	"testing"

	"github.com/google/uuid"

	"brae/store/storetest"
)

// walking is a site with Jon, who is prescribed 150 minutes and walked 30.
func walking(t *testing.T) (s *site, client uuid.UUID, path string) {
	t.Helper()
	s = newSite(t)
	client = s.Client()
	s.JoinClient(client, "jon")
	s.ScreenClient(client)
	storetest.Must(s.SignPrescription(t.Context(), s.Mira.Actor(), client, storetest.Walking(0)))
	storetest.Must(s.LogSession(t.Context(), s.Mira.Actor(), client, storetest.Walk(30)))
	return s, client, "/clients/" + client.String()
}

func contains(t *testing.T, what string, r reply, status int, texts ...string) {
	t.Helper()
	if r.status != status {
		t.Errorf("%s: %d; want %d", what, r.status, status)
	}
	for _, text := range texts {
		if !strings.Contains(r.body, text) {
			t.Errorf("%s: %q is not there", what, text)
		}
	}
}

func TestReportPages(t *testing.T) {
	t.Parallel()
	s, _, path := walking(t)
	mira, jon := s.as("mira"), s.as("jon")
	// 4 days of 40 moderate minutes: 160 moderate-equivalent ones, as at the intake.
	contains(t, "for the client", mira.get(path+"/report"), http.StatusOK, "Report for Jon Ashby", "Not signed yet.", ">160<", "You told us of nothing.")
	contains(t, "in Spanish", mira.get(path+"/report?language=es"), http.StatusOK, `lang="es"`, "Informe para Jon Ashby", "Minutos por semana", "Report about Jon Ashby")
	doctor := mira.get(path + "/report?for=doctor")
	contains(t, "for the doctor", doctor, http.StatusOK, "born 14 March 1968", "Moderate-equivalent minutes a week", "Doctors&#39; decisions", "No consent to share is on file")
	for _, other := range []string{"You told us", "My fitness tests"} {
		if strings.Contains(doctor.body, other) {
			t.Errorf("the doctor reads %q", other)
		}
	}
	contains(t, "no day", mira.get(path+"/report?since=soon"), http.StatusUnprocessableEntity, "Type the day as year-month-day", `value="soon"`)
	contains(t, "an end to come", mira.get(path+"/report?until=2027-01-01"), http.StatusUnprocessableEntity, `id="until-problem"`, "This day is in the future", `value="2027-01-01"`)
	contains(t, "an end before the start", mira.get(path+"/report?until=2026-11-01"), http.StatusUnprocessableEntity, `id="until-problem"`, "before the first day")
	contains(t, "a day to come", mira.get(path+"/report?since=2027-01-01"), http.StatusUnprocessableEntity, "This day is in the future")

	long := strings.Repeat("too long ", 90)
	contains(t, "too long", mira.post(path+"/report", "version", "0", "reader", "client", "language", "en", "since", "", "text", long),
		http.StatusUnprocessableEntity, "Use 700 characters at most.", strings.TrimSpace(long))
	signed := mira.post(path+"/report", "version", "0", "reader", "client", "language", "es", "since", "", "text", "Camina bien.\n<b>Siga</b>")
	contains(t, "signed", signed, http.StatusSeeOther)
	at := signed.header.Get("Location")
	contains(t, "the signed one", mira.get(at), http.StatusOK, "Camina bien.", "&lt;b&gt;Siga&lt;/b&gt;", "Firmado por", "kept as it was")
	contains(t, "signed twice from one form", mira.post(path+"/report", "version", "0", "reader", "doctor", "language", "en", "since", "", "text", "x"), http.StatusConflict)
	contains(t, "for the doctor", mira.post(path+"/report", "version", "1", "reader", "doctor", "language", "en", "since", "", "text", "For the doctor."), http.StatusSeeOther)
	contains(t, "the list", mira.get(path+"/report"), http.StatusOK, "Signed reports", "the doctor")

	contains(t, "own reports", jon.get("/reports"), http.StatusOK, "My reports", "/reports/"+at[strings.LastIndex(at, "/")+1:])
	if own := jon.get("/reports"); strings.Count(own.body, `href="/reports/`) != 1 {
		t.Error("the client is shown more than what was written for them")
	}
	contains(t, "own report", jon.get("/reports/"+at[strings.LastIndex(at, "/")+1:]), http.StatusOK, "Camina bien.")
}

func TestDischargePages(t *testing.T) {
	t.Parallel()
	s, client, path := walking(t)
	mira, jon := s.as("mira"), s.as("jon")
	storetest.Must(s.WriteReferral(t.Context(), s.Mira.Actor(), client))
	contains(t, "the form", mira.get(path+"/discharge"), http.StatusOK, "Still open", "A letter to a doctor not named yet is not sent yet.", "Keep your week: 150 minutes")
	refused := mira.post(path+"/discharge", "version", "0", "language", "en", "outcome", "other", "text", "Walks an hour.", "advice", "My own advice.")
	contains(t, "refused", refused, http.StatusUnprocessableEntity,
		"Say more about the reason", "Tick that you have seen", "Walks an hour.", "My own advice.")
	fields := []string{"version", "0", "language", "en", "outcome", "moved", "words", "To the coast", "text", "Walks an hour.", "advice", "Keep walking.", "seen", "yes"}
	contains(t, "discharged", mira.post(path+"/discharge", fields...), http.StatusSeeOther)
	contains(t, "discharged again", mira.post(path+"/discharge", fields...), http.StatusConflict)
	contains(t, "the closed record", mira.get(path+"/discharge"), http.StatusOK, "The client has moved away", "To the coast", "Still open in the record", "This record is closed")
	contains(t, "the record", mira.get(path+"/"), http.StatusOK, "This record is closed")
	if open := mira.get("/clients"); strings.Contains(open.body, "Ashby") {
		t.Error("a closed record is in the caseload")
	}
	contains(t, "closed records", mira.get("/clients?show=closed"), http.StatusOK, "Ashby", "The client has moved away")
	contains(t, "prescribed", mira.post(path+"/prescription", "version", "1", "class", "moderate", "sessions_per_week", "3", "minutes_per_session", "20",
		"activities", "Walks", "target", "60"), http.StatusForbidden, "This record is closed")

	// The client stays signed in, reads and does nothing.
	for _, page := range []string{"/", "/week", "/log", "/plan", "/report", "/tests", "/phone"} {
		r := jon.get(page)
		if page == "/" {
			r = jon.get(r.header.Get("Location"))
		}
		if r.status != http.StatusSeeOther || r.header.Get("Location") != "/reports" {
			t.Errorf("%s of a closed record: %d to %q", page, r.status, r.header.Get("Location"))
		}
	}
	contains(t, "own page", jon.get("/reports"), http.StatusOK, "Your time with us is over", "Walks an hour.", "Keep walking.", "Whom to call", "mira", "112")
	history := jon.get("/history")
	contains(t, "own history", history, http.StatusOK, "What you have done")
	if strings.Contains(history.body, `href="/log"`) || strings.Contains(history.body, `href="/sessions/`) || strings.Contains(history.body, `href="/report"`) {
		t.Error("the history of a closed record leads to what cannot be done")
	}
	contains(t, "own account", jon.get("/account"), http.StatusOK)
	sessions := s.Count(`SELECT count(*) FROM sessions`)
	for _, page := range []string{"/log", "/report", "/late"} {
		contains(t, "post to "+page, jon.post(page, "id", uuid.NewString()), http.StatusForbidden, "This record is closed")
	}
	if n := s.Count(`SELECT count(*) FROM sessions`); n != sessions {
		t.Errorf("%d sessions; want %d", n, sessions)
	}
	// So it is after a sign-in.
	contains(t, "signed in anew", s.as("jon").get("/reports"), http.StatusOK, "Your time with us is over")

	contains(t, "reopened without a reason", mira.post(path+"/reopen", "reason", " "), http.StatusUnprocessableEntity, "Say why the record is opened again.")
	contains(t, "reopened", mira.post(path+"/reopen", "reason", "Back from the coast"), http.StatusSeeOther)
	contains(t, "open again", mira.get(path+"/discharge"), http.StatusOK, "Discharged before", "Back from the coast", "Why care ends")
	contains(t, "own week", jon.get("/week"), http.StatusOK)
}

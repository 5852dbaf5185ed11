package e2e

import (
	"net/url"
	"strings"
	"testing"
)

// A report for the client and one for the doctor, each one page on A4 (ISO 216) and
// US Letter, in English and Spanish, with as much in it as fits; then the end of
// care: what is open is named, the client's phone shows the report and whom to
// call, and the record is opened again.
func TestReportAndDischarge(t *testing.T) {
	t.Parallel()
	NeedAxe(t)
	brae := Start(t)
	practice := NewPractice(t, brae)
	client := practice.screen("Rune", "Ridge", url.Values{"do": {"rest_no"}})
	practice.Practitioner.Post(client.Path+"/prescription", url.Values{
		"version": {"0"}, "class": {"moderate"}, "sessions_per_week": {"5"}, "minutes_per_session": {"30"}, "activities": {"Brisk walking"}, "target": {"150"},
	})
	fillReport(t, brae)

	pia := NewPerson(t, brae, "practitioner", Desk)
	pia.SignIn(practice.PractitionerName, PractitionerPassphrase)
	pia.Open(client.Path + "/report")
	pia.Sees("Report for Rune Ridge", "Not signed yet", "Minutes by week", "What felt wrong")
	pia.Press("Sign the report")
	pia.Sees("Write a summary in your own words")
	pia.Inspect("report draft", "refused")
	long := strings.Repeat("Walks further each week. ", 40)[:700]
	pia.Fill("Summary in your own words", long)
	pia.Press("Sign the report")
	pia.Sees("The report is signed", "Signed by")
	pia.onePage("the client's report in English")

	sign := func(version, reader, language string) {
		pia.Open(practice.Practitioner.Post(client.Path+"/report", url.Values{
			"version": {version}, "reader": {reader}, "language": {language}, "since": {""}, "text": {long},
		}))
	}
	sign("1", "client", "es")
	pia.Sees("Informe para Rune Ridge", "Minutos por semana")
	pia.onePage("the client's report in Spanish")
	pia.Open(client.Path + "/report?for=doctor")
	pia.Sees("No consent to share is on file", "Signed reports")
	sign("2", "doctor", "en")
	pia.Sees("Rune Ridge, born", "Doctors' decisions", "Holds", "Adherence")
	pia.onePage("the doctor's report")
	pia.Inspect("report signed", "for the doctor")

	phone := NewPerson(t, brae, "client", Phone)
	phone.SignIn(client.SignInName, ClientPassphrase)
	phone.Open("/reports")
	phone.Sees("What your practitioner has written for you")
	phone.Inspect("own reports", "two")

	pia.Open(client.Path + "/discharge")
	pia.Sees("Still open")
	if !strings.HasPrefix(pia.Value("Advice, to keep what was gained"), "Keep your week: 150 minutes") {
		t.Error("the advice does not start from our own")
	}
	pia.Choose("Why care ends", "The goal is reached")
	pia.Fill("Summary for the final report", "Walks an hour up the hill.")
	pia.Press("Sign and discharge")
	pia.Sees("Tick that you have seen what is still open")
	pia.Inspect("discharge", "refused")
	pia.Tick("I have seen what is still open. It stays open in the record.")
	pia.Press("Sign and discharge")
	pia.Sees("The client is discharged", "This record is closed", "Still open in the record")
	pia.Inspect("discharge", "closed")
	pia.Follow("Final report")
	pia.Sees("To keep what you have", "Keep your week")
	pia.onePage("the final report")
	pia.Open("/clients?show=closed")
	pia.Sees("Rune Ridge", "The goal is reached")
	pia.Inspect("clients", "closed")

	phone.Open("/week")
	phone.Sees("Your time with us is over", "Whom to call", "Keep your week")
	if phone.Path() != "/reports" {
		t.Errorf("the closed client is at %s", phone.Path())
	}
	phone.Inspect("own reports", "care has ended")
	phone.onePage("the final report on the client's phone")
	phone.Open("/history")
	phone.SeesNot("I do not feel well")

	pia.Open(client.Path + "/discharge")
	pia.Fill("Why", "Back from the coast")
	pia.Press("Open the record again")
	pia.Sees("The record is open again", "Discharged before", "Back from the coast")
	phone.Open("/week")
	phone.SeesNot("Your time with us is over")
}

// fillReport puts half a year of weeks, holds and symptoms into the record, as many
// as a report shows and more, as if the clock of a laboratory were turned.
func fillReport(t *testing.T, brae *Brae) {
	t.Helper()
	conn := brae.Query()
	for _, sql := range []string{
		`ALTER TABLE prescriptions DISABLE TRIGGER USER`,
		`UPDATE prescriptions SET signed_at = signed_at - interval '200 days'`,
		`ALTER TABLE prescriptions ENABLE TRIGGER USER`,
		`INSERT INTO week_totals (week, client_id, light, moderate, vigorous, sessions)
			SELECT date_trunc('week', now())::date - 7 * n, c.id, 20, 180 - 6 * n, 0, 4 FROM clients c, generate_series(1, 27) n`,
		`INSERT INTO holds (id, client_id, scope, kind, cause, rule, reason, needs, opened_at, opened_by)
			SELECT gen_random_uuid(), c.id, 'vigorous', 'practitioner', 'practitioner', 'practice',
				'Until the blood test of the family doctor is back and has been talked over with the client, in about two weeks ' || n, 'practitioner',
				now() - n * interval '10 days', c.practitioner_id FROM clients c, generate_series(1, 6) n`,
		`INSERT INTO triages (id, client_id, day, reports, note, body_hash, level, hold, rules, rule_set, input, assessment, at, by)
			SELECT gen_random_uuid(), c.id, current_date - 5 * n, '{chest_pressure_gone,chest_pressure_lasting,angina_spray_helped}', '', sha256(n::text::bytea), 'emergency', 'all', '{T02}', 'x', '{}', '{}',
				now() - n * interval '5 days', c.practitioner_id FROM clients c, generate_series(1, 6) n`,
	} {
		if _, err := conn.Exec(t.Context(), sql); err != nil {
			t.Fatal(err)
		}
	}
}

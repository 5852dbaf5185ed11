package store_test

import (
	"errors"
	"strings"
	"testing"
	"time"

	"github.com/google/uuid"

	"brae/domain"
	"brae/domain/intensity"
	"brae/domain/report"
	"brae/domain/screening"
	"brae/domain/triage"
	"brae/store"
	"brae/store/storetest"
)

// walker is a client with a prescription of 150 minutes since a Wednesday and two
// whole weeks after it: one with 200 minutes of brisk walking, one with none. In
// this week there is a symptom.
func walker(t *testing.T) (*storetest.Practice, uuid.UUID, store.Account) {
	t.Helper()
	f := storetest.SetUp(t)
	client := f.Client()
	jon := f.JoinClient(client, "jon")
	f.ScreenClient(client)
	storetest.Must(f.SignPrescription(t.Context(), f.Mira.Actor(), client, storetest.Walking(0)))
	f.Wait(7 * 24 * time.Hour)
	for _, minutes := range []int{100, 100} {
		walk := storetest.Walk(minutes)
		walk.Day = storetest.Day.AddDays(7)
		storetest.Must(f.LogSession(t.Context(), jon.Actor(), client, walk))
	}
	f.Wait(14 * 24 * time.Hour)
	unwell := storetest.Walk(30)
	unwell.Day, unwell.Reports = storetest.Day.AddDays(21), []triage.Report{"chest_pressure_gone"}
	storetest.Must(f.LogSession(t.Context(), jon.Actor(), client, unwell))
	return f, client, jon
}

// 4 days of 40 minutes at moderate are 160 moderate-equivalent minutes a week
// (Physical Activity Guidelines for Americans 2018, page 58). The first week began
// before the prescription; of the two whole weeks one has 200 minutes, of 150, and
// one none: a mean of 100.
func TestReportFigures(t *testing.T) {
	t.Parallel()
	f, client, _ := walker(t)
	d := storetest.Must(f.Report(t.Context(), f.Mira.Actor(), client, domain.Date{}, domain.Date{}))
	g := d.Figures
	if g.Since != storetest.Day || g.Until != storetest.Day.AddDays(21) || len(g.Weeks) != 4 || g.WeeksInAll != 4 {
		t.Errorf("from %s to %s, %d weeks of %d", g.Since, g.Until, len(g.Weeks), g.WeeksInAll)
	}
	if !g.Start.Known || g.Start.Activity != 160 || g.Start.Resting != 64 || g.Start.Ceiling != intensity.Vigorous && g.Start.Ceiling != intensity.Moderate {
		t.Errorf("start = %+v; want 160 minutes and 64 beats", g.Start)
	}
	if !g.Now.Known || g.Now.Activity != 100 || g.NowWeeks != 2 || g.Now.Ceiling != intensity.None {
		t.Errorf("now = %+v over %d weeks; want 100 over 2, and nothing allowed after chest pressure", g.Now, g.NowWeeks)
	}
	if want := (report.Adherence{Weeks: 2, Logged: 1, Reached: 1}); g.Adherence != want {
		t.Errorf("adherence = %+v; want %+v", g.Adherence, want)
	}
	if len(g.Symptoms) != 1 || g.Symptoms[0].Held == 0 || !g.Symptoms[0].Released.IsZero() || g.Symptoms[0].Reports[0] != "chest_pressure_gone" {
		t.Errorf("symptoms = %+v", g.Symptoms)
	}
	if len(g.Holds) == 0 || !g.Holds[0].Released.IsZero() {
		t.Errorf("holds = %+v", g.Holds)
	}
	if g.Prescription == nil || g.Prescription.Target.Minutes != 150 || d.Language != "en" || d.Shared || d.By != "mira" {
		t.Errorf("draft = %+v, prescription %+v", d, g.Prescription)
	}
	if n := f.Count(`SELECT count(*) FROM audit WHERE action = 'report.view' AND client_id = $1 AND actor_id = $2`, client, f.Mira.ID); n != 1 {
		t.Errorf("%d entries in the audit trail", n)
	}
	for _, since := range []domain.Date{storetest.Day.AddDays(22), storetest.Day.AddDays(21 - 732)} {
		var problems domain.Problems
		if _, err := f.Report(t.Context(), f.Mira.Actor(), client, since, domain.Date{}); !errors.As(err, &problems) || problems["since"] == "" {
			t.Errorf("a report since %s: %v", since, err)
		}
	}
}

// A new client has a report that says so, and no division by nothing.
func TestReportOfNothing(t *testing.T) {
	t.Parallel()
	f := storetest.SetUp(t)
	client := f.Client()
	g := storetest.Must(f.Report(t.Context(), f.Mira.Actor(), client, domain.Date{}, domain.Date{})).Figures
	if g.Start.Known || g.Now.Known || g.Start.Screened || g.Adherence.Weeks != 0 || g.Prescription != nil || len(g.Weeks) != 1 {
		t.Errorf("figures = %+v", g)
	}
}

func TestSignReport(t *testing.T) {
	t.Parallel()
	f, client, jon := walker(t)
	ctx := t.Context()
	for name, tt := range map[string]struct {
		change func(*store.ReportSigning)
		field  string
	}{
		"no words":      {func(in *store.ReportSigning) { in.Text = " " }, "text"},
		"too long":      {func(in *store.ReportSigning) { in.Text = strings.Repeat("a", 701) }, "text"},
		"no reader":     {func(in *store.ReportSigning) { in.Reader = "" }, "reader"},
		"no language":   {func(in *store.ReportSigning) { in.Language = "xx" }, "language"},
		"in the future": {func(in *store.ReportSigning) { in.Since = storetest.Day.AddDays(60) }, "since"},
	} {
		in := storetest.Reported(0)
		tt.change(&in)
		var problems domain.Problems
		if _, err := f.SignReport(ctx, f.Mira.Actor(), client, in); !errors.As(err, &problems) || problems[tt.field] == "" {
			t.Errorf("%s: %v; want a problem at %s", name, err, tt.field)
		}
	}
	own := storetest.Must(f.SignReport(ctx, f.Mira.Actor(), client, storetest.Reported(0)))
	if _, err := f.SignReport(ctx, f.Mira.Actor(), client, storetest.Reported(0)); !errors.Is(err, domain.ErrConflict) {
		t.Errorf("signed from an old form: %v", err)
	}
	doctors := storetest.Reported(1)
	doctors.Reader, doctors.Language = report.ForDoctor, "es"
	letter := storetest.Must(f.SignReport(ctx, f.Mira.Actor(), client, doctors))

	// What was signed stays as it was, whatever is logged later.
	more := storetest.Walk(60)
	more.Day = storetest.Day.AddDays(21)
	storetest.Must(f.LogSession(ctx, jon.Actor(), client, more))
	_, signed, err := f.SignedReport(ctx, jon.Actor(), client, own)
	if err != nil || signed.Text != "Walks half an hour now." || signed.SignedBy != "mira" || signed.Version != 1 || signed.Figures.Weeks[3].Totals.Moderate != 30 {
		t.Errorf("the client's report = %+v, %v", signed, err)
	}
	if _, _, err := f.SignedReport(ctx, jon.Actor(), client, letter); !errors.Is(err, domain.ErrNotFound) {
		t.Errorf("a client reads what was written for the doctor: %v", err)
	}
	if _, found, err := f.SignedReport(ctx, f.Lead.Actor(), client, letter); err != nil || found.Language != "en" {
		t.Errorf("the lead reads %+v, %v", found, err)
	}
	for _, other := range []store.Actor{f.Tomas.Actor(), f.JoinClient(f.Client(), "tilda").Actor()} {
		if _, _, err := f.SignedReport(ctx, other, client, own); !errors.Is(err, domain.ErrNotFound) {
			t.Errorf("%s reads a report: %v", other.Role, err)
		}
		if _, err := f.OwnReports(ctx, other, client); !errors.Is(err, domain.ErrNotFound) {
			t.Errorf("%s lists reports: %v", other.Role, err)
		}
		if _, err := f.SignReport(ctx, other, client, storetest.Reported(2)); !errors.Is(err, domain.ErrNotFound) {
			t.Errorf("%s signs a report: %v", other.Role, err)
		}
	}
	if _, err := f.SignReport(ctx, jon.Actor(), client, storetest.Reported(2)); !errors.Is(err, domain.ErrForbidden) {
		t.Errorf("a client signs a report: %v", err)
	}
	if list := storetest.Must(f.OwnReports(ctx, jon.Actor(), client)); len(list.Reports) != 1 || list.Reports[0].ID != own || list.Practitioner != "mira" {
		t.Errorf("own reports = %+v", list)
	}
	if _, err := f.Pool.Exec(ctx, `UPDATE reports SET text = 'other'`); err == nil {
		t.Error("a signed report can be changed")
	}
	for action, want := range map[string]int{"report.sign": 2, "report.view": 2, "reports.view": 1} {
		if n := f.Count(`SELECT count(*) FROM audit WHERE action = $1 AND client_id = $2`, action, client); n != want {
			t.Errorf("%d entries of %s; want %d", n, action, want)
		}
	}
}

// Care ends with what is open named and kept; the client reads, and does nothing
// more, until a practitioner opens the record again.
func TestDischarge(t *testing.T) {
	t.Parallel()
	f, client, jon := walker(t)
	ctx, mira := t.Context(), f.Mira.Actor()
	storetest.Must(f.WriteReferral(ctx, mira, client))
	kinds := map[string]int{}
	for _, m := range storetest.Must(f.OpenMatters(ctx, mira, client)) {
		kinds[m.Kind]++
		if m.Text == "" || !strings.HasPrefix(m.Path, "/") {
			t.Errorf("open: %+v", m)
		}
	}
	if kinds["hold"] == 0 || kinds["letter"] != 1 || kinds["flag"] == 0 {
		t.Errorf("open: %v; want a hold, a letter and a flag", kinds)
	}
	unseen := storetest.Discharged(0)
	unseen.Seen = false
	var problems domain.Problems
	if _, err := f.DischargeClient(ctx, mira, client, unseen); !errors.As(err, &problems) || problems["seen"] == "" {
		t.Errorf("discharge with an open hold unseen: %v", err)
	}
	if _, err := f.DischargeClient(ctx, jon.Actor(), client, storetest.Discharged(0)); !errors.Is(err, domain.ErrForbidden) {
		t.Errorf("a client discharges: %v", err)
	}
	if _, err := f.DischargeClient(ctx, f.Tomas.Actor(), client, storetest.Discharged(0)); !errors.Is(err, domain.ErrNotFound) {
		t.Errorf("another practitioner discharges: %v", err)
	}
	feed := storetest.Must(f.NewCalendar(ctx, jon.Actor()))
	storetest.Must(f.CalendarOf(ctx, feed))
	holds := f.Count(`SELECT count(*) FROM holds WHERE released_at IS NULL`)
	final := storetest.Must(f.DischargeClient(ctx, mira, client, storetest.Discharged(0)))
	if _, err := f.DischargeClient(ctx, mira, client, storetest.Discharged(1)); !errors.Is(err, domain.ErrConflict) {
		t.Errorf("discharged twice: %v", err)
	}
	if n := f.Count(`SELECT count(*) FROM holds WHERE released_at IS NULL`); n != holds {
		t.Errorf("%d holds are open; want %d", n, holds)
	}

	closed := storetest.Must(f.SignedIn(ctx, jon.ID))
	if !closed.Closed || closed.ClientID != client {
		t.Errorf("signed in = %+v; want a closed record", closed)
	}
	if _, signed, err := f.SignedReport(ctx, jon.Actor(), client, final); err != nil || !signed.Final || signed.Advice != "Keep walking." {
		t.Errorf("the final report = %+v, %v", signed, err)
	}
	if _, err := f.CalendarOf(ctx, feed); !errors.Is(err, domain.ErrNotFound) {
		t.Errorf("the calendar of a closed record: %v", err)
	}
	late := storetest.Walk(20)
	late.Day = storetest.Day.AddDays(21)
	if _, err := f.LogSession(ctx, jon.Actor(), client, late); !errors.Is(err, domain.ErrClosed) {
		t.Errorf("logged into a closed record: %v", err)
	}
	if _, err := f.SignPrescription(ctx, mira, client, storetest.Walking(1)); !errors.Is(err, domain.ErrClosed) {
		t.Errorf("prescribed in a closed record: %v", err)
	}
	if list := storetest.Must(f.Caseload(ctx, mira, "")); len(list) != 0 {
		t.Errorf("the caseload has %d clients", len(list))
	}
	list := storetest.Must(f.ClosedClients(ctx, mira, "ash"))
	if len(list) != 1 || list[0].ID != client || list[0].Outcome != report.GoalReached {
		t.Errorf("closed clients = %+v", list)
	}
	if list := storetest.Must(f.ClosedClients(ctx, f.Tomas.Actor(), "")); len(list) != 0 {
		t.Errorf("another practitioner sees %d closed clients", len(list))
	}
	if _, err := f.ClosedClients(ctx, jon.Actor(), ""); !errors.Is(err, domain.ErrForbidden) {
		t.Errorf("a client lists closed clients: %v", err)
	}
	for action, want := range map[string]int{"client.close": 1, "discharge.view": 1} {
		if n := f.Count(`SELECT count(*) FROM audit WHERE action = $1 AND client_id = $2`, action, client); n != want {
			t.Errorf("%d entries of %s; want %d", n, action, want)
		}
	}
}

// A record is opened again with a reason. After 92 days (practice setting) the
// screening is too old, and all exercise waits for a new one.
func TestReopen(t *testing.T) {
	t.Parallel()
	for _, tt := range []struct {
		days int // since the screening
		held bool
	}{{20, false}, {91, false}, {92, true}} {
		f := storetest.SetUp(t)
		ctx, mira, client := t.Context(), f.Mira.Actor(), f.Client()
		jon := f.JoinClient(client, "jon")
		f.ScreenClient(client)
		if err := f.ReopenClient(ctx, mira, client, "Back"); !errors.Is(err, domain.ErrConflict) {
			t.Errorf("an open record is opened: %v", err)
		}
		storetest.Must(f.DischargeClient(ctx, mira, client, storetest.Discharged(0)))
		f.Wait(time.Duration(tt.days) * 24 * time.Hour)
		var problems domain.Problems
		if err := f.ReopenClient(ctx, mira, client, " "); !errors.As(err, &problems) || problems["reason"] == "" {
			t.Errorf("opened without a reason: %v", err)
		}
		if err := f.ReopenClient(ctx, f.Tomas.Actor(), client, "Back"); !errors.Is(err, domain.ErrNotFound) {
			t.Errorf("another practitioner opens it: %v", err)
		}
		if err := f.ReopenClient(ctx, jon.Actor(), client, "Back"); !errors.Is(err, domain.ErrForbidden) && !errors.Is(err, domain.ErrClosed) {
			t.Errorf("a client opens it: %v", err)
		}
		if err := f.ReopenClient(ctx, mira, client, "Back from the coast"); err != nil {
			t.Fatal(err)
		}
		if n := f.Count(`SELECT count(*) FROM holds WHERE client_id = $1 AND cause = 'reopened' AND scope = 'all' AND released_at IS NULL`, client); n != 0 != tt.held {
			t.Errorf("after %d days %d holds; want held %t", tt.days, n, tt.held)
		}
		if storetest.Must(f.SignedIn(ctx, jon.ID)).Closed {
			t.Error("the record is still closed to the client")
		}
		d := storetest.Must(f.Report(ctx, mira, client, domain.Date{}, domain.Date{})).Discharge
		if d == nil || d.Reopened == nil || d.Reopened.Reason != "Back from the coast" || d.Reopened.Held != tt.held || d.Reopened.By != "mira" {
			t.Errorf("discharge = %+v", d)
		}
		if n := f.Count(`SELECT count(*) FROM audit WHERE action = 'client.reopen' AND client_id = $1`, client); n != 1 {
			t.Errorf("%d entries of client.reopen", n)
		}
	}
}

// A report up to a chosen day has what was known on it: the whole week that ends with
// that Sunday has 200 minutes of 150, and the symptoms of two weeks later are not in
// it. Of readings before a session it has the first and the last of the period, as
// measured again (a second measurement after a rest counts: practice setting).
func TestReportOfAPeriod(t *testing.T) {
	t.Parallel()
	f, client, _ := walker(t)
	ctx, mira := t.Context(), f.Mira.Actor()
	take := func(again *int, sbp, dbp, rest int) {
		in := store.VitalsInput{ID: uuid.New(), Confirmed: true}
		in.Reading.Vitals = screening.Vitals{SBP: &sbp, DBP: &dbp, RestingHR: &rest}
		in.Reading.RestingHRAgain = again
		storetest.Must(f.TakeVitals(ctx, mira, client, in))
		f.Wait(24 * time.Hour)
	}
	take(nil, 138, 86, 72)
	take(new(70), 130, 82, 104)
	take(nil, 126, 80, 66)
	sunday := storetest.Day.AddDays(11)
	g := storetest.Must(f.Report(ctx, mira, client, domain.Date{}, sunday)).Figures
	if g.Until != sunday || len(g.Weeks) != 2 || g.NowWeeks != 1 || g.Now.Activity != 200 || g.Adherence != (report.Adherence{Weeks: 1, Logged: 1, Reached: 1}) {
		t.Errorf("until %s, %d weeks, now %+v over %d, %+v; want one whole week with 200 minutes", g.Until, len(g.Weeks), g.Now, g.NowWeeks, g.Adherence)
	}
	if len(g.Symptoms) != 0 || len(g.Holds) != 0 || g.Now.Screened || !g.Pressure[0].On.IsZero() {
		t.Errorf("what came later is in it: %+v, %+v, %+v, %+v", g.Symptoms, g.Holds, g.Now, g.Pressure)
	}
	first := storetest.Day.AddDays(21)
	g = storetest.Must(f.Report(ctx, mira, client, domain.Date{}, first.AddDays(1))).Figures
	if g.Pressure != [2]store.ReportReading{{On: first, High: 138, Low: 86}, {On: first.AddDays(1), High: 130, Low: 82}} ||
		g.Pulse != [2]store.ReportReading{{On: first, High: 72}, {On: first.AddDays(1), High: 70}} {
		t.Errorf("pressure = %+v, pulse = %+v", g.Pressure, g.Pulse)
	}
	for _, until := range []domain.Date{storetest.Day.AddDays(-1), storetest.Day.AddDays(25)} {
		var problems domain.Problems
		if _, err := f.Report(ctx, mira, client, domain.Date{}, until); !errors.As(err, &problems) || problems["until"] == "" {
			t.Errorf("a report until %s: %v", until, err)
		}
	}
	in := storetest.Reported(0)
	in.Until = sunday
	id := storetest.Must(f.SignReport(ctx, mira, client, in))
	if _, signed, err := f.SignedReport(ctx, mira, client, id); err != nil || signed.Until != sunday || signed.Figures.Now.Activity != 200 {
		t.Errorf("signed = %+v, %v", signed, err)
	}
}

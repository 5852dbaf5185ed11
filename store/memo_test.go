package store_test

import (
	"context"
	"errors"
	"fmt"
	"log/slog"
	"math/rand/v2"
	"reflect"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/google/uuid"
	"github.com/jackc/pgx/v5"
	"github.com/jackc/pgx/v5/pgconn"

	"brae/domain"
	"brae/domain/clearance"
	"brae/domain/intake"
	"brae/domain/intensity"
	"brae/domain/screening"
	"brae/domain/source"
	"brae/domain/triage"
	"brae/store"
	"brae/store/storetest"
)

// lists are the pages about many clients, for the lead and for Mira.
type lists struct {
	Review   [2]store.Review
	Caseload [2][]store.CaseloadLine
	Worklist [2]store.Worklist
	Stale    [2][]store.StalePrescription
	Doctor   [2]store.DoctorQueue
}

func listsOf(t *testing.T, f *storetest.Practice, s *store.Store) (l lists) {
	t.Helper()
	for i, a := range []store.Actor{f.Lead.Actor(), f.Mira.Actor()} {
		l.Review[i] = storetest.Must(s.WeekReview(t.Context(), a, everybody))
		l.Caseload[i] = storetest.Must(s.Caseload(t.Context(), a, ""))
		l.Worklist[i] = storetest.Must(s.Worklist(t.Context(), a, store.WorklistFilter{}))
		l.Stale[i] = storetest.Must(s.StalePrescriptions(t.Context(), a))
		l.Doctor[i] = storetest.Must(s.DoctorQueue(t.Context(), a))
	}
	return l
}

// traced is another store on the same database, which remembers nothing yet. Its
// statements are told to before, in the order in which they are sent.
func traced(t *testing.T, f *storetest.Practice, before func(sql string, args []any)) *store.Store {
	t.Helper()
	c := store.Config{URL: f.Pool.Config().ConnString(), Now: f.Tick, MaxConns: 4, Log: slog.New(slog.DiscardHandler)}
	if before != nil {
		c.Tracer = tracer(before)
	}
	s := storetest.Must(store.Open(t.Context(), c))
	t.Cleanup(s.Close)
	return s
}

type tracer func(sql string, args []any)

func (f tracer) TraceQueryStart(ctx context.Context, _ *pgx.Conn, d pgx.TraceQueryStartData) context.Context {
	f(d.SQL, d.Args)
	return ctx
}

func (tracer) TraceQueryEnd(context.Context, *pgx.Conn, pgx.TraceQueryEndData) {}

// A batch is sent at one moment.
func (f tracer) TraceBatchStart(ctx context.Context, _ *pgx.Conn, d pgx.TraceBatchStartData) context.Context {
	for _, q := range d.Batch.QueuedQueries {
		f(q.SQL, q.Arguments)
	}
	return ctx
}

func (tracer) TraceBatchQuery(context.Context, *pgx.Conn, pgx.TraceBatchQueryData) {}
func (tracer) TraceBatchEnd(context.Context, *pgx.Conn, pgx.TraceBatchEndData)     {}

// sameAsFresh compares what a store says that remembers with what one says that
// works everything out.
func sameAsFresh(t *testing.T, f *storetest.Practice, s *store.Store, after string) {
	t.Helper()
	fresh := storetest.Must(store.Open(t.Context(), store.Config{URL: f.Pool.Config().ConnString(), Now: f.Tick, MaxConns: 1, Log: slog.New(slog.DiscardHandler)}))
	defer fresh.Close()
	got, want := listsOf(t, f, s), listsOf(t, f, fresh)
	g, w := reflect.ValueOf(got), reflect.ValueOf(want)
	for i := range g.NumField() {
		if !reflect.DeepEqual(g.Field(i).Interface(), w.Field(i).Interface()) {
			t.Fatalf("after %s, %s:\n%+v\nworked out anew:\n%+v", after, g.Type().Field(i).Name, g.Field(i), w.Field(i))
		}
	}
}

// TestWhatIsRemembered does at random what people do, and compares after each step
// the pages about many clients with those of a program that has just started.
func TestWhatIsRemembered(t *testing.T) {
	t.Parallel()
	f := storetest.SetUp(t)
	m := model{f: f, random: rand.New(rand.NewPCG(11, 23)), done: map[string]int{}}
	for range 4 {
		m.clients = append(m.clients, f.Client())
	}
	for i, id := range m.clients[:3] {
		f.ScreenClient(id)
		storetest.Must(f.SignPrescription(t.Context(), f.Mira.Actor(), id, storetest.Walking(0)))
		if i > 0 {
			storetest.Must(f.SavePlan(t.Context(), f.Mira.Actor(), id, planInput(0, walks(3, 20), walks(3, 25), walks(4, 25))))
		}
	}
	ops := m.ops()
	for step := range 2*len(ops) + 10 {
		op, client := ops[m.random.IntN(len(ops))], m.clients[m.random.IntN(len(m.clients))]
		if step < len(ops) { // each once
			op, client = ops[step], m.clients[step%3]
		}
		err := op.do(t.Context(), client)
		if _, broken := errors.AsType[*pgconn.PgError](err); broken {
			t.Fatalf("%s: %v", op.name, err)
		}
		if err == nil {
			m.done[op.name]++
		} else {
			t.Logf("%s: %v", op.name, err)
		}
		sameAsFresh(t, f, f.Store, fmt.Sprintf("step %d, %s (%v)", step, op.name, err))
	}
	for _, op := range ops {
		if m.done[op.name] == 0 {
			t.Errorf("%s never went through", op.name)
		}
	}
}

// model does what people do.
type model struct {
	f        *storetest.Practice
	random   *rand.Rand
	clients  []uuid.UUID
	settings int
	done     map[string]int
}

type op struct {
	name string
	do   func(ctx context.Context, client uuid.UUID) error
}

// errNothing means that there was nothing to do it to.
var errNothing = errors.New("nothing there")

func (m *model) ops() []op {
	f, mira := m.f, m.f.Mira.Actor()
	today := func() domain.Date { return domain.DateOf(f.Tick(), time.UTC) }
	value := func(ctx context.Context, sql string, into any, args ...any) error {
		return f.Pool.QueryRow(ctx, sql, args...).Scan(into)
	}
	session := func(ctx context.Context, deleted bool, do func(id, client uuid.UUID, version int) error) error {
		var id, client uuid.UUID
		var version int
		err := f.Pool.QueryRow(ctx, `SELECT id, client_id, version FROM sessions WHERE (deleted_at IS NOT NULL) = $1 ORDER BY sha256(id::text::bytea) LIMIT 1`,
			deleted).Scan(&id, &client, &version)
		if errors.Is(err, pgx.ErrNoRows) {
			return errNothing
		}
		if err != nil {
			return err
		}
		return do(id, client, version)
	}
	log := func(ctx context.Context, client uuid.UUID, change func(*store.SessionInput)) error {
		in := storetest.Walk(10 + m.random.IntN(40))
		in.Day = today().AddDays(-m.random.IntN(3))
		change(&in)
		_, err := f.LogSession(ctx, mira, client, in)
		return err
	}
	return []op{
		{"log", func(ctx context.Context, c uuid.UUID) error { return log(ctx, c, func(*store.SessionInput) {}) }},
		{"log hard", func(ctx context.Context, c uuid.UUID) error {
			return log(ctx, c, func(in *store.SessionInput) { in.Parts[0].Talk = intensity.TalkFewWords })
		}},
		{"prescribe", func(ctx context.Context, c uuid.UUID) error {
			var version int
			if err := value(ctx, `SELECT count(*) FROM prescriptions WHERE client_id = $1`, &version, c); err != nil {
				return err
			}
			in := storetest.Walking(version)
			in.Class, in.MinutesPerSession, in.TargetMinutes = intensity.Light, 20+m.random.IntN(20), 100+m.random.IntN(100)
			_, err := f.SignPrescription(ctx, mira, c, in)
			return err
		}},
		{"plan", func(ctx context.Context, c uuid.UUID) error {
			var version int
			if err := value(ctx, `SELECT count(*) FROM plans WHERE client_id = $1`, &version, c); err != nil {
				return err
			}
			in := planInput(version, walks(3, 20+m.random.IntN(10)), walks(3, 30))
			in.Starts = today().Week(time.Monday)
			_, err := f.SavePlan(ctx, mira, c, in)
			return err
		}},
		{"edit", func(ctx context.Context, _ uuid.UUID) error {
			return session(ctx, false, func(id, client uuid.UUID, version int) error {
				in := storetest.Walk(5 + m.random.IntN(60))
				in.ID, in.Day = id, today().AddDays(-1)
				_, err := f.EditSession(ctx, mira, client, id, version, in, "typed too fast")
				return err
			})
		}},
		{"delete", func(ctx context.Context, _ uuid.UUID) error {
			return session(ctx, false, func(id, client uuid.UUID, version int) error {
				_, err := f.DeleteSession(ctx, mira, client, id, version, "logged twice")
				return err
			})
		}},
		{"restore", func(ctx context.Context, _ uuid.UUID) error {
			return session(ctx, true, func(id, client uuid.UUID, version int) error {
				_, err := f.RestoreSession(ctx, mira, client, id, version)
				return err
			})
		}},
		{"report", func(ctx context.Context, c uuid.UUID) error {
			_, err := f.ReportSymptoms(ctx, mira, c, store.ReportInput{ID: uuid.New(), Reports: []triage.Report{"palpitations_new"}})
			return err
		}},
		{"hold", func(ctx context.Context, c uuid.UUID) error {
			scope := []clearance.Scope{clearance.Vigorous, clearance.AboveLight, clearance.All}[m.random.IntN(3)]
			_, err := f.OpenHold(ctx, mira, c, scope, "Wait until seen.")
			return err
		}},
		{"release", func(ctx context.Context, _ uuid.UUID) error {
			var id, client uuid.UUID
			err := f.Pool.QueryRow(ctx, `SELECT id, client_id FROM holds WHERE released_at IS NULL AND kind = 'practitioner' LIMIT 1`).Scan(&id, &client)
			if err != nil {
				return errNothing
			}
			return f.ReleaseHold(ctx, mira, client, id, "Seen today.")
		}},
		{"pause", func(ctx context.Context, c uuid.UUID) error {
			return f.PauseClient(ctx, mira, c, store.PauseInput{ID: uuid.New(), From: today(), To: today().AddDays(m.random.IntN(9)), Kind: "holiday"})
		}},
		{"end pause", func(ctx context.Context, _ uuid.UUID) error {
			var id, client uuid.UUID
			if err := f.Pool.QueryRow(ctx, `SELECT id, client_id FROM pauses WHERE ended_at IS NULL LIMIT 1`).Scan(&id, &client); err != nil {
				return errNothing
			}
			return f.EndPause(ctx, mira, client, id, today())
		}},
		{"hear of a change", func(ctx context.Context, c uuid.UUID) error {
			kind := []clearance.ChangeKind{clearance.MedicineChange, clearance.NewDiagnosis, clearance.NewSymptom}[m.random.IntN(3)]
			return f.ReportChange(ctx, mira, c, kind, today(), "metoprolol 50 mg")
		}},
		{"screen", func(ctx context.Context, c uuid.UUID) error {
			_, draft, err := f.IntakeDraft(ctx, mira, c)
			if err != nil {
				return err
			}
			answers := storetest.Answers(intake.QuestionField("diabetes_type_2"), []string{"yes", "no"}[m.random.IntN(2)])
			version, err := f.SaveIntake(ctx, mira, c, draft.Version, answers)
			if err != nil {
				return err
			}
			_, err = f.Screen(ctx, mira, c, version)
			return err
		}},
		{"begin an intake", func(ctx context.Context, c uuid.UUID) error {
			_, draft, err := f.IntakeDraft(ctx, mira, c)
			if err != nil {
				return err
			}
			_, err = f.SaveIntake(ctx, mira, c, draft.Version, store.Answers{intake.FieldDays: "3"})
			return err
		}},
		{"clear", func(ctx context.Context, c uuid.UUID) error {
			in := storetest.Cleared(intensity.Moderate, "palpitations_new")
			in.DecidedOn, in.ReceivedOn = today(), today()
			_, err := f.RecordClearance(ctx, mira, c, in)
			return err
		}},
		{"revoke", func(ctx context.Context, _ uuid.UUID) error {
			var id, client uuid.UUID
			err := f.Pool.QueryRow(ctx, `SELECT id, client_id FROM clearances d
				WHERE NOT EXISTS (SELECT FROM clearance_events WHERE clearance_id = d.id) LIMIT 1`).Scan(&id, &client)
			if err != nil {
				return errNothing
			}
			return f.RevokeClearance(ctx, f.Lead.Actor(), client, id, "The doctor takes it back.")
		}},
		{"vital signs", func(ctx context.Context, c uuid.UUID) error {
			_, err := f.TakeVitals(ctx, mira, c, store.VitalsInput{ID: uuid.New(), Confirmed: true, Reading: screening.Reading{Vitals: screening.Vitals{RestingHR: new(124)}}})
			return err
		}},
		{"another name", func(ctx context.Context, c uuid.UUID) error {
			return f.ChangeClient(ctx, mira, c, store.Client{
				GivenName: "Jon", FamilyName: fmt.Sprintf("Ashby %d", m.random.IntN(100)), BirthDate: domain.NewDate(1960+m.random.IntN(20), 3, 14),
			})
		}},
		{"settings", func(ctx context.Context, _ uuid.UUID) error {
			values := source.Values{"volume.silent_days": 3 + m.random.IntN(20)}
			err := f.ChangeSettings(ctx, f.Lead.Actor(), m.settings, values, "As we do it.")
			if err == nil {
				m.settings++
			}
			return err
		}},
		{"another client", func(ctx context.Context, _ uuid.UUID) error {
			_, err := f.AddClient(ctx, m.f.Tomas.Actor(), store.Client{GivenName: "Ada", FamilyName: "Quill", BirthDate: domain.NewDate(1970, 5, 2)})
			return err
		}},
		{"close", func(ctx context.Context, _ uuid.UUID) error {
			client := m.clients[3]
			if m.done["close"] > m.done["open again"] {
				return errNothing
			}
			var version int
			if err := value(ctx, `SELECT count(*) FROM reports WHERE client_id = $1`, &version, client); err != nil {
				return err
			}
			_, err := f.DischargeClient(ctx, mira, client, storetest.Discharged(version))
			return err
		}},
		{"open again", func(ctx context.Context, _ uuid.UUID) error {
			return f.ReopenClient(ctx, mira, m.clients[3], "Is back.")
		}},
		{"wait a day", func(context.Context, uuid.UUID) error { f.Wait(24 * time.Hour); return nil }},
		{"wait a week", func(context.Context, uuid.UUID) error { f.Wait(7 * 24 * time.Hour); return nil }},
	}
}

// TestRememberedBesideAChange lets a change commit at each moment of a review, and
// looks at a review at each moment of a change.
func TestRememberedBesideAChange(t *testing.T) {
	t.Parallel()
	f := storetest.SetUp(t)
	client := f.Client()
	f.ScreenClient(client)
	storetest.Must(f.SignPrescription(t.Context(), f.Mira.Actor(), client, storetest.Walking(0)))
	storetest.Must(f.SavePlan(t.Context(), f.Mira.Actor(), client, planInput(0, walks(3, 20), walks(3, 25))))
	log := func(s *store.Store) {
		storetest.Must(s.LogSession(t.Context(), f.Mira.Actor(), client, storetest.Walk(20)))
	}
	// at returns a store that does something before its nth statement of what runs, once.
	at := func(n *int, do func()) *store.Store {
		return traced(t, f, func(string, []any) {
			*n--
			if *n == 0 {
				do()
			}
		})
	}
	moments := func(run func(moment int) (reached bool)) {
		t.Helper()
		moment := 1
		for run(moment) {
			moment++
		}
		if moment < 4 {
			t.Fatalf("%d moments: the statements are not seen", moment)
		}
	}
	moments(func(moment int) bool {
		n := 0
		s := at(&n, func() { log(f.Store) })
		n = moment
		storetest.Must(s.WeekReview(t.Context(), f.Lead.Actor(), everybody))
		reached := n <= 0
		n = 0
		sameAsFresh(t, f, s, fmt.Sprintf("a log before statement %d of the reviewer", moment))
		return reached
	})
	moments(func(moment int) bool {
		n := 0
		reviewer := traced(t, f, nil)
		s := at(&n, func() { listsOf(t, f, reviewer) })
		n = moment
		log(s)
		sameAsFresh(t, f, reviewer, fmt.Sprintf("a review before statement %d of a log", moment))
		return n <= 0
	})
}

// TestReviewsAtOnce has many look while many log.
func TestReviewsAtOnce(t *testing.T) {
	t.Parallel()
	f := storetest.SetUp(t)
	clients := make([]uuid.UUID, 5)
	for i := range clients {
		clients[i] = f.Client()
		f.ScreenClient(clients[i])
		storetest.Must(f.SignPrescription(t.Context(), f.Mira.Actor(), clients[i], storetest.Walking(0)))
	}
	var group sync.WaitGroup
	for i := range 4 {
		group.Go(func() {
			for n := range 12 {
				if i%2 == 0 {
					storetest.Must(f.LogSession(t.Context(), f.Mira.Actor(), clients[n%len(clients)], storetest.Walk(5)))
				} else {
					storetest.Must(f.WeekReview(t.Context(), f.Lead.Actor(), everybody))
				}
			}
		})
	}
	group.Wait()
	sameAsFresh(t, f, f.Store, "logs and reviews at once")
}

// TestListsReadNoWholeTable asks the planner, with 500 clients and half a year of
// sessions, how it finds what the pages about many clients need.
func TestListsReadNoWholeTable(t *testing.T) {
	t.Parallel()
	f := storetest.SetUp(t)
	client := f.Client()
	f.ScreenClient(client)
	storetest.Must(f.SignPrescription(t.Context(), f.Mira.Actor(), client, storetest.Walking(0)))
	if err := storetest.Multiply(t.Context(), f.Pool, client, 500, 26, 4, storetest.Day); err != nil {
		t.Fatal(err)
	}
	type statement struct {
		sql  string
		args []any
	}
	var sent []statement
	s := traced(t, f, func(sql string, args []any) { sent = append(sent, statement{sql, args}) })
	page := func(all []store.ReviewLine) []store.ReviewLine { return all[:50] }
	review := func() { storetest.Must(s.WeekReview(t.Context(), f.Lead.Actor(), page)) }
	looks := func() {
		review()
		storetest.Must(s.Caseload(t.Context(), f.Lead.Actor(), ""))
		storetest.Must(s.Worklist(t.Context(), f.Lead.Actor(), store.WorklistFilter{}))
	}
	review()
	storetest.Must(f.LogSession(t.Context(), f.Mira.Actor(), client, storetest.Walk(20)))
	review() // of one client anew
	seen := 0
	for _, q := range sent {
		if !strings.Contains(q.sql, "sessions") || !strings.HasPrefix(strings.TrimSpace(q.sql), "SELECT") {
			continue
		}
		seen++
		rows, _ := f.Pool.Query(t.Context(), "EXPLAIN "+q.sql, q.args...)
		lines, err := pgx.CollectRows(rows, pgx.RowTo[string])
		if err != nil {
			t.Fatalf("%v\n%s", err, q.sql)
		}
		if p := strings.Join(lines, "\n"); strings.Contains(p, "Seq Scan on sessions") || strings.Contains(p, "Seq Scan on session_parts") {
			t.Errorf("%s\n%s", q.sql, p)
		}
	}
	if seen < 4 {
		t.Errorf("%d statements about sessions were looked at", seen)
	}
	// What is remembered is not asked for again.
	looks()
	sent = nil
	looks()
	for _, q := range sent {
		if strings.Contains(q.sql, "session_parts") {
			t.Errorf("asked for again: %s", q.sql)
		}
	}
}

// Package bench measures Brae beside what the machine can do at all: a bare HTTP
// server and bare PostgreSQL, in turn, in one run. Quote the ratios, not the
// figures: the machine's speed is in both.
package bench

import (
	"bytes"
	"context"
	"fmt"
	"io"
	"log/slog"
	"net/http"
	"net/http/cookiejar"
	"net/url"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"sync"
	"sync/atomic"
	"testing"
	"time"

	"github.com/google/uuid"
	"github.com/jackc/pgx/v5/pgxpool"

	"brae/domain"
	"brae/e2e"
	"brae/migrations"
	"brae/store"
	"brae/store/localpg"
	"brae/store/storetest"
)

const (
	clients    = 500
	weeks      = 52
	perWeek    = 4 // sessions
	load       = 16
	roundTime  = 2 * time.Second
	rounds     = 5
	floorVar   = "BRAE_BENCH_FLOOR"
	floorReply = "hello"
)

// TestMain is the floor when it is started as one: an HTTP server that does
// nothing, in a process of its own like Brae.
func TestMain(m *testing.M) {
	if address := os.Getenv(floorVar); address != "" {
		fmt.Println(http.ListenAndServe(address, http.HandlerFunc(func(w http.ResponseWriter, _ *http.Request) {
			_, _ = io.WriteString(w, floorReply)
		})))
		os.Exit(1)
	}
	code := m.Run()
	e2e.CloseBrowser()
	os.Exit(code)
}

// BenchmarkRatios loads the review page and the log with sixteen connections, in
// turn with their floors, and prints the medians of five rounds.
func BenchmarkRatios(b *testing.B) {
	for b.Loop() {
		measure(b)
	}
}

func measure(b *testing.B) {
	s := newScene(b)
	lead := s.signIn("lead")
	phones := make([]*http.Cookie, load) // each a client's of their own, as the bare transaction spreads over clients
	for i := range phones {
		phones[i] = s.signIn(fmt.Sprintf("bench-%d", i))
	}
	var next atomic.Int64

	review := func() (*http.Request, error) { return s.request(http.MethodGet, "/review", "", lead) }
	logPost := func() (*http.Request, error) {
		form := url.Values{
			"id": {uuid.NewString()}, "day": {s.day.String()}, "parts[0].activity": {"walk_brisk"},
			"parts[0].minutes": {"1"}, "parts[0].talk": {"sentences"}, "symptoms": {"no"},
		}
		return s.request(http.MethodPost, "/log", form.Encode(), phones[next.Add(1)%load])
	}
	floor := func() (*http.Request, error) { return http.NewRequest(http.MethodGet, s.floor, nil) }

	results := map[string][]run{}
	for range rounds {
		results["floor"] = append(results["floor"], s.hammer(floor, http.StatusOK))
		results["review"] = append(results["review"], s.hammer(review, http.StatusOK))
		results["floor again"] = append(results["floor again"], s.hammer(floor, http.StatusOK))
		results["pgbench"] = append(results["pgbench"], s.pgbench())
		results["log"] = append(results["log"], s.hammer(logPost, http.StatusSeeOther))
	}
	show := func(name string) run {
		r := median(results[name])
		b.Logf("%-12s %8.0f /s   p50 %6.1f ms   p99 %6.1f ms   cpu %5.2f ms", name, r.rate, ms(r.p50), ms(r.p99), r.cpu)
		return r
	}
	b.Logf("%d clients, %d weeks of %d sessions, %d connections, median of %d rounds of %s:", clients, weeks, perWeek, load, rounds, roundTime)
	bare, page, transaction, post := show("floor"), show("review"), show("pgbench"), show("log")
	b.Logf("review / floor   %.3f   (goal at least 0.04; app and database CPU at most 1.9 ms)", page.rate/bare.rate)
	b.Logf("log / pgbench    %.3f   (goal at least 0.4, p99 at most 100 ms at 50 a second)", post.rate/transaction.rate)
	b.ReportMetric(page.rate/bare.rate, "review/floor")
	b.ReportMetric(post.rate/transaction.rate, "log/pgbench")
}

// run is the outcome of one round.
type run struct {
	rate     float64 // a second
	p50, p99 time.Duration
	cpu      float64 // ms of Brae and PostgreSQL together, a request
}

func ms(d time.Duration) float64 { return float64(d) / float64(time.Millisecond) }

func median(runs []run) run {
	slices.SortFunc(runs, func(a, c run) int { return int(a.rate - c.rate) })
	return runs[len(runs)/2]
}

// scene is Brae and its floors, running.
type scene struct {
	b        *testing.B
	url      string
	floor    string
	brae     *exec.Cmd
	cluster  *localpg.Cluster
	database string
	pool     *pgxpool.Pool
	day      domain.Date
	http     *http.Client
}

func newScene(b *testing.B) *scene {
	b.Helper()
	dir, err := os.MkdirTemp("", "brae-bench-")
	if err != nil {
		b.Fatal(err)
	}
	if err := os.Chmod(dir, 0o755); err != nil { // under root PostgreSQL is somebody else
		b.Fatal(err)
	}
	b.Cleanup(func() { _ = os.RemoveAll(dir) })
	ctx := context.Background()
	quiet := slog.New(slog.DiscardHandler)
	cluster, err := localpg.Start(ctx, localpg.Config{Dir: filepath.Join(dir, "data"), Log: quiet})
	if err != nil {
		b.Fatal(err)
	}
	b.Cleanup(func() { _ = cluster.Stop(context.Background()) })
	s := &scene{b: b, cluster: cluster, http: &http.Client{
		Transport:     &http.Transport{MaxIdleConnsPerHost: load, DisableCompression: true},
		CheckRedirect: func(*http.Request, []*http.Request) error { return http.ErrUseLastResponse },
		Timeout:       20 * time.Second,
	}}
	if s.database, err = cluster.Database(ctx, "brae"); err != nil {
		b.Fatal(err)
	}
	if err := migrations.Up(ctx, s.database, quiet); err != nil {
		b.Fatal(err)
	}
	if s.pool, err = pgxpool.New(ctx, s.database); err != nil {
		b.Fatal(err)
	}
	b.Cleanup(s.pool.Close)
	s.fill(ctx, quiet)
	s.url = s.start(exec.Command(e2e.Program(b), "serve", "--listen", s.listen(8)), "DATABASE_URL="+s.database)
	self, err := os.Executable()
	if err != nil {
		b.Fatal(err)
	}
	floor := s.listen(9)
	s.floor = s.start(exec.Command(self), floorVar+"="+floor)
	return s
}

// listen is an address of this run.
func (s *scene) listen(n int) string { return fmt.Sprintf("127.0.0.1:%d", 21000+os.Getpid()%1000*10+n) }

// start starts a server and waits until it answers.
func (s *scene) start(cmd *exec.Cmd, env string) string {
	s.b.Helper()
	address := s.listen(9)
	if len(cmd.Args) > 1 {
		address = s.listen(8)
		s.brae = cmd
	}
	cmd.Env = append(os.Environ(), env)
	if err := cmd.Start(); err != nil {
		s.b.Fatal(err)
	}
	s.b.Cleanup(func() { _ = cmd.Process.Kill(); _ = cmd.Wait() })
	for range 200 {
		if r, err := s.http.Get("http://" + address + "/healthz"); err == nil {
			_ = r.Body.Close()
			return "http://" + address
		}
		time.Sleep(50 * time.Millisecond)
	}
	s.b.Fatalf("%s does not answer", address)
	return ""
}

// fill makes a practice of 500 clients with a year of logs: one client through
// the store's methods, the others as copies of the first.
func (s *scene) fill(ctx context.Context, log *slog.Logger) {
	s.b.Helper()
	st, err := store.Open(ctx, store.Config{URL: s.database, Log: log})
	if err != nil {
		s.b.Fatal(err)
	}
	defer st.Close()
	token := storetest.Must(st.NewSetUpLink(ctx))
	lead := storetest.Must(st.SetUpPractice(ctx, token, store.SetUp{
		Practice: store.Practice{Name: "Ridge Lane Rehab", Zone: "UTC", WeekStart: time.Monday, EmergencyNumber: "112"},
		Name:     "Ines Harrow", SignInName: "lead", Passphrase: storetest.Passphrase,
	})).Actor()
	first := storetest.Must(st.AddClient(ctx, lead, store.Client{GivenName: "Jon", FamilyName: "Ashby", BirthDate: domain.NewDate(1968, 3, 14)}))
	version := storetest.Must(st.SaveIntake(ctx, lead, first, 0, storetest.Answers()))
	storetest.Must(st.Screen(ctx, lead, first, version))
	storetest.Must(st.SignPrescription(ctx, lead, first, storetest.Walking(0)))
	token = storetest.Must(st.InviteClient(ctx, lead, first, "bench-client"))
	storetest.Must(st.Join(ctx, token, storetest.Passphrase))
	s.day = domain.DateOf(time.Now(), time.UTC)
	if err := storetest.Multiply(ctx, s.pool, first, clients, weeks, perWeek, s.day); err != nil {
		s.b.Fatal(err)
	}
	for _, sql := range []string{
		`INSERT INTO accounts (id, role, name, sign_in_name, password_hash, created_at)
			SELECT gen_random_uuid(), 'client', 'Client ' || n, 'bench-' || n, password_hash, created_at
			FROM accounts, generate_series(0, ` + strconv.Itoa(load-1) + `) n WHERE sign_in_name = 'bench-client'`,
		`UPDATE clients c SET account_id = a.id FROM accounts a WHERE a.sign_in_name = 'bench-' || (substr(c.family_name, 4)::int - 2) AND c.family_name LIKE 'No %'`,
		`CREATE TABLE bench_sessions (id uuid PRIMARY KEY, client integer NOT NULL, day date NOT NULL, minutes integer NOT NULL)`,
		`CREATE TABLE bench_weeks (week date, client integer, minutes integer NOT NULL, PRIMARY KEY (week, client))`,
		`VACUUM ANALYZE`,
	} {
		if _, err := s.pool.Exec(ctx, sql); err != nil {
			s.b.Fatalf("%s: %v", sql, err)
		}
	}
}

// signIn returns the cookie of an account.
func (s *scene) signIn(name string) *http.Cookie {
	s.b.Helper()
	jar, err := cookiejar.New(nil)
	if err != nil {
		s.b.Fatal(err)
	}
	c := *s.http
	c.Jar = jar
	r, err := c.PostForm(s.url+"/sign-in", url.Values{"name": {name}, "passphrase": {storetest.Passphrase}})
	if err != nil {
		s.b.Fatal(err)
	}
	_ = r.Body.Close()
	at, _ := url.Parse(s.url)
	for _, c := range jar.Cookies(at) { // another keeps the language
		if c.Name == "brae" && r.StatusCode == http.StatusSeeOther {
			return c
		}
	}
	s.b.Fatalf("sign in as %s: %d", name, r.StatusCode)
	return nil
}

func (s *scene) request(method, path, form string, cookie *http.Cookie) (*http.Request, error) {
	r, err := http.NewRequest(method, s.url+path, strings.NewReader(form))
	if err != nil {
		return nil, err
	}
	r.AddCookie(cookie)
	if form != "" {
		r.Header.Set("Content-Type", "application/x-www-form-urlencoded")
	}
	return r, nil
}

// hammer sends requests over sixteen connections for a round.
func (s *scene) hammer(next func() (*http.Request, error), want int) run {
	s.b.Helper()
	var done atomic.Int64
	var group sync.WaitGroup
	var mu sync.Mutex
	var took []time.Duration
	cpu := s.cpu()
	began := time.Now()
	for range load {
		group.Go(func() {
			var mine []time.Duration
			for time.Since(began) < roundTime {
				r, err := next()
				if err != nil {
					s.b.Error(err)
					return
				}
				sent := time.Now()
				answer, err := s.http.Do(r)
				if err != nil {
					s.b.Error(err)
					return
				}
				_, _ = io.Copy(io.Discard, answer.Body)
				_ = answer.Body.Close()
				if answer.StatusCode != want {
					s.b.Errorf("%s: %d; want %d", r.URL.Path, answer.StatusCode, want)
					return
				}
				mine = append(mine, time.Since(sent))
				done.Add(1)
			}
			mu.Lock()
			defer mu.Unlock()
			took = append(took, mine...)
		})
	}
	group.Wait()
	elapsed := time.Since(began)
	slices.Sort(took)
	if len(took) == 0 {
		return run{}
	}
	return run{
		rate: float64(done.Load()) / elapsed.Seconds(), p50: took[len(took)/2], p99: took[len(took)*99/100],
		cpu: ms(s.cpu()-cpu) / float64(done.Load()),
	}
}

// cpu is the processor time that Brae and its PostgreSQL have used, and not that of
// another on this machine.
func (s *scene) cpu() time.Duration {
	s.b.Helper()
	var backend int
	if err := s.pool.QueryRow(context.Background(), `SELECT pg_backend_pid()`).Scan(&backend); err != nil {
		s.b.Fatal(err)
	}
	server := parent(procStat(backend))
	total := time.Duration(0)
	stats, _ := filepath.Glob("/proc/[0-9]*/stat")
	for _, path := range stats {
		pid, _ := strconv.Atoi(filepath.Base(filepath.Dir(path)))
		fields := procStat(pid)
		if fields == nil || pid != s.brae.Process.Pid && pid != server && parent(fields) != server {
			continue
		}
		user, _ := strconv.Atoi(fields[11])
		system, _ := strconv.Atoi(fields[12])
		total += time.Duration(user+system) * 10 * time.Millisecond // 100 ticks a second
	}
	return total
}

// procStat is what Linux tells of a process, from its state on; nil if it has ended.
func procStat(pid int) []string {
	text, err := os.ReadFile(fmt.Sprintf("/proc/%d/stat", pid))
	if err != nil {
		return nil
	}
	return strings.Fields(string(text[bytes.LastIndexByte(text, ')')+2:]))
}

func parent(stat []string) int {
	pid, _ := strconv.Atoi(stat[1])
	return pid
}

// tps is the line in which pgbench tells its rate.
var tps = regexp.MustCompile(`tps = ([0-9.]+)`)

// pgbench runs the bare form of the log's transaction: an insert with a key and
// the upsert of a total.
func (s *scene) pgbench() run {
	s.b.Helper()
	script := filepath.Join(s.b.TempDir(), "log.sql")
	err := os.WriteFile(script, []byte(`\set client random(1, 500)
BEGIN;
INSERT INTO bench_sessions VALUES (gen_random_uuid(), :client, current_date, 30);
INSERT INTO bench_weeks VALUES (current_date, :client, 30) ON CONFLICT (week, client) DO UPDATE SET minutes = bench_weeks.minutes + 30;
COMMIT;
`), 0o644)
	if err != nil {
		s.b.Fatal(err)
	}
	program := filepath.Join(s.cluster.Programs().Dir, "pgbench")
	out, err := exec.Command(program, "-n", "-f", script, "-c", strconv.Itoa(load), "-j", "1", "-M", "prepared",
		"-T", strconv.Itoa(int(roundTime.Seconds())), s.database).CombinedOutput()
	found := tps.FindSubmatch(out)
	if err != nil || found == nil {
		s.b.Fatalf("pgbench: %v\n%s", err, out)
	}
	rate, _ := strconv.ParseFloat(string(found[1]), 64)
	return run{rate: rate}
}

package e2e

import (
	"fmt"
	"html"
	"io"
	"net/http"
	"net/http/cookiejar"
	"net/url"
	"regexp"
	"strings"
	"testing"
	"time"
)

// Visitor speaks to Brae without a browser, as somebody with cookies of their
// own. It is for what is not the subject of a test, and for many requests.
type Visitor struct {
	HTTP *http.Client // follows no redirects

	t    testing.TB
	base string
}

// Answer is what came back.
type Answer struct {
	Status   int
	Location string // where a redirect leads
	Body     string
}

// NewVisitor returns somebody who is not signed in.
func NewVisitor(t testing.TB, b *Brae) *Visitor {
	t.Helper()
	jar, err := cookiejar.New(nil)
	if err != nil {
		t.Fatal(err)
	}
	transport := http.DefaultTransport.(*http.Transport).Clone()
	transport.MaxIdleConnsPerHost = 64
	t.Cleanup(transport.CloseIdleConnections)
	return &Visitor{t: t, base: b.URL, HTTP: &http.Client{
		Jar: jar, Transport: transport, Timeout: 20 * time.Second,
		CheckRedirect: func(*http.Request, []*http.Request) error { return http.ErrUseLastResponse },
	}}
}

// Try sends a form, or asks for a page if the form is nil, and returns the error
// of a connection that broke.
func (v *Visitor) Try(path string, form url.Values) (Answer, error) {
	address := path
	if strings.HasPrefix(path, "/") {
		address = v.base + path
	}
	var response *http.Response
	var err error
	if form == nil {
		response, err = v.HTTP.Get(address)
	} else {
		response, err = v.HTTP.PostForm(address, form)
	}
	if err != nil {
		return Answer{}, err
	}
	defer response.Body.Close()
	body, err := io.ReadAll(response.Body)
	return Answer{Status: response.StatusCode, Location: response.Header.Get("Location"), Body: string(body)}, err
}

// Get asks for a page, which must be there.
func (v *Visitor) Get(path string) string {
	v.t.Helper()
	return v.expect(http.StatusOK, path, nil).Body
}

// Post sends a form that must be taken, and returns where it leads.
func (v *Visitor) Post(path string, form url.Values) string {
	v.t.Helper()
	return v.expect(http.StatusSeeOther, path, form).Location
}

// Show sends a form that is answered with a page.
func (v *Visitor) Show(path string, form url.Values) string {
	v.t.Helper()
	return v.expect(http.StatusOK, path, form).Body
}

func (v *Visitor) expect(status int, path string, form url.Values) Answer {
	v.t.Helper()
	a, err := v.Try(path, form)
	if err != nil {
		v.t.Fatal(err)
	}
	if a.Status != status {
		v.t.Fatalf("%s with %v: status %d instead of %d\n%s", path, form, a.Status, status, a.Body)
	}
	return a
}

// The passphrases of the people of [NewPractice].
const (
	LeadPassphrase         = "heather on the slope"
	PractitionerPassphrase = "peat under the cloud"
	ClientPassphrase       = "lichen along the wall"
)

// Practice is an invented practice that is set up, with its people signed in.
type Practice struct {
	Lead, Practitioner         *Visitor
	LeadName, PractitionerName string // to sign in with

	brae *Brae
}

// NewPractice sets up the practice with a lead and a practitioner.
func NewPractice(t testing.TB, b *Brae) *Practice {
	t.Helper()
	p := &Practice{
		Lead: NewVisitor(t, b), Practitioner: NewVisitor(t, b),
		LeadName: "lena@practice.example", PractitionerName: "pia@practice.example", brae: b,
	}
	p.Lead.Post(b.SetUp, url.Values{
		"practice": {"Slope Street Practice"}, "zone": {"Europe/Berlin"}, "week_start": {"monday"}, "emergency_number": {"112"},
		"phone": {"030 5550 100"}, "name": {"Lena Lead"}, "sign_in_name": {p.LeadName}, "passphrase": {LeadPassphrase},
	})
	shown := p.Lead.Show("/people", url.Values{"name": {"Pia Practitioner"}, "sign_in_name": {p.PractitionerName}})
	p.Practitioner.Post(oneTimeLink(t, shown), url.Values{"passphrase": {PractitionerPassphrase}})
	return p
}

var code = regexp.MustCompile(`<code[^>]*>([^<]+)</code>`)

// oneTimeLink is the link that a page shows.
func oneTimeLink(t testing.TB, page string) string {
	t.Helper()
	found := code.FindStringSubmatch(page)
	if found == nil {
		t.Fatalf("the page shows no link:\n%s", page)
	}
	return html.UnescapeString(found[1])
}

// Client is a client of the practice, signed in on a phone.
type Client struct {
	Path       string // of the record
	SignInName string
	Phone      *Visitor
}

// AddClient takes a client of 60 years with type 2 diabetes and regular exercise
// into the practitioner's caseload, screens and prescribes, and lets them join.
func (p *Practice) AddClient(given, family string) Client {
	t := p.Practitioner.t
	t.Helper()
	c := Client{SignInName: strings.ToLower(given) + "@home.example", Phone: NewVisitor(t, p.brae)}
	c.Path = p.NewRecord(given, family)
	for i, answers := range intakeAnswers {
		step := answers.Get("step")
		form := url.Values{"version": {fmt.Sprint(i)}}
		for field, values := range answers {
			if field != "step" {
				form[field] = values
			}
		}
		p.Practitioner.Post(c.Path+"/intake/"+step, form)
	}
	p.Practitioner.Post(c.Path+"/screening", url.Values{"version": {fmt.Sprint(len(intakeAnswers))}})
	p.Practitioner.Post(c.Path+"/prescription", url.Values{
		"version": {"0"}, "class": {"moderate"}, "sessions_per_week": {"5"}, "minutes_per_session": {"30"},
		"activities": {"brisk walking"}, "target": {"150"},
	})
	shown := p.Practitioner.Show(c.Path+"/invite", url.Values{"sign_in_name": {c.SignInName}})
	c.Phone.Post(oneTimeLink(t, shown), url.Values{"passphrase": {ClientPassphrase}})
	return c
}

// NewRecord makes a record with an empty intake and returns its path.
func (p *Practice) NewRecord(given, family string) string {
	p.Practitioner.t.Helper()
	to := p.Practitioner.Post("/clients", url.Values{"given_name": {given}, "family_name": {family}, "birth_date": {BirthDate(60)}})
	return strings.TrimSuffix(to, "/intake")
}

// BirthDate is that of somebody who has this age on every day of the year.
func BirthDate(age int) string { return fmt.Sprintf("%d-01-01", time.Now().Year()-age) }

// intakeAnswers are the steps of the intake.
var intakeAnswers = []url.Values{
	{"step": {"activity"}, "activity_days": {"5"}, "activity_minutes": {"30"}, "activity_months": {"12"}, "activity_class": {"moderate"}},
	{"step": {"diseases"}, "q.diabetes_type_2": {"yes"}, "do": {"rest_no"}},
	{"step": {"symptoms"}, "do": {"rest_no"}},
	{"step": {"medicines"}, "medicines": {"metformin 500 mg"}},
	{"step": {"more"}, "do": {"rest_no"}},
	{"step": {"findings"}},
	{"step": {"measurements"}, "resting_1": {"72"}, "posture": {"seated"}},
	{"step": {"limits"}, "falls": {"0"}},
	{"step": {"goal"}, "desired": {"vigorous"}, "goal": {"up the hill behind the house"}},
}

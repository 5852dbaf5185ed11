package web_test

import (
	"net/http"
	"reflect"
	"slices"
	"strings"
	"testing"

	"golang.org/x/net/html"

	"brae/domain/consent"
	"brae/store/storetest"
	"brae/web/answer"
)

// formFields are the fields of the form that posts to a path, without the rows of a list.
func formFields(t *testing.T, body, action string) []string {
	t.Helper()
	root, err := html.Parse(strings.NewReader(body))
	if err != nil {
		t.Fatal(err)
	}
	at := func(n *html.Node, key string) string {
		for _, a := range n.Attr {
			if a.Key == key {
				return a.Val
			}
		}
		return ""
	}
	var names []string
	for n := range root.Descendants() {
		if n.Data != "form" || at(n, "action") != action {
			continue
		}
		for f := range n.Descendants() {
			if name, _, _ := strings.Cut(at(f, "name"), "["); f.Type == html.ElementNode && name != "" {
				names = append(names, name)
			}
		}
	}
	slices.Sort(names)
	return slices.Compact(names)
}

// TestAnswerIsAskedAlike: the page behind the link, the letter on paper and the
// practice's own form ask a doctor the same: all that a clearance form asks for
// (published clearance forms, see domain/source: clearance_forms), where angina or
// ischaemia begins and where a defibrillator acts among it (ACSM's limits of heart rate).
func TestAnswerIsAskedAlike(t *testing.T) {
	t.Parallel()
	s := newSite(t)
	client := heldClient(s)
	b := s.as("mira")
	record := "/clients/" + client.String()
	id := storetest.Must(s.WriteReferral(t.Context(), s.Mira.Actor(), client))
	c, letter, err := s.Referral(t.Context(), s.Mira.Actor(), client, id)
	if err != nil {
		t.Fatal(err)
	}
	l := letter.Letter
	l.Doctor, l.ConsentOn, l.ConsentHow = "Dr Edda Lund", storetest.Day, consent.Signed
	if err := s.SendReferral(t.Context(), s.Mira.Actor(), client, id, 1, l, storetest.Day, "link"); err != nil {
		t.Fatal(err)
	}
	link := "/answer/" + storetest.Must(s.NewDoctorLink(t.Context(), s.Mira.Actor(), client, id))

	var all []string
	for f := range reflect.TypeFor[answer.Form]().Fields() {
		all = append(all, f.Tag.Get("form"))
	}
	slices.Sort(all)
	for _, must := range []string{"limits.heart_rate", "limits.ischaemia", "limits.detection", "supervised_only", "unsupervised", "work", "tests", "valid_from", "valid_until"} {
		if !slices.Contains(all, must) {
			t.Errorf("an answer has no %s", must)
		}
	}
	doctors := s.browser().post(link, "birth_date", c.BirthDate.String()).body
	practices := b.get(record + "/decisions/new").body
	for page, got := range map[string][]string{
		"the page behind the link": formFields(t, doctors, link+"/send"), "the practice's form": formFields(t, practices, record+"/decisions"),
	} {
		for _, field := range all {
			if !slices.Contains(got, field) {
				t.Errorf("%s does not ask for %s", page, field)
			}
		}
	}
	for _, field := range formFields(t, doctors, link+"/send") {
		if !slices.Contains(all, field) && field != "birth_date" && field != "signature" {
			t.Errorf("the page behind the link asks for %s, which no answer has", field)
		}
	}
	paper := b.get(record + "/letters/" + id.String() + "/print").body
	var asked []string
	for _, line := range append(slices.Clone(answer.Paper), answer.PaperSign) {
		for _, q := range line {
			asked = append(asked, q.Fields...)
			for _, text := range slices.Concat([]string{q.Says}, q.Ticks) {
				if !strings.Contains(paper, text) {
					t.Errorf("the paper does not have %q", text)
				}
			}
			for _, blank := range q.Blanks {
				if !strings.Contains(paper, blank.Says) {
					t.Errorf("the paper does not have %q", blank.Says)
				}
			}
		}
	}
	slices.Sort(asked)
	if !slices.Equal(asked, all) {
		t.Errorf("the paper asks for %v; want %v", asked, all)
	}
	if got := answer.Fields(); len(got) == 0 || slices.ContainsFunc(all, func(field string) bool {
		return !slices.ContainsFunc(got, func(g string) bool { return strings.HasPrefix(g, field) })
	}) {
		t.Errorf("the summary of problems knows %v; want all of %v", got, all)
	}
}

// TestThresholdsOfTheLink: what a doctor types behind the link about ischaemia and a
// defibrillator bounds the ranges: 10 below the one, 20 below the other (ACSM; ADA 2016).
func TestThresholdsOfTheLink(t *testing.T) {
	t.Parallel()
	s := newSite(t)
	client := heldClient(s)
	id := storetest.Must(s.WriteReferral(t.Context(), s.Mira.Actor(), client))
	c, letter, err := s.Referral(t.Context(), s.Mira.Actor(), client, id)
	if err != nil {
		t.Fatal(err)
	}
	l := letter.Letter
	l.Doctor, l.ConsentOn, l.ConsentHow = "Dr Edda Lund", storetest.Day, consent.Signed
	if err := s.SendReferral(t.Context(), s.Mira.Actor(), client, id, 1, l, storetest.Day, "link"); err != nil {
		t.Fatal(err)
	}
	link := "/answer/" + storetest.Must(s.NewDoctorLink(t.Context(), s.Mira.Actor(), client, id))
	doctor := s.browser()
	fields := answerFields("birth_date", c.BirthDate.String(), "signature", "Edda Lund", "limits.ischaemia", "122", "limits.detection", "99",
		"tests", "Exercise test in May", "unsupervised", "yes", "work", "aerobic")
	bad := doctor.post(link+"/send", fields...)
	for _, text := range []string{"This limit is from 100 to 240", `value="122"`, `value="99"`, "Exercise test in May"} {
		if bad.status != http.StatusUnprocessableEntity || !strings.Contains(bad.body, text) {
			t.Errorf("a detection rate of 99: %d, or %q is missing", bad.status, text)
		}
	}
	fields[slices.Index(fields, "limits.detection")+1] = "170"
	if sent := doctor.post(link+"/send", fields...); sent.status != http.StatusOK {
		t.Fatalf("signed: %d", sent.status)
	}
	b := s.as("mira")
	at := "/clients/" + client.String()
	waiting := b.get(at + "/letters/" + id.String()).body
	for _, text := range []string{"Angina or ischaemia from 122 a minute", "Defibrillator acts from 170 a minute", "Exercise test in May", "May exercise on their own", "Aerobic work"} {
		if !strings.Contains(waiting, text) {
			t.Errorf("the answer to confirm does not show %q", text)
		}
	}
	confirmed := b.post(at+"/letters/"+id.String()+"/answer", "do", "confirm", "release", "yes")
	if confirmed.status != http.StatusSeeOther {
		t.Fatalf("confirm: %d", confirmed.status)
	}
	if shown := b.get(confirmed.header.Get("Location")).body; !strings.Contains(shown, "Exercise test in May") {
		t.Error("the decision does not show the tests")
	}
	week := storetest.Must(s.Week(t.Context(), s.Mira.Actor(), client))
	if week.Bounds.Top != 112 || week.Bounds.TopFrom.String() != "ischaemia" { // 122 - 10, below the doctor's 118 and 170 - 20
		t.Errorf("the ranges end at %d by %s; want 112 by ischaemia", week.Bounds.Top, week.Bounds.TopFrom)
	}
	if page := b.get(at + "/prescription/new").body; !strings.Contains(page, "to 112 bpm") {
		t.Error("the prescription does not end at 112")
	}
}

package web_test

import (
	"net/http"
	"strings"
	"testing"

	"brae/domain/triage"
	"brae/store/storetest"
)

// TestTimelinePages: lines lead to their pages, a kind can be chosen, each page has
// its part, and the chart is the whole of it with its head.
func TestTimelinePages(t *testing.T) {
	t.Parallel()
	s := newSite(t)
	mira := s.as("mira")
	client := s.Client()
	record := "/clients/" + client.String()
	if r := mira.get(record + "/timeline"); !strings.Contains(r.body, "Nothing here") {
		t.Error("an empty timeline does not say so")
	}
	s.ScreenClient(client, "q.chest_pressure", "yes")
	walk := storetest.Walk(25)
	walk.Day = walk.Day.AddDays(-1) // a line names the day it is about where that is not the day it was entered
	walk.Note, walk.Reports = "Into the <wind>.", []triage.Report{"tired_next_day"}
	storetest.Must(s.LogSession(t.Context(), s.Mira.Actor(), client, walk))

	all := mira.get(record + "/timeline").body
	for _, want := range []string{"Hold opened", "Session logged of Tue 24 Nov 2026", "25 minutes. Into the &lt;wind&gt;.", `href="` + record + "/sessions/" + walk.ID.String() + `"`, ">Screened</a>"} {
		if !strings.Contains(all, want) {
			t.Errorf("the timeline has no %q", want)
		}
	}
	holds := mira.get(record + "/timeline?kind=hold").body
	if !strings.Contains(holds, "Hold opened") || strings.Contains(holds, "Session logged") {
		t.Error("the filter by kind lets others through, or not its own")
	}
	for range 60 {
		storetest.Must(s.LogSession(t.Context(), s.Mira.Actor(), client, storetest.Walk(10)))
	}
	first := mira.get(record + "/timeline?kind=session").body
	if !strings.Contains(first, "Page 1 of 2") || strings.Contains(first, "Into the") && strings.Contains(mira.get(record+"/timeline?kind=session&page=2").body, "Into the") {
		t.Error("61 sessions are not on two pages, each once")
	}
	if r := mira.get(record + "/timeline?kind=nothing&page=99999999999999"); r.status != http.StatusOK {
		t.Errorf("an odd address: %d", r.status)
	}
	chart := mira.get(record + "/chart").body
	if strings.Count(chart, "Session logged") != 61 || !strings.Contains(chart, "Jon Ashby, born 14 March 1968. Ridge Lane Rehab. Printed") {
		t.Errorf("the chart has %d sessions, or no head", strings.Count(chart, "Session logged"))
	}
}

package web_test

import (
	"strings"
	"testing"
	"time"

	"brae/domain/intake"
)

// A light prescription counts light minutes unless somebody says otherwise, and one
// that is out of date says why on the record, in the editor, with the versions and on
// the list of the day. A beta-blocker voids a predicted maximum (Keteyian 2023).
func TestLightAndOutdated(t *testing.T) {
	t.Parallel()
	s := newSite(t)
	id := s.Client()
	s.ScreenClient(id, intake.FieldDesired, "light")
	b := s.as("mira")
	record := "/clients/" + id.String()
	const ticked = `type="checkbox" value="yes" checked`
	if !strings.Contains(b.get(record+"/prescription/new").body, ticked) {
		t.Error("a light prescription does not tick that light minutes count")
	}
	// 11 beats in the maximum are 4.4 at 40 % and 6.6 at 60 % of the reserve (Karvonen 1957).
	if !strings.Contains(page(b.get(record+"/prescription/new").body), "moves the ends of the moderate range by about 4 and 7 beats") {
		t.Error("the editor does not say how far the error goes")
	}
	b.post(record+"/prescription", prescriptionFields("0", "class", "light", "target", "60")...)
	if strings.Contains(b.get(record+"/prescription/new").body, ticked) {
		t.Error("what was signed without it is ticked again")
	}
	s.Wait(time.Minute)
	s.ScreenClient(id, intake.FieldDesired, "light", intake.FieldMedicines, "bisoprolol 5 mg")
	for path, want := range map[string]string{
		record:                       "A medicine that bears on heart rate is new: bisoprolol 5 mg.",
		record + "/prescription/new": "The basis of the heart-rate ranges is another one now",
		record + "/prescriptions":    "A medicine that bears on heart rate is new: bisoprolol 5 mg.",
		"/today":                     "The prescription is out of date. A medicine that bears on heart rate is new",
	} {
		if body := page(b.get(path).body); !strings.Contains(body, want) {
			t.Errorf("%s lacks %q", path, want)
		}
	}
	r := b.post(record+"/prescription", prescriptionFields("1", "class", "light", "target", "60", "sessions_per_week", "5")...)
	if to := r.header.Get("Location"); to != record+"/prescriptions/2" {
		t.Errorf("the next version: %d to %s", r.status, to)
	}
	if body := page(b.get(record + "/prescriptions/2").body); !strings.Contains(body, "Different from version 1") || !strings.Contains(body, "5 sessions a week of 30 minutes") {
		t.Error("after the signature it does not say what is different")
	}
	if strings.Contains(b.get("/today").body, "The prescription is out of date") {
		t.Error("signed anew, it is still on the list")
	}
}

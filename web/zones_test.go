package web_test

import (
	"net/http"
	"strings"
	"testing"
	"time"

	"brae/domain/clearance"
	"brae/domain/intake"
	"brae/domain/intensity"
	"brae/domain/prescription"
	"brae/store/storetest"
)

// What the editor says of heart rates, by what the intake tells of a client of 58 years
// with 64 at rest: the basis and its uncertainty, or why there is no range.
func TestZonesOfTheEditor(t *testing.T) {
	t.Parallel()
	s := newSite(t)
	b := s.as("mira")
	peak := func(hr, on, limited, same string) []string {
		return []string{intake.FieldPeak, hr, intake.FieldPeakOn, on, intake.FieldPeakMode, "treadmill", intake.FieldPeakLimited, limited, intake.FieldPeakSame, same}
	}
	blocker := []string{intake.FieldMedicines, "bisoprolol 5 mg"}
	yes := func(code string) []string { return []string{intake.QuestionField(code), "yes"} }
	const none = "There is no valid basis for a heart-rate range"
	for _, tt := range []struct {
		source, name string
		intake       []string
		want, not    []string
	}{
		{"Gellish 2007: 207 - 0.7 x 58; Nes 2013 and Sarzynski 2013: 10.8 to 11.4", "none of it", nil, []string{"166.4 by Gellish 2007, give or take 11", "resting 64", "105 to 125 bpm"}, nil},
		{"Keteyian 2023", "a beta-blocker, no peak", blocker, []string{"A medicine slows the heart", none, "12 to 13 of 20", "whole sentences"}, []string{"105 to 125"}},
		{
			"Keteyian 2023; Karvonen 1957: 64 + 40 and 60 % of 56 are 86.4 and 97.6", "a beta-blocker, the peak on it", append(peak("120", "2026-11-02", "yes", "yes"), blocker...),
			[]string{"Maximal heart rate 120, measured; resting 64.", "87 to 97 bpm"}, []string{"give or take"},
		},
		{
			"Keteyian 2023; practice setting: a peak on other medicines is a ceiling", "a beta-blocker, the peak without it", append(peak("150", "2026-11-02", "yes", "no"), blocker...),
			[]string{"A medicine slows the heart", "A medicine or dose is another than at the test", "Never above 150 beats a minute", none}, []string{"measured; resting"},
		},
		{"practice setting: a peak holds for 12 months", "an old peak", peak("170", "2025-11-01", "yes", "yes"), []string{"The test is too old", "Never above 170 beats a minute", "166.4 by Gellish"}, []string{"170, measured"}},
		{"Keteyian 2019, table 6", "atrial fibrillation", yes("atrial_fibrillation"), []string{"The heart rate is irregular and does not tell the effort", none}, []string{"105 to 125"}},
		{"Sharp 1998", "a pacemaker", yes("pacemaker"), []string{"The heart rate cannot follow the effort", none}, []string{"105 to 125"}},
		{"ACSM guidelines (from memory)", "a defibrillator", yes("defibrillator"), []string{"Only a test counts", "The detection rate of the defibrillator is not on file", none}, []string{"105 to 125", "Nothing speaks against"}},
		{"Evenson 2023", "pregnant", yes("pregnant"), []string{"In pregnancy resting heart rate rises", none}, []string{"105 to 125"}},
		{"practice setting: an unknown medicine blocks a prediction", "a medicine not known", []string{intake.FieldMedicines, "zzqqx 5 mg"}, []string{"A medicine is not recognised", none}, []string{"Nothing speaks against", "105 to 125"}},
		{"Karvonen 1957 needs it", "no resting heart rate", []string{intake.FieldResting1, ""}, []string{"No resting heart rate was measured yet", none}, []string{"105 to 125"}},
	} {
		t.Run(tt.name, func(t *testing.T) {
			id := s.Client()
			s.ScreenClient(id, append([]string{intake.FieldDesired, "moderate"}, tt.intake...)...)
			if s.Count(`SELECT count(*) FROM holds WHERE client_id = $1 AND released_at IS NULL`, id) > 0 { // a doctor has answered, so that there is something to prescribe
				codes := []string{}
				for i := 0; i+1 < len(tt.intake); i += 2 {
					codes = append(codes, strings.TrimPrefix(tt.intake[i], intake.QuestionField("")))
				}
				storetest.Must(s.RecordClearance(t.Context(), s.Mira.Actor(), id, storetest.Cleared(intensity.Moderate, codes...)))
			}
			r := b.post("/clients/"+id.String()+"/prescription", prescriptionFields("0", "method", "talk", "do", "zones")...)
			body := page(r.body)
			for _, want := range tt.want {
				if !strings.Contains(body, want) {
					t.Errorf("%s: %d: the editor lacks %q", tt.source, r.status, want)
				}
			}
			for _, not := range tt.not {
				if strings.Contains(body, not) {
					t.Errorf("%s: the editor says %q", tt.source, not)
				}
			}
		})
	}
}

// clientPages are where a client sees how hard to work.
var clientPages = []string{"/plan", "/plan/handout", "/plan/session", "/week"}

// A doctor's limit of 118 cuts moderate, 105 to 125, and stands wherever the range does; one
// of 100 is below it, and the range is gone (common practice: nobody goes above it).
func TestDoctorsHeartRateLimit(t *testing.T) {
	t.Parallel()
	s := newSite(t)
	for limit, wants := range map[int][2]string{118: {"105 to 118 bpm", ""}, 100: {"", "The ceiling of 100 is below the moderate range, which starts at 105."}} {
		id := s.Client()
		s.ScreenClient(id)
		in := storetest.Cleared(intensity.Moderate)
		in.Limits.HeartRate = limit
		storetest.Must(s.RecordClearance(t.Context(), s.Mira.Actor(), id, in))
		editor := page(s.as("mira").get("/clients/" + id.String() + "/prescription/new").body)
		never := map[int]string{118: "Never above 118 beats a minute", 100: "Never above 100 beats a minute"}[limit]
		if !strings.Contains(editor, wants[0]) || !strings.Contains(editor, wants[1]) || !strings.Contains(editor, never) || strings.Contains(editor, "105 to 125 bpm") {
			t.Errorf("limit %d: the editor does not keep to it, or does not say why", limit)
		}
		storetest.Must(s.SignPrescription(t.Context(), s.Mira.Actor(), id, storetest.Walking(0)))
		name := map[int]string{118: "jon", 100: "joan"}[limit]
		s.JoinClient(id, name)
		jon := s.as(name)
		for _, path := range clientPages {
			body := page(jon.get(path).body)
			if !strings.Contains(body, never) || strings.Contains(body, "105 to 125 bpm") || wants[0] != "" && !strings.Contains(body, wants[0]) {
				t.Errorf("limit %d: %s does not keep to it", limit, path)
			}
		}
	}
}

// A new beta-blocker takes the predicted range away at once (Keteyian 2023: the range would
// begin where hard work is already under way), on each page, with a task for the practice;
// so does a pregnancy (Evenson 2023). Talk test and exertion stay.
func TestVoidedRange(t *testing.T) {
	t.Parallel()
	for _, tt := range []struct {
		source, name, task string
		kind               clearance.ChangeKind
		note               string
	}{
		{"Keteyian 2023", "a medicine", "A medicine that bears on heart rate has changed since: metoprolol 50 mg, new", clearance.MedicineChange, "metoprolol 50 mg, new"},
		{"Evenson 2023", "a pregnancy", "", clearance.PregnancyOrBirth, "twelve weeks"},
	} {
		t.Run(tt.name, func(t *testing.T) {
			t.Parallel()
			s := newSite(t)
			id := s.Client()
			s.ScreenClient(id)
			storetest.Must(s.SignPrescription(t.Context(), s.Mira.Actor(), id, storetest.Walking(0)))
			s.JoinClient(id, "jon")
			jon := s.as("jon")
			for _, path := range clientPages {
				if !strings.Contains(jon.get(path).body, "105 to 125 bpm") {
					t.Errorf("%s: %s has no range before", tt.source, path)
				}
			}
			s.Wait(time.Minute)
			if err := s.ReportChange(t.Context(), s.Mira.Actor(), id, tt.kind, storetest.Day, tt.note); err != nil {
				t.Fatal(err)
			}
			for _, path := range clientPages {
				if body := jon.get(path).body; strings.Contains(body, "105 to 125 bpm") || strings.Contains(body, "bpm") {
					t.Errorf("%s: %s shows a range that does not hold", tt.source, path)
				}
			}
			if body := page(jon.get("/plan").body); !strings.Contains(body, "We show no heart rates") || !strings.Contains(body, "of 20") {
				t.Errorf("%s: the plan does not say why, or has no exertion", tt.source)
			}
			for _, path := range []string{"/today", "/clients/" + id.String()} {
				if body := page(s.as("mira").get(path).body); !strings.Contains(body, "The prescription is out of date") || !strings.Contains(body, tt.task) {
					t.Errorf("%s: %s has no task", tt.source, path)
				}
			}
		})
	}
}

// A log is classed by the edges of the method that was prescribed. Of 166.4 at most, 64 %
// is 106.5 and 77 % is 128.1 (Garber 2011, table 5): 127 is moderate there, and vigorous
// by the reserve, which begins at 125.44 (Karvonen 1957). Vigorous work by per cent of the
// maximum ends where it does by the reserve: 64 + 80 % of 102.4 is 145.9 (practice setting).
func TestClassByThePrescribedMethod(t *testing.T) {
	t.Parallel()
	s := newSite(t)
	for method, want := range map[prescription.Method]intensity.Class{prescription.Maximum: intensity.Moderate, prescription.Reserve: intensity.Vigorous} {
		id := s.Client()
		s.ScreenClient(id)
		in := storetest.Walking(0)
		in.Method = method
		storetest.Must(s.SignPrescription(t.Context(), s.Mira.Actor(), id, in))
		session := storetest.Walk(30)
		session.Parts[0].HeartRate = 127
		logged := storetest.Must(s.LogSession(t.Context(), s.Mira.Actor(), id, session))
		if got := logged.Parts[0].Safety; got != want {
			t.Errorf("127 by %s: %v; want %v", method, got, want)
		}
	}
	id := s.Client()
	s.ScreenClient(id, intake.FieldActivityClass, "vigorous", intake.FieldDesired, "vigorous")
	r := s.as("mira").post("/clients/"+id.String()+"/prescription", prescriptionFields("0", "class", "vigorous", "method", "maximum", "do", "zones")...)
	if body := page(r.body); r.status != http.StatusOK || !strings.Contains(body, "129 to 145 bpm") {
		t.Errorf("vigorous by the maximum: %d, or not 129 to 145", r.status)
	}
}

// A decision by phone that is not confirmed ends the prescription on day 15 (practice
// setting: 14 days): 25 November and 15 days is 10 December 2026.
func TestPhoneEndsThePrescription(t *testing.T) {
	t.Parallel()
	s := newSite(t)
	id := s.Client()
	s.ScreenClient(id)
	in := storetest.Cleared(intensity.Moderate)
	in.Channel = clearance.Phone
	storetest.Must(s.RecordClearance(t.Context(), s.Mira.Actor(), id, in))
	storetest.Must(s.SignPrescription(t.Context(), s.Mira.Actor(), id, storetest.Walking(0)))
	weeks := planFields("0", "20", "20", "20", "20", "20")
	weeks[7] = "look"
	if body := page(s.as("mira").post("/clients/"+id.String()+"/plan", weeks...).body); !strings.Contains(body, "on Thu 10 Dec 2026, when the doctor") {
		t.Error("the plan does not say that the decision by phone ends")
	}
}

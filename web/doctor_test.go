package web_test

import (
	"bytes"
	"image"
	"image/png"
	"io"
	"mime/multipart"
	"net/http"
	"strings"
	"testing"
	"time"

	"github.com/google/uuid"

	"brae/domain/clearance"
	"brae/domain/consent"
	"brae/domain/intensity"
	"brae/store/storetest"
)

// attach posts a file as a page of ours would.
func (b *browser) attach(path, field, name string, body io.Reader) reply {
	b.t.Helper()
	read, write := io.Pipe()
	form := multipart.NewWriter(write)
	go func() {
		part, err := form.CreateFormFile(field, name)
		if err == nil {
			_, err = io.Copy(part, body)
		}
		if err == nil {
			err = form.Close()
		}
		_ = write.CloseWithError(err)
	}()
	request, err := http.NewRequest(http.MethodPost, b.server.URL+path, read)
	if err != nil {
		b.t.Fatal(err)
	}
	request.Header.Set("Content-Type", form.FormDataContentType())
	request.Header.Set("Sec-Fetch-Site", "same-origin")
	response, err := b.client.Do(request)
	if err != nil {
		return reply{} // the server closed the connection on what is far too much
	}
	defer response.Body.Close()
	text, _ := io.ReadAll(response.Body)
	return reply{response.StatusCode, response.Header, string(text)}
}

// zeros is a file of zeros behind a beginning.
func zeros(begins string, n int64) io.Reader {
	return io.MultiReader(strings.NewReader(begins), io.LimitReader(zero{}, n))
}

type zero struct{}

func (zero) Read(p []byte) (int, error) { clear(p); return len(p), nil }

// heldClient is a client with a symptom: all exercise waits for a doctor.
func heldClient(s *site) uuid.UUID {
	client := s.Client()
	s.ScreenClient(client, "q.chest_pressure", "yes")
	return client
}

// answerFields is a doctor's answer as a browser sends it.
func answerFields(changes ...string) []string {
	fields := []string{
		"decided_by.name", "Dr Edda Lund", "decided_by.profession", "physician", "decided_by.registration", "R 1177",
		"decided_by.organisation", "Harbour Surgery", "decided_by.contact", "030 555 0177", "decided_on", storetest.Day.String(),
		"outcome", "cleared_with_limits", "ceiling", "moderate", "covers", "chest_pressure", "limits.heart_rate", "118",
		"glucose_unit", "mmol", "limits.glucose_low", "5,6", "restrictions[0].says", "No swimming", "restrictions[0].until", "2027-06-01",
		"expected[0].code", "leg_pain_walking", "expected[0].limit", "up to 4 of 5",
	}
	return append(fields, changes...)
}

// TestRecordAnswer types a doctor's answer from paper, wrong and right.
func TestRecordAnswer(t *testing.T) {
	t.Parallel()
	s := newSite(t)
	client := heldClient(s)
	path := "/clients/" + client.String()
	b := s.as("mira")
	bad := b.post(path+"/decisions", answerFields("received_on", "2026-11-01", "channel", "letter", "work", "both", "note", "as typed <b>")...)
	if bad.status != http.StatusUnprocessableEntity {
		t.Fatalf("received before it was signed: %d", bad.status)
	}
	for _, kept := range []string{"as typed &lt;b&gt;", `value="118"`, `value="5,6"`, "No swimming", "up to 4 of 5", "The decision cannot have come before the doctor signed it"} {
		if !strings.Contains(bad.body, kept) {
			t.Errorf("the refused form has lost %q", kept)
		}
	}
	r := b.post(path+"/decisions", answerFields("received_on", storetest.Day.String(), "channel", "letter", "work", "both", "release", "yes")...)
	if r.status != http.StatusSeeOther {
		t.Fatalf("a good answer: %d", r.status)
	}
	decision := r.header.Get("Location")
	shown := b.get(decision).body
	for _, text := range []string{"Heart rate at most 118 a minute", "101 mg/dL (5.6 mmol/L)", "No swimming (until 1 June 2027)", "up to 4 of 5", "one hold released"} {
		if !strings.Contains(shown, text) {
			t.Errorf("the decision does not show %q", text)
		}
	}
	// The limit is the client's, too, and cuts what may be prescribed: 207 - 0.7 x 58
	// = 166.4 at most, 64 at rest, so moderate would go to 125 (Gellish 2007, Karvonen 1957).
	prescription := b.get(path + "/prescription/new").body
	for _, text := range []string{"105 to 118 bpm", "Never above 118", "No swimming"} {
		if !strings.Contains(prescription, text) {
			t.Errorf("the prescription does not show %q", text)
		}
	}
	s.JoinClient(client, "jon")
	storetest.Must(s.SignPrescription(t.Context(), s.Mira.Actor(), client, storetest.Walking(0)))
	jon := s.as("jon")
	for _, page := range []string{"/week", "/plan"} {
		if body := jon.get(page).body; !strings.Contains(body, "105 to 118 bpm") || !strings.Contains(body, "No swimming") {
			t.Errorf("%s does not show the client what the doctor has limited", page)
		}
	}
	if q := b.get("/doctor").body; strings.Contains(q, "Jon") {
		t.Error("nothing waits, and the queue names the client")
	}
}

// TestUpload sends what a scan may and may not be.
func TestUpload(t *testing.T) {
	t.Parallel()
	s := newSite(t)
	client := heldClient(s)
	r := storetest.Must(s.RecordClearance(t.Context(), s.Mira.Actor(), client, storetest.Cleared(intensity.Moderate, "chest_pressure")))
	path := "/clients/" + client.String() + "/decisions/" + r.ID.String() + "/documents"
	b := s.as("mira")
	var scan bytes.Buffer
	if err := png.Encode(&scan, image.NewGray(image.Rect(0, 0, 9, 9))); err != nil {
		t.Fatal(err)
	}
	body := scan.Bytes()
	for _, tt := range []struct {
		why, name string
		body      io.Reader
		want      int
	}{
		{"a scan larger than any form", "scan.pdf", io.MultiReader(zeros("%PDF-1.7\n", 3<<20), strings.NewReader("%%EOF")), http.StatusSeeOther},
		{"a picture", "../../sc\"an.png", bytes.NewReader(body), http.StatusSeeOther},
		{"a program called .pdf", "answer.pdf", zeros("\x7fELF", 1000), http.StatusUnprocessableEntity},
		{"above the practice's limit", "answer.pdf", zeros("%PDF-1.7\n", 11<<20), http.StatusUnprocessableEntity},
		{"no file", "", strings.NewReader(""), http.StatusUnprocessableEntity},
	} {
		if got := b.attach(path, "document", tt.name, tt.body); got.status != tt.want {
			t.Errorf("%s: %d; want %d", tt.why, got.status, tt.want)
		}
	}
	if got := b.attach(path, "document", "answer.pdf", zeros("%PDF-1.7\n", 50<<20)); got.status == http.StatusSeeOther || got.status == http.StatusInternalServerError {
		t.Errorf("50 MB: %d", got.status)
	}
	// The bound of other routes is what it was.
	if got := b.attach("/clients/"+client.String()+"/holds", "reason", "x", zeros("x", 1<<20)); got.status == http.StatusSeeOther || got.status == http.StatusInternalServerError {
		t.Errorf("a megabyte to another form: %d", got.status)
	}
	if n := s.Count(`SELECT count(*) FROM clearance_documents`); n != 2 {
		t.Errorf("%d documents are kept; want 2", n)
	}
	var id uuid.UUID
	if err := s.Pool.QueryRow(t.Context(), `SELECT id FROM clearance_documents WHERE content_type = 'image/png'`).Scan(&id); err != nil {
		t.Fatal(err)
	}
	got := b.get("/clients/" + client.String() + "/documents/" + id.String())
	if got.status != http.StatusOK || got.body != string(body) {
		t.Errorf("the scan comes back with %d and %d bytes", got.status, len(got.body))
	}
	for name, want := range map[string]string{
		"Content-Type": "image/png", "X-Content-Type-Options": "nosniff", "Content-Security-Policy": "default-src 'none'; sandbox", "Cache-Control": "no-store",
	} {
		if got.header.Get(name) != want {
			t.Errorf("%s = %q; want %q", name, got.header.Get(name), want)
		}
	}
	if d := got.header.Get("Content-Disposition"); !strings.HasPrefix(d, "attachment") || strings.Contains(d, "/") {
		t.Errorf("Content-Disposition = %q", d)
	}
	if r := s.as("tomas").get("/clients/" + client.String() + "/documents/" + id.String()); r.status != http.StatusNotFound {
		t.Errorf("another practitioner: %d", r.status)
	}
}

// TestBrokenUpload sends a form with a file that breaks off, or is none. That is no
// fault of ours, and nothing of it goes into the log: a file is called by a name.
func TestBrokenUpload(t *testing.T) {
	t.Parallel()
	s := newSite(t)
	client := heldClient(s)
	r := storetest.Must(s.RecordClearance(t.Context(), s.Mira.Actor(), client, storetest.Cleared(intensity.Moderate, "chest_pressure")))
	b := s.as("mira")
	for _, body := range []string{
		"--zz\r\nContent-Disposition: form-data; name=\"document\"; filename=\"canary.pdf\"\r\n\r\n%PDF-1.7\n",
		"--zz\r\nContent-Disposition form-data; filename=\"canary.pdf\"\r\n\r\nx\r\n--zz--", "--zz\r\ncanary", "--zz\r\n",
	} {
		request, err := http.NewRequest(http.MethodPost, s.server.URL+"/clients/"+client.String()+"/decisions/"+r.ID.String()+"/documents", strings.NewReader(body))
		if err != nil {
			t.Fatal(err)
		}
		request.Header.Set("Content-Type", "multipart/form-data; boundary=zz")
		request.Header.Set("Sec-Fetch-Site", "same-origin")
		if got := b.do(request); got.status != http.StatusBadRequest && got.status != http.StatusUnprocessableEntity {
			t.Errorf("%q: %d; want it to be told that the form could not be read", body, got.status)
		}
	}
	if log := s.log.String(); strings.Contains(log, "canary") || strings.Contains(log, "level=ERROR") {
		t.Error("the log holds a fault, or what was sent")
	}
}

// TestAnswerByLink answers a letter as a doctor without an account.
func TestAnswerByLink(t *testing.T) {
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
	link := func() string {
		return "/answer/" + storetest.Must(s.NewDoctorLink(t.Context(), s.Mira.Actor(), client, id))
	}
	doctor := s.browser()
	secret := []string{c.GivenName, c.FamilyName, c.BirthDate.String(), "Chest", "chest", "Lund"}
	hides := func(why string, r reply) {
		t.Helper()
		for _, text := range secret {
			if strings.Contains(r.body, text) {
				t.Errorf("%s: the page shows %q", why, text)
			}
		}
	}
	at := link()
	open := doctor.get(at)
	hides("before the birth date", open)
	if open.status != http.StatusOK || !strings.Contains(open.body, "Ridge Lane Rehab") {
		t.Errorf("the link opens with %d", open.status)
	}
	wrong := doctor.post(at, "birth_date", "1950-01-01")
	if wrong.status != http.StatusUnprocessableEntity {
		t.Errorf("a wrong birth date: %d", wrong.status)
	}
	hides("with a wrong birth date", wrong)
	guess := doctor.post(at+"/send", answerFields("birth_date", "1950-01-02", "signature", "Edda Lund")...)
	hides("an answer with a wrong birth date", guess)
	if guess.status != http.StatusUnprocessableEntity {
		t.Errorf("an answer with a wrong birth date: %d", guess.status)
	}
	read := doctor.post(at, "birth_date", c.BirthDate.String())
	if read.status != http.StatusOK || !strings.Contains(read.body, c.FamilyName) {
		t.Fatalf("with the birth date: %d", read.status)
	}
	unsigned := doctor.post(at+"/send", answerFields("birth_date", c.BirthDate.String(), "signature", "Nobody")...)
	if unsigned.status != http.StatusUnprocessableEntity || !strings.Contains(unsigned.body, "No swimming") || !strings.Contains(unsigned.body, "Sign with your name") {
		t.Errorf("without the signature: %d", unsigned.status)
	}
	if sent := doctor.post(at+"/send", answerFields("birth_date", c.BirthDate.String(), "signature", "Edda Lund")...); sent.status != http.StatusOK || !strings.Contains(sent.body, "Thank you") {
		t.Fatalf("signed: %d", sent.status)
	}
	for why, r := range map[string]reply{
		"opened again": doctor.get(at), "read again": doctor.post(at, "birth_date", c.BirthDate.String()),
		"sent again": doctor.post(at+"/send", answerFields("birth_date", c.BirthDate.String(), "signature", "Edda Lund")...),
	} {
		if r.status != http.StatusNotFound {
			t.Errorf("%s: %d; want 404", why, r.status)
		}
		hides(why, r)
	}
	b := s.as("mira")
	page := b.get("/clients/" + client.String() + "/letters/" + id.String())
	if !strings.Contains(page.body, "It does not count yet") || !strings.Contains(page.body, "No swimming") {
		t.Error("the practitioner does not see the answer")
	}
	if r := b.post("/clients/"+client.String()+"/letters/"+id.String()+"/answer", "do", "confirm", "release", "yes"); r.status != http.StatusSeeOther {
		t.Fatalf("confirm: %d", r.status)
	}
	if week := storetest.Must(s.Week(t.Context(), s.Mira.Actor(), client)); week.Ceiling != intensity.Moderate || week.Bounds.Limits.HeartRate != 118 {
		t.Errorf("ceiling %s, limits %+v; want moderate and 118", week.Ceiling, week.Bounds.Limits)
	}
	if strings.Contains(s.log.String(), strings.TrimPrefix(at, "/answer/")) {
		t.Error("the token stands in the log")
	}
}

// TestAnswerLinkEnds: wrong birth dates and time end a link, each for itself.
func TestAnswerLinkEnds(t *testing.T) {
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
	if err := s.SendReferral(t.Context(), s.Mira.Actor(), client, id, 1, l, storetest.Day, "post"); err != nil {
		t.Fatal(err)
	}
	doctor := s.browser()
	at := "/answer/" + storetest.Must(s.NewDoctorLink(t.Context(), s.Mira.Actor(), client, id))
	for range 5 { // practice setting
		doctor.post(at, "birth_date", "1950-01-01")
	}
	if r := doctor.post(at, "birth_date", c.BirthDate.String()); r.status != http.StatusNotFound {
		t.Errorf("after five wrong dates: %d; want 404", r.status)
	}
	at = "/answer/" + storetest.Must(s.NewDoctorLink(t.Context(), s.Mira.Actor(), client, id))
	s.Wait(30 * 24 * time.Hour) // practice setting
	if r := doctor.get(at); r.status != http.StatusNotFound {
		t.Errorf("after 30 days: %d; want 404", r.status)
	}
	limited := false
	for range 40 {
		limited = limited || doctor.get("/answer/guess").status == http.StatusTooManyRequests
	}
	if !limited {
		t.Error("guessing is not slowed down")
	}
}

// TestStalePage signs a form that was opened before a hold: it is refused, and
// what was typed is there.
func TestStalePage(t *testing.T) {
	t.Parallel()
	s := newSite(t)
	client := s.Client()
	s.ScreenClient(client)
	mira, lead := s.as("mira"), s.as("ines")
	path := "/clients/" + client.String()
	if r := mira.get(path + "/prescription/new"); !strings.Contains(r.body, `value="vigorous"`) {
		t.Fatal("vigorous work is not offered")
	}
	if r := lead.post(path+"/holds", "scope", "vigorous", "reason", "Wait for the blood test."); r.status != http.StatusSeeOther {
		t.Fatalf("open a hold: %d", r.status)
	}
	r := mira.post(path+"/prescription", "version", "0", "class", "vigorous", "sessions_per_week", "3", "minutes_per_session", "25", "activities", "Hill runs", "target", "150", "note", "Mind the stones.")
	if r.status != http.StatusUnprocessableEntity || !strings.Contains(r.body, "Hill runs") || !strings.Contains(r.body, "Mind the stones.") {
		t.Errorf("signed after the hold: %d, or what was typed is lost", r.status)
	}
	if n := s.Count(`SELECT count(*) FROM prescriptions`); n != 0 {
		t.Errorf("%d prescriptions are stored", n)
	}
	hold := storetest.Must(s.HoldFile(t.Context(), s.Mira.Actor(), client)).Open[0]
	if r := mira.post(path+"/holds/"+hold.ID.String()+"/release", "reason", ""); r.status != http.StatusUnprocessableEntity || !strings.Contains(r.body, "Write why") {
		t.Errorf("released without a reason: %d", r.status)
	}
	if r := mira.post(path+"/holds/"+hold.ID.String()+"/release", "reason", "The test is fine."); r.status != http.StatusSeeOther {
		t.Errorf("released with a reason: %d", r.status)
	}
	doctors := heldClient(s)
	hold = storetest.Must(s.HoldFile(t.Context(), s.Mira.Actor(), doctors)).Open[0]
	if r := mira.post("/clients/"+doctors.String()+"/holds/"+hold.ID.String()+"/release", "reason", "He feels fine."); r.status != http.StatusUnprocessableEntity || !strings.Contains(r.body, "He feels fine.") {
		t.Errorf("a doctor's hold released with words: %d", r.status)
	}
}

// TestLapse moves the clock to the day on which a decision has lapsed: the pages
// say so at once, without any job (practice setting).
func TestLapse(t *testing.T) {
	t.Parallel()
	s := newSite(t)
	client := s.Client()
	s.ScreenClient(client, "q.diabetes_type_2", "yes")
	in := storetest.Cleared(intensity.Vigorous, "diabetes_type_2")
	in.Outcome, in.Limits.HeartRate, in.ValidUntil = clearance.ClearedWithLimits, 130, storetest.Day.AddDays(20)
	storetest.Must(s.RecordClearance(t.Context(), s.Mira.Actor(), client, in))
	path := "/clients/" + client.String()
	if body := s.as("mira").get(path + "/").body; strings.Contains(body, "on hold") {
		t.Error("cleared, and something is on hold")
	}
	s.Wait(14 * 24 * time.Hour) // 6 days are left
	if body := s.as("mira").get("/doctor").body; !strings.Contains(body, "About to lapse") {
		t.Error("6 days before it lapses the queue does not warn")
	}
	s.Wait(6 * 24 * time.Hour)
	b := s.as("mira")
	for _, page := range []string{"/", "/holds", "/doctor", "/prescription/new"} {
		if body := b.get(path + page).body; !strings.Contains(body, "Vigorous on hold") {
			t.Errorf("%s does not say that vigorous work is on hold", page)
		}
	}
	if body := b.get(path + "/doctor").body; !strings.Contains(body, "Lapsed") || !strings.Contains(body, "130") {
		t.Error("the limit of the lapsed decision is not shown")
	}
	if body := b.get("/doctor").body; !strings.Contains(body, "Lapsed") {
		t.Error("the queue does not show what has lapsed")
	}
}

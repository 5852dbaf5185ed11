package web_test

import (
	"net/http"
	"regexp"
	"strconv"
	"strings"
	"testing"
	"time"

	"brae/e2e/qr"
	"brae/store/storetest"
)

// scan reads the QR code on a page as a phone does.
func scan(t testing.TB, body string) string {
	t.Helper()
	code := regexp.MustCompile(`(?s)<svg class="qr"[^>]*viewBox="0 0 (\d+) \d+".*?fill="#fff".*?fill="#000" d="([^"]+)"`).FindStringSubmatch(body)
	if code == nil {
		t.Fatal("no QR code, black on white, on the page")
	}
	side, _ := strconv.Atoi(code[1])
	modules, margin, err := qr.Modules(code[2], side)
	if err != nil || margin < 4 { // ISO/IEC 18004, quiet zone
		t.Fatalf("margin %d, %v", margin, err)
	}
	text, err := qr.Decode(modules)
	if err != nil {
		t.Fatal(err)
	}
	return text
}

// TestJoinByQRCode joins with what the code holds, which is the link beside it.
func TestJoinByQRCode(t *testing.T) {
	t.Parallel()
	s := newSite(t)
	client := s.Client()
	page := s.as("mira").post("/clients/"+client.String()+"/invite", "sign_in_name", "jon").body
	link := scan(t, page)
	if !strings.Contains(page, "<code id=\"one-time-link\">"+link+"</code>") {
		t.Errorf("the code holds %q, which is not the link on the page", link)
	}
	path, found := strings.CutPrefix(link, "http://brae.test")
	if !found || !strings.HasPrefix(path, "/join/") {
		t.Fatalf("the code leads to %q", link)
	}
	phone := s.browser()
	for _, want := range []string{"Jon Ashby", "Ridge Lane Rehab"} {
		if body := phone.get(path).body; !strings.Contains(body, want) {
			t.Errorf("the join page does not say %q", want)
		}
	}
	if r := phone.post(path, "passphrase", "moss under the bridge"); r.status != http.StatusSeeOther || r.header.Get("Location") != "/week" {
		t.Fatalf("join: %d to %s", r.status, r.header.Get("Location"))
	}
	dead := s.browser().get(path)
	if dead.status != http.StatusNotFound || !strings.Contains(dead.body, "Ridge Lane Rehab") || strings.Contains(dead.body, "Ashby") {
		t.Errorf("a used link: %d; it must say whose practice it was, and not whose link", dead.status)
	}
	if body := s.browser().get("/sign-in").body; !strings.Contains(body, "Ridge Lane Rehab") {
		t.Error("the sign-in page does not say whose practice it is")
	}
}

// TestLostPhone signs a phone out while it is in use, in both ways.
func TestLostPhone(t *testing.T) {
	t.Parallel()
	s := newSite(t)
	client := s.Client()
	s.JoinClient(client, "jon")
	storetest.Must(s.LogSession(t.Context(), s.Mira.Actor(), client, storetest.Walk(30)))
	record := "/clients/" + client.String()
	mira := s.as("mira")
	for _, way := range []struct {
		path   string
		fields []string
		want   int
	}{{"/sign-out", nil, http.StatusSeeOther}, {"/invite", []string{"lost", "yes"}, http.StatusOK}} {
		phone := s.as("jon")
		if r := phone.get("/week"); r.status != http.StatusOK {
			t.Fatalf("before: %d", r.status)
		}
		if r := mira.post(record+way.path, way.fields...); r.status != way.want {
			t.Fatalf("%s: %d", way.path, r.status)
		}
		if r := phone.get("/week"); r.status != http.StatusSeeOther || !strings.HasPrefix(r.header.Get("Location"), "/sign-in") {
			t.Errorf("%s: the lost phone still gets %d", way.path, r.status)
		}
		if r := phone.post("/log", "minutes", "1"); r.status != http.StatusSeeOther {
			t.Errorf("%s: the lost phone can still send: %d", way.path, r.status)
		}
	}
	if n := s.Count(`SELECT count(*) FROM sessions WHERE client_id = $1`, client); n != 1 {
		t.Errorf("%d sessions are left of 1", n)
	}
	s.Wait(time.Minute)
	if r := s.as("jon").get("/week"); r.status != http.StatusOK {
		t.Errorf("with the same passphrase on the next phone: %d", r.status)
	}
	tomas, lead := s.as("tomas"), s.as("ines")
	lead.post("/people/" + s.Tomas.ID.String() + "/sign-out")
	if r := tomas.get("/clients"); r.status != http.StatusSeeOther {
		t.Errorf("a practitioner whose laptop is lost still gets %d", r.status)
	}
}

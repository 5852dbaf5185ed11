package consent_test

import (
	"testing"

	"brae/domain"
	"brae/domain/consent"
)

var today = domain.NewDate(2026, 11, 25)

func given(k consent.Kind, recipient string) consent.Given {
	return consent.Given{Kind: k, Recipient: recipient, Purpose: "to ask for guidance", What: "symptoms and medicines", How: consent.Signed, On: today}
}

// TestCheck: published clearance forms have a signed consent, often valid a year.
func TestCheck(t *testing.T) {
	for _, tt := range []struct {
		why   string
		given consent.Given
		field string
	}{
		{"care", given(consent.Care, ""), ""},
		{"share", given(consent.Share, "Dr Moss"), ""},
		{"share with nobody", given(consent.Share, " "), "recipient"},
		{"care with a recipient", given(consent.Care, "Dr Moss"), "recipient"},
		{"no kind", given("", ""), "kind"},
		{"nobody says how", func() consent.Given { g := given(consent.Care, ""); g.How = ""; return g }(), "how"},
		{"no day", func() consent.Given { g := given(consent.Care, ""); g.On = domain.Date{}; return g }(), "given_on"},
		{"tomorrow", func() consent.Given { g := given(consent.Care, ""); g.On = today.AddDays(1); return g }(), "given_on"},
		{"no purpose", func() consent.Given { g := given(consent.Care, ""); g.Purpose = ""; return g }(), "purpose"},
		{"longer than a year", func() consent.Given {
			g := given(consent.Share, "Dr Moss")
			g.Expires = today.AddMonths(12).AddDays(1)
			return g
		}(), "expires_on"},
		{"ends before it begins", func() consent.Given { g := given(consent.Care, ""); g.Expires = today; return g }(), "expires_on"},
	} {
		g, err := consent.Check(tt.given, today, consent.ShareMonths(nil))
		problems, _ := err.(domain.Problems)
		if tt.field == "" && err != nil || tt.field != "" && (len(problems) != 1 || problems[tt.field] == "") {
			t.Errorf("%s: %v; want a problem of %q", tt.why, err, tt.field)
		}
		if tt.why == "share" && g.Expires != domain.NewDate(2027, 11, 25) {
			t.Errorf("a consent to share ends on %s", g.Expires)
		}
	}
}

func TestInForce(t *testing.T) {
	g := given(consent.Share, "Dr Moss")
	g.Expires = today.AddDays(10)
	for days, want := range map[int]bool{-1: false, 0: true, 9: true, 10: false} {
		if got := g.InForce(today.AddDays(days)); got != want {
			t.Errorf("%d days after it was given: %t", days, got)
		}
	}
	g.Withdrawn = today.AddDays(3)
	if !g.InForce(today.AddDays(2)) || g.InForce(today.AddDays(3)) {
		t.Error("a consent that was withdrawn counts until that day")
	}
}

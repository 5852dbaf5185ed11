package e2e

import (
	"net/url"
	"strings"
	"testing"
)

// What no browser sends, and what is too much, is refused as the sender's fault:
// it must not look like one of ours.
func TestOddInputIsRefused(t *testing.T) {
	t.Parallel()
	brae := Start(t)
	practice := NewPractice(t, brae)
	record := practice.NewRecord("Odd", "One")
	client := practice.AddClient("Otto", "Outcrop")
	log := func(field, value string) url.Values {
		form := url.Values{
			"id": {"6b9f6a4e-3f1b-4e5c-9d0e-2b8a9e7c1d55"}, "day": {today(t)},
			"parts[0].activity": {"walk_brisk"}, "parts[0].minutes": {"20"}, "parts[0].talk": {"sentences"}, "symptoms": {"no"},
		}
		form.Set(field, value)
		return form
	}
	long := strings.Repeat("a", 40_000)
	practice.Practitioner.Post(record+"/intake/medicines", url.Values{"version": {"0"}, "medicines": {long}})
	for _, tt := range []struct {
		name string
		who  *Visitor
		path string
		form url.Values
		want int
	}{
		{"more than an intake can hold", practice.Practitioner, record + "/intake/goal", url.Values{"version": {"1"}, "goal": {long}}, 422},
		{"more than a form can hold", practice.Practitioner, "/clients", url.Values{"given_name": {long + long}}, 413},
		{"a zero byte in the intake", practice.Practitioner, record + "/intake/goal", url.Values{"version": {"1"}, "goal": {"a\x00b"}}, 400},
		{"a zero byte in a name", practice.Practitioner, "/clients", url.Values{"given_name": {"a\x00"}, "family_name": {"b"}, "birth_date": {"1960-01-01"}}, 400},
		{"bytes that are no text", practice.Practitioner, "/clients", url.Values{"given_name": {"\xff"}, "family_name": {"b"}, "birth_date": {"1960-01-01"}}, 400},
		{"a zero byte in a search", practice.Practitioner, "/clients?q=%00", nil, 400},
		{"a zero byte in a note", client.Phone, "/log", log("note", "\x00"), 400},
		{"an id that is none", client.Phone, "/log", log("id", "7"), 422},
		{"a talk test that is none", client.Phone, "/log", log("parts[0].talk", "nonsense"), 422},
		{"a part far out", client.Phone, "/log", log("parts[199].activity", "walk_brisk"), 400},
		{"nothing", client.Phone, "/log", url.Values{}, 422},
		{"a session of nobody again", client.Phone, "/log?again=6b9f6a4e-3f1b-4e5c-9d0e-2b8a9e7c1d00", nil, 404},
		{"a record for no id", practice.Practitioner, "/clients/7", nil, 404},
	} {
		a, err := tt.who.Try(tt.path, tt.form)
		if err != nil || a.Status != tt.want {
			t.Errorf("%s: status %d, not %d; %v", tt.name, a.Status, tt.want, err)
		}
	}
	// 2,000 characters are allowed, whatever they weigh.
	if a, err := client.Phone.Try("/log", log("note", strings.Repeat("é", 1500))); err != nil || a.Status != 303 {
		t.Errorf("a note of 1,500 characters: status %d, %v", a.Status, err)
	}
}

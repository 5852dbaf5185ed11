// Package consent holds what a client agrees to: the text that is read to them,
// what a consent needs, and until when it counts. It is no legal advice: the
// practice has its text read by a lawyer.
package consent

import (
	"fmt"
	"strings"
	"unicode/utf8"

	"brae/domain"
	"brae/domain/source"
)

// Kind is what a consent is for.
type Kind string

// The kinds.
const (
	Care  Kind = "care"  // to exercise here, and to the record that this needs
	Share Kind = "share" // to share with one named recipient
)

// How is the way in which a client agreed.
type How string

// The ways.
const (
	Signed  How = "signed"
	Spoken  How = "spoken"
	Message How = "message"
)

// Valid reports whether there is such a way.
func (h How) Valid() bool { return h == Signed || h == Spoken || h == Message }

// Ground is on what ground a letter with health data goes to a doctor.
type Ground string

// The grounds. The exceptions need a reason in words: they are the practitioner's to
// answer for.
const (
	AgreesNow  Ground = "agrees"   // the client agrees now; it is recorded with the letter
	OnRecord   Ground = "record"   // a consent to share that is on record
	ToProtect  Ground = "protects" // life or health is at stake, and the client cannot be asked in time
	AllowedLaw Ground = "law"      // the law allows it here without, such as among those who treat the client
)

// Exception reports whether the ground does without a consent.
func (g Ground) Exception() bool { return g == ToProtect || g == AllowedLaw }

// Version names the text below. A consent carries the version that was read.
const Version = "2026-11"

// Element is a part of the text that a client hears or reads before they agree.
type Element struct{ Title, Says string }

// Elements are the parts of the text.
//
// Source: consent_elements.
var Elements = []Element{
	{"Why", "We ask about your health so that exercise fits you and is safe."},
	{"What happens", "We ask questions, measure, set a level of effort with you, and look at what you log."},
	{"Risks", "Effort can bring sore muscles, a strain, or faintness. Very rarely it brings a heart problem."},
	{"Benefits", "Most people get fitter and find daily tasks easier. Nobody can promise it."},
	{"Other ways", "You can do less, do something else, or ask your doctor first. Saying no has no drawback here."},
	{"Your part", "Tell us about symptoms, new illness and new medicines at once. Stop when you feel unwell."},
	{"Your data", "We keep what you tell us in your record. Only the people who care for you here see it. Nobody watches your logs live."},
	{"You may stop", "You can stop at any time, without giving a reason, and take this consent back."},
	{"Questions", "You could ask questions, and they were answered."},
}

// Rules are the rules of this package.
var Rules = []source.Rule{{
	ID: "consent.elements", Topic: source.TopicClearance, Cites: []source.Key{"consent_elements", "practice"},
	Says: "A consent names purpose, what happens, risks, benefits, other ways, the client's part, the use of data, the right to stop and that questions were " +
		"answered, with the day, how it was given and the version of the text. Sharing needs a consent for each recipient, with an end.",
}, {
	ID: "consent.letter", Topic: source.TopicClearance, Cites: []source.Key{"clearance_forms", "gdpr_9", "practice"},
	Says: "A letter with health data, and the link to answer it, goes to a doctor with the client's consent to share with that doctor, or under a named exception " +
		"with a reason: life or health is at stake, or the law allows it. A consent that is taken back ends the link. The screening waits for no consent.",
}}

var settingMonths = source.Setting{
	Key: "consent.share_months", Topic: source.TopicClearance, Unit: "months", Default: 12, Low: 1, High: 24,
	Says: "A consent to share with a doctor counts for so long at most.", Cites: []source.Key{"clearance_forms", "practice"},
}

// Settings are the numbers here that a practice may change.
var Settings = []source.Setting{settingMonths}

// ShareMonths returns for how many months a consent to share counts at most.
//
// Source: clearance_forms. Practice rule: practice.
func ShareMonths(v source.Values) int { return v.Of(settingMonths) }

// Given is a consent as it was given.
type Given struct {
	Kind      Kind
	Recipient string // of what is shared
	Purpose   string
	What      string
	How       How
	On        domain.Date
	Expires   domain.Date // the first day on which it does not count; zero is no end
	Withdrawn domain.Date // the day it was taken back
}

// InForce reports whether the consent counts on a day.
func (g Given) InForce(today domain.Date) bool {
	return !g.On.After(today) && (g.Expires.IsZero() || today.Before(g.Expires)) && (g.Withdrawn.IsZero() || today.Before(g.Withdrawn))
}

// Check returns the consent with what it leaves out filled in (purpose, what, the
// end of a consent to share), and [domain.Problems] for what is wrong with it.
//
// Source: clearance_forms. Practice rule: practice.
func Check(g Given, today domain.Date, months int) (Given, error) {
	var problems domain.Problems
	g.Recipient, g.Purpose, g.What = strings.TrimSpace(g.Recipient), strings.TrimSpace(g.Purpose), strings.TrimSpace(g.What)
	for field, text := range map[string]string{"recipient": g.Recipient, "purpose": g.Purpose, "what": g.What} {
		if utf8.RuneCountInString(text) > 500 {
			problems.Add(field, "Use 500 characters at most.")
		}
	}
	switch {
	case g.On.IsZero():
		problems.Add("given_on", "Type the day on which the client agreed.")
	case g.On.After(today):
		problems.Add("given_on", "This day is in the future.")
	}
	if !g.How.Valid() {
		problems.Add("how", "Say how the client agreed.")
	}
	if g.Purpose == "" {
		problems.Add("purpose", "Say what it is for.")
	}
	if g.What == "" {
		problems.Add("what", "Say what the client agrees to.")
	}
	switch g.Kind {
	case Care:
		if g.Recipient != "" {
			problems.Add("recipient", "Only a consent to share has a recipient.")
		}
	case Share:
		if g.Recipient == "" {
			problems.Add("recipient", "Name with whom is shared. Each recipient needs a consent of their own.")
		}
		last := g.On.AddMonths(months)
		if g.Expires.IsZero() && !g.On.IsZero() {
			g.Expires = last
		}
		if g.Expires.After(last) {
			problems.Add("expires_on", fmt.Sprintf("A consent to share counts for %d months at most, until %s.", months, last.Words()))
		}
	default:
		problems.Add("kind", "Choose what the consent is for.")
	}
	if !g.Expires.IsZero() && !g.Expires.After(g.On) {
		problems.Add("expires_on", "It ends after the day on which it was given.")
	}
	return g, problems.Err()
}

// Package source holds the citations behind every number and rule of the
// domain, and the numbers that a practice sets for itself. The other domain
// packages point here by [Key]; the Sources page shows it all.
//
// Each topic has a file of its own with its citations.
package source

import (
	"fmt"
	"slices"
)

// Key names a citation: short, lower case, author and year where there is one
// (gellish2007). It is what `brae calc` prints.
type Key string

// Status says how far a value can be trusted.
type Status string

// The statuses, from the firmest to the softest.
const (
	Published       Status = "published"         // read in the publication or in a copy of it
	PublishedSecond Status = "published, copied" // read only where somebody else reports it
	FromMemory      Status = "from memory"       // recalled, to be checked against the publication
	CommonPractice  Status = "common practice"   // what the trade does, without a publication
	PracticeSetting Status = "practice setting"  // ours: the lead sets it and signs it
	ToBeConfirmed   Status = "to be confirmed"   // sources disagree; see the citation's note
)

// Topic groups citations, rules and settings on the Sources page.
type Topic string

// The topics.
const (
	TopicHeartRate Topic = "heart rate"
	TopicIntensity Topic = "intensity"
	TopicMedicine  Topic = "medicines"
	TopicScreening Topic = "screening"
	TopicClearance Topic = "doctor review"
	TopicVitals    Topic = "vital signs"
	TopicTriage    Topic = "symptoms"
	TopicVolume    Topic = "weekly minutes"
	TopicPlan      Topic = "plan and progression"
	TopicFitness   Topic = "fitness tests"
	TopicActivity  Topic = "activities"
	TopicCaution   Topic = "cautions"
	TopicRecord    Topic = "record and worklist"
)

// Citation is where a value or a rule comes from.
type Citation struct {
	Key     Key
	Topic   Topic
	Text    string // authors, year, title or journal, page or table
	Address string // where to read it, if anywhere public
	Status  Status
	Note    string // what to know before relying on it; may be empty
}

// Rule is one rule or table in use, told in a sentence.
type Rule struct {
	ID    string // stable, as stored with decisions: A074, zones.basis.9
	Topic Topic
	Says  string // what it says, in our words, with its numbers
	Cites []Key  // never empty
}

// Setting is a number of our own that a practice may change and its lead signs.
// A switch is a setting of 0 or 1 with the unit "on/off".
type Setting struct {
	Key                string // package and name: heartrate.min_reserve
	Topic              Topic
	Says               string // what it does, in a sentence
	Unit               string // bpm, months, per cent, on/off
	Default, Low, High int    // the default, and the range a practice may choose from
	Cites              []Key  // what speaks for the default; may be only practice
}

// Values are the settings that a practice has changed, by key. All others are
// at their default. A nil Values is all defaults.
type Values map[string]int

// Of returns the value in use of a setting.
func (v Values) Of(s Setting) int {
	if n, ok := v[s.Key]; ok {
		return n
	}
	return s.Default
}

// On reports whether a switch is on.
func (v Values) On(s Setting) bool { return v.Of(s) != 0 }

// Citations returns all citations, by topic and then in the order of their files.
func Citations() []Citation {
	return slices.Concat(
		practice, heartRate, intensity, medicine, screening, clearance, triage,
		volume, plan, fitness, activity, caution,
	)
}

// Find returns the citation with that key.
func Find(k Key) (Citation, bool) {
	all := Citations()
	i := slices.IndexFunc(all, func(c Citation) bool { return c.Key == k })
	if i < 0 {
		return Citation{}, false
	}
	return all[i], true
}

// RangeSentence tells who typed a value which ones a setting takes.
func RangeSentence(s Setting) string {
	return fmt.Sprintf("Choose a whole number from %d to %d.", s.Low, s.High)
}

// Package activity holds what people do to be active and what it costs: a short
// list of activities with their METs, and the energy and MET-minutes that follow.
//
// MET-minutes and energy are measures of their own. They say nothing about the
// weekly target, which counts moderate-equivalent minutes (package volume): the
// same week can be 140 of one and 518 of the other.
package activity

import (
	"slices"
	"strings"

	"brae/domain"
	"brae/domain/intensity"
)

// Edition is the edition of the compendium that a MET value was read in, by its
// year. A code alone does not name an activity: 01015 is cycling in general in
// the edition of 2011 and cycling at an easy pace in that of 2024.
//
// Source: ainsworth2011, herrmann2024.
type Edition int

// The editions in use.
//
// Source: ainsworth2011, herrmann2024.
const (
	Edition2011 Edition = 2011
	Edition2024 Edition = 2024
)

// Basis is what one MET stands for.
type Basis string

// The bases. The two must not be added up without converting one of them.
//
// Source: ainsworth2011, willis2024.
const (
	Adult Basis = "adult" // 3.5 ml oxygen per kg and minute
	Older Basis = "older" // 2.7 ml, from 60 years on (MET60+)
)

// OxygenTenths returns the oxygen of one MET in tenths of ml per kg and minute,
// and 0 for a basis that does not exist.
//
// Source: ainsworth2011, willis2024.
func (b Basis) OxygenTenths() int {
	switch b {
	case Adult:
		return 35
	case Older:
		return 27
	}
	return 0
}

// Value is the energy cost of an activity as one edition has it. Edition and
// Code together are its key.
type Value struct {
	Edition   Edition
	Code      string // five digits
	METTenths int    // METs, in tenths
	Basis     Basis
}

// Class returns the class by absolute METs, judged on the number in its own
// basis. It is a help for logging where nothing better is known: the talk test,
// exertion and heart rate come first, since the same walk is light for one
// person and vigorous for another.
//
// Source: garber2011, paga2018.
func (v Value) Class() intensity.Class {
	c, err := v.mets().Class()
	if err != nil {
		return intensity.None // a value without METs tells nothing
	}
	return c
}

// VO2 returns the oxygen uptake in ml per kg and minute.
func (v Value) VO2() float64 { return float64(v.METTenths*v.Basis.OxygenTenths()) / 100 }

// Group is a kind of activity.
type Group string

// The groups, in the order of the list.
const (
	Walk     Group = "walk"
	Stairs   Group = "stairs"
	Run      Group = "run"
	Cycle    Group = "cycle"
	Machine  Group = "machine"
	Water    Group = "water"
	Strength Group = "strength"
	Gentle   Group = "gentle"
	Dance    Group = "dance"
	Sport    Group = "sport"
	Home     Group = "home"
	Rest     Group = "rest"
)

// Groups returns the groups in the order of the list.
func Groups() []Group {
	return []Group{Walk, Stairs, Run, Cycle, Machine, Water, Strength, Gentle, Dance, Sport, Home, Rest}
}

// Activity is something that people do, in our words, with the value in use: that
// of the latest edition it was read in.
type Activity struct {
	ID    string // short and stable: walk_brisk
	Name  string // for a person to read, without its speed
	Short string // for a button; empty where the name is short
	Speed Speed  // that it is done at; zero where the name says enough
	Also  string // other words that people search for
	Group Group
	Value       // in use
	Was   Value // as the edition before had it; zero where it was not read there
}

// ShortName returns the name for a button, of 26 characters at most.
func (a Activity) ShortName() string {
	if a.Short == "" {
		return a.Name
	}
	return a.Short
}

// All returns the activities, by group and within a group from the easiest.
func All() []Activity { return slices.Clone(list) }

// Find returns the activity with that id, or [domain.ErrNotFound].
func Find(id string) (Activity, error) {
	i := slices.IndexFunc(list, func(a Activity) bool { return a.ID == id })
	if i < 0 {
		return Activity{}, domain.ErrNotFound
	}
	return list[i], nil
}

// ByCode returns the activity that an edition gives that code, with its value in
// that edition, which need not be the value in use. It returns
// [domain.ErrNotFound] for a code that the list does not have.
func ByCode(e Edition, code string) (Activity, Value, error) {
	for _, a := range list {
		for _, v := range []Value{a.Value, a.Was} {
			if v.Edition == e && v.Code == code {
				return a, v, nil
			}
		}
	}
	return Activity{}, Value{}, domain.ErrNotFound
}

// Search returns the activities that have every word of the text at the start of
// one of their own words, in the order of the list. No words find everything.
func Search(text string) []Activity {
	words := strings.FieldsFunc(strings.ToLower(text), notInWord)
	var found []Activity
	for _, a := range list {
		if a.has(words) {
			found = append(found, a)
		}
	}
	return found
}

func (a Activity) has(words []string) bool {
	own := strings.FieldsFunc(strings.ToLower(a.Name+" "+a.Also+" "+a.ID), notInWord)
	for _, w := range words {
		if !slices.ContainsFunc(own, func(o string) bool { return strings.HasPrefix(o, w) }) {
			return false
		}
	}
	return true
}

func notInWord(r rune) bool { return strings.ContainsRune(" \t\r\n,;:/()_-", r) }

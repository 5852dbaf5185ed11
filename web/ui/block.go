package ui

import (
	"context"

	"github.com/a-h/templ"

	"brae/web/say"
)

// Decision is what Brae decided about a client and how it got there.
type Decision struct {
	Sentence string // what may be done now
	Held     bool   // it says stop or wait
	Rule     string // "Rule 7, version 3"
	RuleHref string // to the rule's text; no link if empty
	Why      []string
	Next     string // what happens next
	Sources  []Source
}

// fewSources fit under a decision: a citation takes two lines. More of them are folded away.
const fewSources = 1

// Source is one work or setting that something rests on.
type Source struct {
	Short  string // "ACSM 2015"
	Href   string
	Status string // in words: "published", "practice setting"
}

// Hold is an open stop, told to whoever looks at the client.
type Hold struct {
	Sentence string // "No vigorous exercise until a doctor has answered."
	Cause    string
	Since    string
	Next     string // what to do about it
	Link     string // words of the link to it
	Href     string
}

// Emergency is what a person must read before anything else.
type Emergency struct {
	Title  string   // "Stop exercising"
	Number string   // to call
	Lines  []string // four short ones at most
}

// Nothing is what stands where a list has no entries yet.
type Nothing struct {
	Title string
	Text  string // what to do next
	Link  string // words of the button; none if empty
	Href  string
}

// Step is one part of the intake. Parts may be done in any order.
type Step struct {
	Label string
	Href  string
	State StepState
	Note  string // "2 of 7 answered"
	Here  bool   // the part that the page shows
}

// StepState says how far a part is.
type StepState int

// The states of a part.
const (
	NotStarted StepState = iota
	Started
	Done
	Wrong // something in it must be put right
)

var stepStates = [...]struct{ word, class string }{
	NotStarted: {say.Key("Not started"), "todo"},
	Started:    {say.Key("Started"), "started"},
	Done:       {say.Key("Done"), "done"},
	Wrong:      {say.Key("Needs another look"), "wrong"},
}

func (s Step) word() string  { return stepStates[s.State].word }
func (s Step) class() string { return "step " + stepStates[s.State].class }

func progress(ctx context.Context, steps []Step) string {
	done := 0
	for _, s := range steps {
		if s.State == Done {
			done++
		}
	}
	return say.F(ctx, "%d of %d done. Any order will do.", done, len(steps))
}

// Choice is one view of a list among others.
type Choice struct {
	Label   string
	Count   string // how many it shows; none if empty
	Href    string
	Current bool
}

// Definition is a term and what stands against it. Content, if set, replaces
// the detail.
type Definition struct {
	Term    string
	Detail  string
	Content templ.Component
}

// Table is a table of data. On a phone each row becomes a block, with the words
// of the column heads in front of the cells.
type Table struct {
	Caption     string
	HideCaption bool // kept for screen readers, where a heading says the same
	Columns     []Column
	Rows        []Row
}

// Column is the head of a column.
type Column struct {
	Label  string
	Number bool   // set right, so that digits stand under each other
	Plain  bool   // what stands in it needs no label, where a phone shows the rows as blocks
	Href   string // sorts the table by this column; none if empty
	Sorted string // "ascending" or "descending" if it is sorted by this column
}

// Row is a row of a table. Its first cell names it.
type Row struct {
	Cells []Cell
	Total bool // the sum of the rows above
	Muted bool // does not apply now; a cell must say why
}

// Cell is one cell. Content, if set, replaces the text.
type Cell struct {
	Text    string
	Href    string
	Content templ.Component
}

func (r Row) class() string {
	switch {
	case r.Total:
		return "total"
	case r.Muted:
		return "muted"
	}
	return ""
}

// column is the head over cell i. A row longer than the head is a mistake in
// the page; the extra cells stay readable, without a head.
func (t Table) column(i int) Column {
	if i < len(t.Columns) {
		return t.Columns[i]
	}
	return Column{}
}

// Pager leads through a long list. An empty address means there is none.
type Pager struct {
	Previous string
	Next     string
	Position string // "Page 2 of 5"
}

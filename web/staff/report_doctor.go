package staff

import (
	"context"
	"strings"

	"golang.org/x/text/language"

	"brae/domain/clearance"
	"brae/domain/fitness"
	"brae/domain/intensity"
	"brae/store"
	"brae/web/client"
	"brae/web/ui"
)

// doctorPaper is a report for the doctor who sent the client: what the care was
// about and no more. Notes, contacts and the log itself stay here.
func doctorPaper(ctx context.Context, in client.Printed) client.Paper {
	r, f := in.Report, in.Report.Figures
	v := client.Paper{
		Language: language.English, From: []string{in.Practice.Name, in.Practice.Phone}, Day: shortDay(f.Until),
		Title: in.Client.Name() + ", born " + shortDay(in.Client.BirthDate),
		Lead:  "Exercise report from " + shortDay(f.Since) + " to " + shortDay(f.Until) + ".",
		Words: client.PaperList{Title: "Summary", Lines: client.Lines(r.Text)},
	}
	if f.Goal != "" {
		v.Lead += " Goal: " + f.Goal
	}
	if r.SignedBy == "" {
		v.Draft = "Not signed yet."
	} else {
		v.Signed = "Signed by " + r.SignedBy + " on " + r.SignedAt.Format("2 January 2006") + ", version " + number(r.Version)
	}
	v.State = client.StateTable(ctx, f, client.StateWords{
		Caption: "Then and now", Start: shortDay(f.Start.On), Now: shortDay(f.Now.On),
		Activity: "Moderate-equivalent minutes a week", Ceiling: "Ceiling", Resting: "Resting heart rate, beats a minute", Unknown: "not known",
		Pressure: "Blood pressure before a session, mmHg", Pulse: "Resting heart rate before a session",
	})
	v.PutWeeks(ctx, f)
	v.Lists = []client.PaperList{doctorTests(f), doctorSymptoms(ctx, f), doctorAdherence(f), doctorAhead(f), doctorHolds(f), doctorDecisions(f)}
	if r.Final {
		v.Lists = append(v.Lists[:3], v.Lists[4:]...)
	}
	return v
}

// orNothing says so where a list is empty.
func orNothing(title, nothing string, lines []string) client.PaperList {
	if len(lines) == 0 {
		lines = []string{nothing}
	}
	return client.PaperList{Title: title, Lines: lines}
}

func doctorTests(f store.ReportFigures) client.PaperList {
	var lines []string
	for _, t := range f.Tests {
		name := testName(t.Test)
		if t.CourseM > 0 {
			name += ", course of " + number(int(t.CourseM)) + " m"
		}
		line := name + ": " + outcomeShown(t.Last) + " " + t.Last.Unit + " on " + shortDay(t.LastOn) + "."
		if t.Change != nil {
			line = name + ": " + outcomeShown(t.First) + ", then " + outcomeShown(t.Last) + " " + t.Last.Unit + ". " + realWords(*t.Change, t.Last)
		}
		lines = append(lines, line)
	}
	return orNothing("Fitness tests", "None.", lines)
}

// realWords is changeSentence without what is said to the practice alone.
func realWords(c store.TestChange, o fitness.Outcome) string {
	words := changeSentence(c, o)
	if c.Why == "" && c.Change.Tier == fitness.WithinError {
		words, _, _ = strings.Cut(words, ". ")
		words += "."
	}
	return strings.ToUpper(words[:1]) + words[1:]
}

func doctorSymptoms(ctx context.Context, f store.ReportFigures) client.PaperList {
	var lines []string
	for _, s := range f.Symptoms {
		line := shortDay(s.On) + ": " + client.SomeReports(ctx, s)
		switch {
		case s.Held == clearance.NoHold:
			line += " No hold."
		case s.Released.IsZero():
			line += " " + holdWords(s.Held) + ", still open."
		default:
			line += " " + holdWords(s.Held) + ", released on " + shortDay(s.Released) + "."
		}
		lines = append(lines, line)
	}
	return orNothing("Symptoms reported in the client's log", "None.", lines)
}

func doctorAdherence(f store.ReportFigures) client.PaperList {
	a := f.Adherence
	if a.Weeks == 0 {
		return client.PaperList{Title: "Adherence", Lines: []string{"No whole week under a prescription is over yet."}}
	}
	return client.PaperList{Title: "Adherence", Lines: []string{
		number(a.Logged) + " of " + number(a.Weeks) + " weeks have a log. " + number(a.Reached) + " of " + number(a.Weeks) + " (" + number(a.Share()) +
			" %) reached the target. Agreed breaks are left out.",
	}}
}

func doctorAhead(f store.ReportFigures) client.PaperList {
	var lines []string
	if p := f.Prescription; p != nil {
		lines = append(lines, "Prescribed: "+p.Activities+", "+doseWords(p.Dose)+"; "+number(p.Target.Minutes)+" minutes a week.")
	}
	for i, w := range f.Ahead {
		if i > 0 || f.Prescription == nil {
			lines = append(lines, "From "+shortDay(w.First)+": "+doseWords(w.Dose)+"; target "+number(w.Target.Minutes)+" minutes.")
		}
	}
	return orNothing("What comes next", "Nothing is prescribed.", lines)
}

func doctorHolds(f store.ReportFigures) client.PaperList {
	var lines []string
	for _, h := range f.Holds {
		line := shortDay(h.Opened) + ": " + holdWords(h.Scope) + ". " + strings.TrimRight(h.Reason, ".")
		if !strings.HasSuffix(h.Reason, "…") {
			line += "."
		}
		if h.Released.IsZero() {
			line += " Still open."
		} else {
			line += " Released on " + shortDay(h.Released) + "."
		}
		lines = append(lines, line)
	}
	return orNothing("Holds", "None.", lines)
}

// standWords is where a doctor's decision stands.
var standWords = map[clearance.Status]string{
	clearance.Recorded: "not begun", clearance.Active: "in force", clearance.UnderReview: "under review", clearance.Lapsed: "lapsed",
	clearance.Superseded: "superseded", clearance.Revoked: "revoked",
}

func doctorDecisions(f store.ReportFigures) client.PaperList {
	var lines []string
	for _, d := range f.Decisions {
		if d.Status == clearance.EnteredInError {
			continue
		}
		line := shortDay(d.On) + ", " + d.Doctor + ": "
		if d.Ceiling == intensity.None {
			line += "no exercise for now"
		} else {
			line += "up to " + strings.ToLower(ui.ClassWord(d.Ceiling))
		}
		lines = append(lines, line+"; "+standWords[d.Status]+".")
	}
	return orNothing("Doctors' decisions", "None.", lines)
}

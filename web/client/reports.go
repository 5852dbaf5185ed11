package client

import (
	"context"
	"slices"

	"brae/domain/triage"
	"brae/web/say"
	"brae/web/ui"
)

// reportGroup is the reports about one thing.
type reportGroup struct {
	title string
	rows  []string // of the table of reports
}

// reportGroups are in the order of their weight. Every row stands in one.
var reportGroups = []reportGroup{
	{say.Key("Chest, jaw or arm"), []string{"T01", "T02", "T03"}},
	{say.Key("Faint or dizzy"), []string{"T04", "T05", "T06", "T39"}},
	{say.Key("Breathing"), []string{"T07", "T08", "T09", "T10", "T20", "T21", "T22"}},
	{say.Key("Heartbeat"), []string{"T12", "T13"}},
	{say.Key("Face, arms, speech or sight"), []string{"T14", "T36"}},
	{say.Key("Legs, feet and swelling"), []string{"T15", "T16", "T17", "T18", "T35"}},
	{say.Key("Fever, heat and muscles"), []string{"T25", "T27", "T28", "T29"}},
	{say.Key("Joints, back and falls"), []string{"T30", "T31", "T32", "T33", "T34"}},
	{say.Key("Tired, low or a headache"), []string{"T19", "T38", "T41"}},
	{say.Key("Blood sugar"), []string{"T23", "T24"}},
	{say.Key("Pregnancy"), []string{"T37"}},
	{say.Key("Small things, and anything else"), []string{"T40", "T42"}},
}

func (g reportGroup) codes() []triage.Code {
	return slices.DeleteFunc(triage.Codes(), func(c triage.Code) bool { return !slices.Contains(g.rows, c.Row) })
}

func (g reportGroup) ticked(ticked []string) bool {
	return slices.ContainsFunc(g.codes(), func(c triage.Code) bool { return isTicked(ticked, c.Report) })
}

func isTicked(ticked []string, r triage.Report) bool { return slices.Contains(ticked, string(r)) }

// question is one that the triage asks, with yes and no.
func question(ctx context.Context, q triage.Question) ui.Field {
	return ui.Field{Name: "answer." + q.Code, Label: say.T(ctx, q.Asks)}.WithOptions(
		ui.Option{Value: "no", Label: say.T(ctx, "No")}, ui.Option{Value: "yes", Label: say.T(ctx, "Yes")})
}

// symptoms asks whether anything was wrong.
func symptoms(ctx context.Context, value, problem string) ui.Field {
	return ui.Field{Name: "symptoms", Label: say.T(ctx, "Did anything feel wrong?"), Value: value, Problem: problem}.WithOptions(
		ui.Option{Value: "no", Label: say.T(ctx, "No")}, ui.Option{Value: "yes", Label: say.T(ctx, "Yes")})
}

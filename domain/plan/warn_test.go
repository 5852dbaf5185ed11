package plan_test

import (
	"reflect"
	"testing"

	"brae/domain/intensity"
	"brae/domain/plan"
	"brae/domain/volume"
)

func TestWarnings(t *testing.T) {
	m := func(sessions, minutes, hard int) plan.Dose {
		return plan.Dose{Class: moderate, Sessions: sessions, Minutes: minutes, Vigorous: hard}
	}
	warn := func(week int, code string, have, need int) plan.Warning {
		return plan.Warning{Week: week, Reason: plan.Reason{Code: code, Have: have, Need: need}}
	}
	for _, tt := range []struct {
		source  string
		doses   []plan.Dose
		ceiling intensity.Class
		behind  int
		want    []plan.Warning
	}{
		{"Toronto cardiac rehabilitation: one part at a time", []plan.Dose{m(3, 20, 0), m(3, 25, 0), m(4, 25, 0)}, moderate, 0, nil},
		{"Toronto cardiac rehabilitation: two parts at once", []plan.Dose{m(3, 20, 0), m(4, 25, 0)}, moderate, 0, []plan.Warning{warn(2, "two_parts", 2, 1)}},
		{
			"Toronto cardiac rehabilitation: three parts at once",
			[]plan.Dose{{Class: light, Sessions: 3, Minutes: 20}, m(4, 25, 0)}, moderate, 0, []plan.Warning{warn(2, "two_parts", 3, 1)},
		},
		{"ACSM guidelines, from memory: ten minutes more are the most", []plan.Dose{m(3, 20, 0), m(3, 30, 0)}, moderate, 0, nil},
		{"ACSM guidelines, from memory: eleven are steep", []plan.Dose{m(3, 20, 0), m(3, 31, 0)}, moderate, 0, []plan.Warning{warn(2, "steep_time", 11, 10)}},
		{"practice setting: down may be steep", []plan.Dose{m(3, 50, 0), m(3, 20, 0)}, moderate, 0, nil},
		{"practice setting: vigorous under a hold", []plan.Dose{m(3, 30, 9)}, moderate, 12, []plan.Warning{warn(1, "above_ceiling", 4, 3)}},
		{"practice setting: moderate under a hold above light", []plan.Dose{m(3, 30, 0)}, light, 0, []plan.Warning{warn(1, "above_ceiling", 3, 2)}},
		{"practice setting: light under a hold on all", []plan.Dose{{Class: light, Sessions: 1, Minutes: 5}}, none, 0, []plan.Warning{warn(1, "above_ceiling", 2, 0)}},
		{"practice setting: a pause under a hold on all", []plan.Dose{{}}, none, 0, nil},
		{"practice setting: vigorous in week 12", []plan.Dose{m(3, 30, 9)}, vigorous, 11, []plan.Warning{warn(1, "early_vigorous", 12, 13)}},
		{"practice setting: vigorous in week 13", []plan.Dose{m(3, 30, 9)}, vigorous, 12, nil},
		{
			"practice setting: a fifth of the minutes in four weeks", // 90 minutes
			[]plan.Dose{m(3, 30, 0), m(3, 30, 18), m(3, 30, 19), m(3, 30, 19), m(3, 30, 19), m(3, 30, 30)}, vigorous, 12,
			[]plan.Warning{warn(3, "vigorous_share", 21, 20), warn(4, "vigorous_share", 21, 20), warn(5, "vigorous_share", 21, 20)},
		},
		{"practice setting: just over a fifth", []plan.Dose{m(1, 99, 20)}, vigorous, 12, []plan.Warning{warn(1, "vigorous_share", 20, 20)}},
		{"arithmetic: 59 of 99 minutes are 59 per cent and a bit", []plan.Dose{m(1, 99, 59)}, vigorous, 12, []plan.Warning{warn(1, "vigorous_share", 59, 20)}},
		{"practice setting: one vigorous minute is above the ceiling", []plan.Dose{m(1, 60, 1)}, moderate, 12, []plan.Warning{warn(1, "above_ceiling", 4, 3)}},
		{"practice setting: one moderate minute is", []plan.Dose{m(1, 1, 0)}, light, 0, []plan.Warning{warn(1, "above_ceiling", 3, 2)}},
		{"practice setting: one light minute is", []plan.Dose{{Class: light, Sessions: 1, Minutes: 1}}, none, 0, []plan.Warning{warn(1, "above_ceiling", 2, 0)}},
		{
			"practice setting: who is used to vigorous work is not introduced to it",
			[]plan.Dose{{Class: vigorous, Sessions: 3, Minutes: 20}, {Class: vigorous, Sessions: 3, Minutes: 25}}, vigorous, 0, nil,
		},
		{
			"practice setting: but is under the ceiling, too",
			[]plan.Dose{{Class: vigorous, Sessions: 3, Minutes: 20}}, moderate, 0, []plan.Warning{warn(1, "above_ceiling", 4, 3)},
		},
		{"practice setting: no weeks", nil, none, 0, nil},
	} {
		t.Run(tt.source, func(t *testing.T) {
			var weeks []plan.Week
			for i, d := range tt.doses {
				weeks = append(weeks, plan.Week{Number: i + 1, Dose: d, Totals: d.Totals()})
			}
			if got := plan.Warnings(weeks, tt.ceiling, tt.behind, policy); !reflect.DeepEqual(got, tt.want) {
				t.Errorf("Warnings = %v; want %v", got, tt.want)
			}
		})
	}
}

func TestRunningJump(t *testing.T) {
	for _, tt := range []struct {
		source  string
		minutes int
		before  [2]int
		want    bool
	}{
		{"practice setting: 30 per cent over the mean", 130, [2]int{100, 100}, false},
		{"practice setting: more than that", 131, [2]int{100, 100}, true},
		{"practice setting: the mean of both weeks", 131, [2]int{150, 50}, true},
		{"Buist 2008, the usual plan's mean of 23 per cent a week", 123, [2]int{100, 100}, false},
		{"practice setting: nothing to compare with", 60, [2]int{0, 0}, false},
		{"practice setting: a minute to compare with", 1, [2]int{1, 0}, true},
		{"practice setting: one week to compare with", 20, [2]int{0, 24}, true},
	} {
		t.Run(tt.source, func(t *testing.T) {
			if got := plan.RunningJump(tt.minutes, tt.before, policy); got != tt.want {
				t.Errorf("RunningJump(%d, %v) = %t; want %t", tt.minutes, tt.before, got, tt.want)
			}
		})
	}
}

func TestDose(t *testing.T) {
	full := plan.Dose{Class: moderate, Sessions: 3, Minutes: 40, Easy: 10, Vigorous: 12}
	one := plan.Dose{Class: moderate, Sessions: 1, Minutes: 10, Vigorous: 1}
	with := func(d plan.Dose, class intensity.Class, hard int) plan.Dose {
		d.Class, d.Vigorous = class, hard
		return d
	}
	for _, tt := range []struct {
		source  string
		dose    plan.Dose
		totals  volume.Totals
		hardest intensity.Class
		ceiling intensity.Class
		under   plan.Dose
	}{
		{
			"PAGA 2018 p. 58: 78 moderate and twice 12, warm-up and cool-down apart", full,
			volume.Totals{Light: 30, Moderate: 78, Vigorous: 12, ModerateEquivalent: 102}, vigorous, vigorous, full,
		},
		{
			"practice setting: no vigorous minutes under a ceiling of moderate", full,
			volume.Totals{Light: 30, Moderate: 78, Vigorous: 12, ModerateEquivalent: 102}, vigorous, moderate, with(full, moderate, 0),
		},
		{
			"practice setting: light under a ceiling of light", full,
			volume.Totals{Light: 30, Moderate: 78, Vigorous: 12, ModerateEquivalent: 102}, vigorous, light, with(full, light, 0),
		},
		{
			"practice setting: nothing under a ceiling of none", full,
			volume.Totals{Light: 30, Moderate: 78, Vigorous: 12, ModerateEquivalent: 102}, vigorous, none, plan.Dose{},
		},
		{
			"practice setting: one vigorous minute is vigorous work", one,
			volume.Totals{Moderate: 9, Vigorous: 1, ModerateEquivalent: 11}, vigorous, moderate, with(one, moderate, 0),
		},
		{
			"practice setting: near-maximal work is harder than its vigorous minutes", with(one, intensity.NearMaximal, 1),
			volume.Totals{Vigorous: 10, ModerateEquivalent: 20}, intensity.NearMaximal, vigorous, with(one, vigorous, 1),
		},
		{
			"practice setting: light work", plan.Dose{Class: light, Sessions: 3, Minutes: 20},
			volume.Totals{Light: 60}, light, moderate, plan.Dose{Class: light, Sessions: 3, Minutes: 20},
		},
	} {
		t.Run(tt.source, func(t *testing.T) {
			if got := tt.dose.Totals(); got != tt.totals {
				t.Errorf("%+v.Totals() = %+v; want %+v", tt.dose, got, tt.totals)
			}
			if got := tt.dose.Hardest(); got != tt.hardest {
				t.Errorf("%+v.Hardest() = %v; want %v", tt.dose, got, tt.hardest)
			}
			if got := tt.dose.Under(tt.ceiling); got != tt.under {
				t.Errorf("%+v.Under(%v) = %+v; want %+v", tt.dose, tt.ceiling, got, tt.under)
			}
		})
	}
}

func TestChanges(t *testing.T) {
	d := plan.Dose{Class: moderate, Sessions: 3, Minutes: 30}
	for _, tt := range []struct {
		source string
		change func(*plan.Dose)
		want   []plan.Component
	}{
		{"arithmetic: nothing", func(*plan.Dose) {}, nil},
		{"arithmetic: time", func(d *plan.Dose) { d.Minutes++ }, []plan.Component{"time"}},
		{"arithmetic: frequency", func(d *plan.Dose) { d.Sessions-- }, []plan.Component{"frequency"}},
		{"arithmetic: the class", func(d *plan.Dose) { d.Class++ }, []plan.Component{"intensity"}},
		{"arithmetic: vigorous minutes", func(d *plan.Dose) { d.Vigorous = 4 }, []plan.Component{"intensity"}},
		{"arithmetic: all", func(d *plan.Dose) { *d = plan.Dose{} }, []plan.Component{"time", "frequency", "intensity"}},
		{"practice setting: warm-up in place of work", func(d *plan.Dose) { d.Easy = 10 }, []plan.Component{"intensity"}},
	} {
		t.Run(tt.source, func(t *testing.T) {
			e := d
			tt.change(&e)
			if got := plan.Changes(d, e); !reflect.DeepEqual(got, tt.want) {
				t.Errorf("Changes(%+v, %+v) = %v; want %v", d, e, got, tt.want)
			}
		})
	}
}

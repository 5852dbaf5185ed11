package staff

import (
	"fmt"
	"slices"

	"brae/domain/fitness"
	"brae/domain/source"
	"brae/web/ui"
)

var energyCalculator = calculator{
	path: "energy", name: "Energy",
	lead: "Oxygen uptake, METs and kilocalories of steady work, by the published equations.",
	caution: "For steady work without holding on. It says what the work takes, not how hard it is for this person, and it predicts " +
		"no change of weight.",
	ask: askEnergy, answer: answerEnergy,
}

var modes = []ui.Option{
	{Value: string(fitness.Walk), Label: "Walking"},
	{Value: string(fitness.Run), Label: "Running"},
	{Value: string(fitness.LegCycle), Label: "Cycling"},
	{Value: string(fitness.ArmCycle), Label: "Cycling with the arms"},
	{Value: string(fitness.Step), Label: "Stepping"},
}

// chosenMode is the mode of the form, walking before anybody chose.
func (t *typed) chosenMode() fitness.Mode {
	if mode := fitness.Mode(t.text("mode")); slices.Contains(fitness.Modes(), mode) {
		return mode
	}
	return fitness.Walk
}

func askEnergy(t *typed) numbersForm {
	mode := t.chosenMode()
	fields := []numbersField{
		choice.as(ui.Field{
			Name: "mode", Label: "Kind of work", Value: string(mode), Options: slices.Clone(modes),
			Hint: "Say whether the person walks or runs: the two take different amounts at the same speed.",
		}),
	}
	weight := line.as(ui.Field{Name: "weight_kg", Label: "Weight", Unit: "kg", Optional: true, Hint: "For kilocalories. Or with its unit: 150 lb."})
	switch mode {
	case fitness.Walk, fitness.Run:
		fields = append(fields,
			line.as(ui.Field{Name: "speed_m_min", Label: "Speed", Hint: "With its unit: 6 mph, 9.7 km/h or 160.8 m/min."}),
			decimal.as(ui.Field{Name: "grade", Label: "Grade", Unit: "%", Optional: true, Hint: "Of a treadmill; level if empty."}),
		)
	case fitness.LegCycle, fitness.ArmCycle:
		fields = append(fields, line.as(ui.Field{Name: "work_kgm_min", Label: "Work rate", Hint: "With its unit: 150 W or 900 kgm/min."}))
		weight.Optional, weight.Hint = false, "Or with its unit: 150 lb."
	case fitness.Step:
		fields = append(fields,
			line.as(ui.Field{Name: "step_height_m", Label: "Height of the step", Unit: "cm"}),
			decimal.as(ui.Field{Name: "steps_min", Label: "Full steps a minute", Hint: "Up and down again is one; a metronome beats four times."}),
		)
	}
	return numbersForm{chosen: string(mode), fields: t.fill(append(fields, weight)...)}
}

func answerEnergy(t *typed, settings source.Values) (result numbersResult) {
	mode := t.chosenMode()
	if typed := t.text("mode"); typed != "" && typed != string(mode) {
		t.problems.Add("mode", "Choose from the list.")
	}
	w := fitness.Work{Mode: mode, WeightKg: t.quantity("weight_kg", fitness.Weight, "kg")}
	switch mode {
	case fitness.Walk, fitness.Run:
		w.SpeedMMin, w.Grade = t.quantity("speed_m_min", fitness.Speed, ""), t.share("grade")
	case fitness.LegCycle, fitness.ArmCycle:
		w.WorkKgmMin = t.quantity("work_kgm_min", fitness.WorkRate, "")
	case fitness.Step:
		w.StepHeight, w.StepsMin = t.metres("step_height_m"), t.number("steps_min")
	}
	c, err := fitness.CostOf(w, fitness.PolicyFrom(settings))
	if err != nil {
		t.refuse(err, nil)
	}
	if t.problems != nil {
		return result
	}
	add := func(term, format string, args ...any) {
		result.items = append(result.items, ui.Definition{Term: term, Detail: fmt.Sprintf(format, args...)})
	}
	result.sentence = fmt.Sprintf("%s ml of oxygen per kg and minute, %s METs", fitness.ShowVO2(c.VO2), fitness.ShowMETs(c.METs))
	add("Error", "People differ by about %.0f %% at the same work: %s to %s ml per kg and minute.",
		100*fitness.Spread, fitness.ShowVO2(c.VO2*(1-fitness.Spread)), fitness.ShowVO2(c.VO2*(1+fitness.Spread)))
	if c.KcalMin != nil {
		add("Energy", "%.1f kcal a minute in all, %.1f without what the body uses at rest", *c.KcalMin, *c.KcalMinNet)
		add("Oxygen", "%.2f litres a minute", *c.Litres)
	}
	if w.SpeedMMin != nil {
		add("Speed", "%s km/h, %.1f mph, %s a mile", fitness.ShowKmH(fitness.ToKmH(*w.SpeedMMin)), fitness.ToMph(*w.SpeedMMin),
			fitness.ShowMinutes(fitness.ToMilePace(*w.SpeedMMin)))
	}
	if w.WorkKgmMin != nil {
		add("Work rate", "%s W", fitness.ShowWatts(fitness.ToWatts(*w.WorkKgmMin)))
	}
	switch c.Range {
	case fitness.Below:
		result.notes = append(result.notes, fitness.FlagRangeBelow.Says()+lowRange[mode])
	case fitness.Above:
		result.notes = append(result.notes, fitness.FlagRangeAbove.Says()+highRange[mode])
	}
	for _, r := range fitness.Rules {
		switch r.ID {
		case "fitness.energy." + string(mode), "fitness.energy.conditions", "fitness.energy.units":
			result.cites = append(result.cites, r.Cites...)
		}
	}
	return result
}

// What to make of work outside of the range of its equation.
var (
	lowRange  = map[fitness.Mode]string{fitness.Run: " It holds only if the person really runs or jogs."}
	highRange = map[fitness.Mode]string{fitness.Walk: " It holds only if the person really walks."}
)

var percentileCalculator = calculator{
	path: "percentile", name: "Percentile",
	lead: "Where a maximal oxygen uptake stands among people of the same sex and decade of age.",
	caution: "The norms come from people of one country who came to be tested. An estimate carries its error into the percentile: look at both " +
		"ends of it.",
	ask: func(t *typed) numbersForm {
		return numbersForm{fields: t.fill(
			whole.as(ui.Field{Name: "age", Label: "Age", Unit: "years"}),
			choice.as(ui.Field{Name: "sex", Label: "Sex", Options: slices.Clone(sexes), Hint: "Not said: by both norms."}),
			decimal.as(ui.Field{Name: "vo2max", Label: "Maximal oxygen uptake", Unit: "ml/kg/min"}),
			decimal.as(ui.Field{Name: "see", Label: "Its error", Unit: "ml/kg/min", Optional: true, Hint: "One standard error, for an estimate."}),
			radios.as(ui.Field{Name: "mode", Label: "Found on", Value: string(fitness.Treadmill), Options: []ui.Option{
				{Value: string(fitness.Treadmill), Label: "A treadmill, on foot, or by an estimate"},
				{Value: string(fitness.Cycle), Label: "A cycle"},
			}}),
		)}
	},
	answer: answerPercentile,
}

// or is what a field holds, or something else where it is empty.
func or[T any](typed *T, otherwise T) T {
	if typed == nil {
		return otherwise
	}
	return *typed
}

// standing is where an oxygen uptake stands, in words.
type standing struct {
	sentence string
	items    []ui.Definition
}

// standings tell where an oxygen uptake stands: by both norms if the sex was not said.
func standings(age int, sex fitness.Sex, vo2max float64, see *float64, mode fitness.NormMode) (told standing, err error) {
	if sex == "" {
		women, men, err := fitness.PercentilesOf(age, vo2max, mode)
		told.sentence = fmt.Sprintf("Percentile %d by the norms of women, %d by those of men", women.Shown(), men.Shown())
		told.items = []ui.Definition{{Term: "What it says", Detail: bothWords(women, men)}}
		return told, err
	}
	s, err := fitness.PercentileOf(age, sex, vo2max, mode)
	told.sentence = fmt.Sprintf("Percentile %d: %s", s.Shown(), wordOf(s))
	told.items = []ui.Definition{{Term: "What it says", Detail: standingWords(s)}}
	if see != nil {
		if words := standingRange(age, sex, vo2max, *see, mode); words != "" {
			told.items = append(told.items, ui.Definition{Term: "With its error", Detail: words})
		}
	}
	return told, err
}

func answerPercentile(t *typed, _ source.Values) (result numbersResult) {
	age, vo2max, see := t.whole("age"), t.number("vo2max"), t.number("see")
	if age == nil {
		t.problems.Add("age", "Type the age in years.")
	}
	if vo2max == nil {
		t.problems.Add("vo2max", "Type the maximal oxygen uptake.")
	}
	if see != nil && (*see <= 0 || *see > 20) {
		t.problems.Add("see", "An error goes from above 0 to 20.")
	}
	sex, mode := fitness.Sex(t.text("sex")), fitness.NormMode(t.text("mode"))
	told, err := standings(or(age, 0), sex, or(vo2max, 0), see, mode)
	if err != nil {
		t.refuse(err, nil)
	}
	if t.problems != nil {
		return result
	}
	result.sentence = told.sentence
	result.items = append(told.items, ui.Definition{Term: "METs", Detail: fitness.ShowMETs(fitness.METs(*vo2max))})
	if see == nil {
		result.notes = append(result.notes, "Without the error of the test this looks surer than it is.")
	}
	result.cites = []source.Key{"kaminsky2022", "acsm_words"}
	return result
}

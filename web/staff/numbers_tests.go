package staff

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"brae/domain/fitness"
	"brae/domain/source"
	"brae/web/ui"
)

var testsCalculator = calculator{
	path: "tests", name: "Tests",
	lead: "Maximal oxygen uptake from tests that need no laboratory, with the error that each has for one person.",
	caution: "A test estimates; it measures nothing. Choose one that is no harder than what the person may do today, and compare " +
		"it only with the same test done again: a change within its error is no change.",
	ask: askTest, answer: answerTest,
}

// testFields are the fields of all tests, in the order in which they are asked.
var testFields = []numbersField{
	whole.as(ui.Field{Name: "age", Label: "Age", Unit: "years"}),
	choice.as(ui.Field{Name: "sex", Label: "Sex", Options: sexes}),
	line.as(ui.Field{Name: "weight_kg", Label: "Weight", Unit: "kg", Hint: "Or with its unit: 150 lb."}),
	line.as(ui.Field{Name: "height_cm", Label: "Height", Unit: "cm"}),
	decimal.as(ui.Field{Name: "bmi", Label: "Body-mass index, instead of weight and height", Unit: "kg/m²"}),
	decimal.as(ui.Field{Name: "fat_percent", Label: "Body fat", Unit: "%"}),
	choice.as(ui.Field{Name: "activity_rating", Label: "Activity in the last month", Options: answerOptions(fitness.ActivityRatings())}),
	choice.as(ui.Field{Name: "activity_level", Label: "Activity", Options: answerOptions(fitness.ActivityLevels())}),
	whole.as(ui.Field{Name: "pace_rating", Label: "The two ratings of pace, together", Hint: "2 to 26."}),
	whole.as(ui.Field{Name: "resting_hr", Label: "Resting heart rate", Unit: "beats a minute"}),
	line.as(ui.Field{Name: "distance_m", Label: "Distance", Unit: "m"}),
	line.as(ui.Field{Name: "minutes", Label: "Time", Unit: "min", Hint: "Minutes and seconds, such as 15:12."}),
	line.as(ui.Field{Name: "speed_m_min", Label: "Speed", Hint: "With its unit: 6 km/h, 3.7 mph or 100 m/min."}),
	decimal.as(ui.Field{Name: "grade", Label: "Grade", Unit: "%"}),
	line.as(ui.Field{Name: "work_kgm_min", Label: "Work rate", Hint: "With its unit: 150 W or 900 kgm/min."}),
	line.as(ui.Field{Name: "step_height_m", Label: "Height of the step", Unit: "cm"}),
	area.as(ui.Field{Name: "stages", Label: "Stages", Rows: 5, Hint: "One a line: full steps a minute, then the heart rate at the end of it. Such as 15 95."}),
	whole.as(ui.Field{Name: "hr", Label: "Heart rate", Unit: "beats a minute"}),
	whole.as(ui.Field{Name: "hr_max", Label: "Maximal heart rate", Unit: "beats a minute"}),
	whole.as(ui.Field{Name: "stands", Label: "Stands", Hint: "0 if the arms helped."}),
	whole.as(ui.Field{Name: "steps", Label: "Steps, counted on one side"}),
	tick.as(ui.Field{Name: "hr_blunted", Label: "A medicine or a device holds the heart rate down", Hint: "A beta-blocker, for example."}),
}

func answerOptions(answers []fitness.Answer) []ui.Option {
	options := []ui.Option{{Label: "Choose"}}
	for _, a := range answers {
		options = append(options, ui.Option{Value: strconv.Itoa(a.Number), Label: a.Says})
	}
	return options
}

// chosenTest is the test of the form, the first one before anybody chose.
func (t *typed) chosenTest() fitness.Test {
	if test, err := fitness.FindTest(fitness.TestID(t.text("test"))); err == nil {
		return test
	}
	return fitness.Tests()[0]
}

func askTest(t *typed) numbersForm {
	test := t.chosenTest()
	var options []ui.Option
	for _, one := range fitness.Tests() {
		options = append(options, ui.Option{Value: string(one.ID), Label: one.Name})
	}
	fields := []numbersField{choice.as(ui.Field{Name: "test", Label: "Test", Value: string(test.ID), Options: options})}
	fields = append(fields, fieldsOf(test)...)
	return numbersForm{chosen: string(test.ID), fields: t.fill(fields...)}
}

// fieldsOf are the fields that a test asks for, with what its protocol says of them.
func fieldsOf(test fitness.Test) []numbersField {
	limits := test.Card().Limits
	var fields []numbersField
	for _, f := range testFields {
		f.Options = slices.Clone(f.Options)
		switch {
		case slices.Contains(test.Needs, f.Name):
		case slices.Contains(test.May, f.Name):
			f.Optional = true
		case slices.Contains(test.May, "bmi") && (f.Name == "weight_kg" || f.Name == "height_cm"):
		case f.Name == "age" || f.Name == "sex":
			f.Optional, f.Hint = true, "For the percentile."
		case f.Name == "hr_blunted" && test.UsesHR:
		default:
			continue
		}
		if hint := limits[f.Name]; hint != "" {
			f.Hint = hint
		}
		fields = append(fields, f)
	}
	return fields
}

func answerTest(t *typed, settings source.Values) (result numbersResult) {
	test := t.chosenTest()
	if id := t.text("test"); id != "" && id != string(test.ID) {
		t.problems.Add("test", "Choose a test from the list.")
	}
	in := t.testInput(test)
	policy := fitness.PolicyFrom(settings)
	both := in.Sex == "" && slices.Contains(test.Needs, "sex")
	if both {
		in.Sex = fitness.Female
	}
	r, err := fitness.Evaluate(in, policy)
	if err != nil {
		t.refuse(err, stageFields(in))
	}
	if t.problems != nil {
		return result
	}
	if both {
		return bothTests(test, in, r, policy)
	}
	result.sentence = testSentence(r)
	result.items = testItems(test, in, r)
	for _, f := range r.Flags {
		result.notes = append(result.notes, f.Says())
	}
	result.about, result.steps = "How it is done", test.Protocol
	result.cites = r.Cites
	if r.Standing != nil {
		result.cites = append(result.cites, "kaminsky2022", "acsm_words")
	}
	return result
}

// bothTests is a test whose equation or norm needs a sex, of somebody whose sex was not
// said: with the result by that of women.
func bothTests(test fitness.Test, in fitness.Input, women fitness.Result, policy fitness.Policy) (result numbersResult) {
	in.Sex = fitness.Male
	men, err := fitness.Evaluate(in, policy)
	if err != nil { // what differs by sex refuses nothing
		result.sentence = "There is no estimate."
		return result
	}
	result.sentence = "The sex was not said: by the figures of women and by those of men"
	result.items = []ui.Definition{{Term: "Women", Detail: testSentence(women)}, {Term: "Men", Detail: testSentence(men)}}
	for _, f := range women.Flags {
		result.notes = append(result.notes, f.Says())
	}
	result.about, result.steps, result.cites = "How it is done", test.Protocol, women.Cites
	return result
}

// testInput reads the fields that the test uses, and no other.
func (t *typed) testInput(test fitness.Test) fitness.Input {
	in := fitness.Input{
		Test: test.ID, Age: t.whole("age"), Sex: fitness.Sex(t.text("sex")),
		HRBlunted: test.UsesHR && t.query.Get("hr_blunted") == "yes",
	}
	bmi := slices.Contains(test.May, "bmi")
	uses := func(name string) bool {
		return slices.Contains(test.Needs, name) || slices.Contains(test.May, name)
	}
	if uses("weight_kg") || bmi {
		in.WeightKg = t.quantity("weight_kg", fitness.Weight, "kg")
	}
	if uses("height_cm") || bmi {
		in.HeightCm = t.quantity("height_cm", fitness.Height, "cm")
	}
	for name, read := range map[string]func(){
		"bmi":             func() { in.BMI = t.number("bmi") },
		"fat_percent":     func() { in.FatPercent = t.number("fat_percent") },
		"activity_rating": func() { in.Rating = t.whole("activity_rating") },
		"activity_level":  func() { in.Level = t.whole("activity_level") },
		"pace_rating":     func() { in.Pace = t.whole("pace_rating") },
		"resting_hr":      func() { in.RestingHR = t.whole("resting_hr") },
		"distance_m":      func() { in.DistanceM = t.quantity("distance_m", fitness.Distance, "m") },
		"minutes":         func() { in.Minutes = t.minutes("minutes") },
		"speed_m_min":     func() { in.SpeedMMin = t.quantity("speed_m_min", fitness.Speed, "") },
		"grade":           func() { in.Grade = t.share("grade") },
		"work_kgm_min":    func() { in.WorkKgmMin = t.quantity("work_kgm_min", fitness.WorkRate, "") },
		"step_height_m":   func() { in.StepHeight = t.metres("step_height_m") },
		"stages":          func() { in.Stages = t.stages("stages") },
		"hr":              func() { in.HR = t.whole("hr") },
		"hr_max":          func() { in.HRMax = t.number("hr_max") },
		"stands":          func() { in.Stands = t.whole("stands") },
		"steps":           func() { in.Steps = t.whole("steps") },
	} {
		if uses(name) {
			read()
		}
	}
	return in
}

// share returns a per cent as a fraction.
func (t *typed) share(name string) *float64 {
	percent := t.number(name)
	if percent == nil {
		return nil
	}
	return new(*percent / 100)
}

// metres returns a height in metres.
func (t *typed) metres(name string) *float64 {
	cm := t.quantity(name, fitness.Height, "cm")
	if cm == nil {
		return nil
	}
	return new(*cm / 100)
}

// stages reads lines of a step rate with a heart rate.
func (t *typed) stages(name string) []fitness.Stage {
	var stages []fitness.Stage
	for text := range strings.Lines(t.text(name)) {
		words := strings.Fields(strings.NewReplacer(",", " ", ";", " ").Replace(text))
		if len(words) == 0 {
			continue
		}
		rate, err := 0, error(nil)
		hr, hrErr := 0, error(nil)
		if len(words) == 2 {
			rate, err = strconv.Atoi(words[0])
			hr, hrErr = strconv.Atoi(words[1])
		}
		if len(words) != 2 || err != nil || hrErr != nil {
			t.problems.Add(name, "Type two whole numbers a line: full steps a minute, and the heart rate.")
			return nil
		}
		stages = append(stages, fitness.Stage{StepsMin: float64(rate), HR: hr})
	}
	return stages
}

// testSentence is the answer of a test.
func testSentence(r fitness.Result) string {
	switch {
	case r.VO2max != nil:
		return fitness.ShowVO2(*r.VO2max) + " ml of oxygen per kg and minute"
	case r.Predicted != nil:
		return fmt.Sprintf("Healthy people of this age, sex and build walk %.0f m.", *r.Predicted)
	case r.Band != "":
		return "By age and sex: " + strings.ReplaceAll(string(r.Band), "_", " ") + "."
	}
	return "There is no estimate."
}

// stageFields leads what is wrong with one stage to the field of all.
func stageFields(in fitness.Input) map[string]string {
	names := map[string]string{}
	for i := range in.Stages {
		names[fmt.Sprintf("stages[%d].steps_min", i)] = "stages"
		names[fmt.Sprintf("stages[%d].hr", i)] = "stages"
	}
	return names
}

func testItems(test fitness.Test, in fitness.Input, r fitness.Result) []ui.Definition {
	var items []ui.Definition
	add := func(term, format string, args ...any) {
		items = append(items, ui.Definition{Term: term, Detail: fmt.Sprintf(format, args...)})
	}
	if r.Predicted != nil {
		add("Expected", "%.0f m, what healthy people of this age, sex and build walk", *r.Predicted)
	}
	if r.Percent != nil {
		add("Of what is expected", "%.0f %%", *r.Percent)
	}
	if r.VO2max != nil {
		if r.Has(fitness.FlagGroupOnly) {
			add("Oxygen uptake", "%s ml per kg and minute, of a group that walks as far", fitness.ShowVO2(*r.VO2max))
		}
		if r.SEE != nil {
			add("Error for one person", "%s either way (one standard error): %s to %s. About one person in three lies farther off.",
				fitness.ShowVO2(*r.SEE), fitness.ShowVO2(*r.VO2max-*r.SEE), fitness.ShowVO2(*r.VO2max+*r.SEE))
		} else {
			add("Error for one person", "None was published.")
		}
	}
	if r.METs != nil {
		add("METs", "%s", fitness.ShowMETs(*r.METs))
	}
	if r.Standing != nil {
		add("Percentile", "%s", standingWords(*r.Standing))
		if r.SEE != nil {
			if words := standingRange(*in.Age, in.Sex, *r.VO2max, *r.SEE, test.Norms); words != "" {
				add("Percentile with its error", "%s", words)
			}
		}
		add("Norms", "%s of 2022, from people of one country who came to be tested", normWords(test.Norms))
	}
	if r.Standing == nil && in.Sex == "" && in.Age != nil && r.VO2max != nil && !r.Has(fitness.FlagGroupOnly) {
		if women, men, err := fitness.PercentilesOf(*in.Age, *r.VO2max, test.Norms); err == nil {
			add("Percentile", "%s", bothWords(women, men))
		}
	}
	if r.Lower != nil {
		add("Lower limit", "%.0f m: 95 of 100 healthy people walk farther.", *r.Lower)
	}
	if r.Norm != nil && r.Norm.High != 0 {
		add("The middle half of people", "%d to %d", r.Norm.Low, r.Norm.High)
	}
	if test.AgeLow != 0 {
		add("Worked out in", "people from %d to %d years", test.AgeLow, test.AgeHigh)
	}
	return items
}

// standingWords is a percentile with its word.
func standingWords(s fitness.Standing) string {
	return fmt.Sprintf("%d: that many of 100 people of the same sex and decade of age have less. In a word: %s.", s.Shown(), wordOf(s))
}

// bothWords are the percentiles of somebody whose sex was not said.
func bothWords(women, men fitness.Standing) string {
	return fmt.Sprintf("%d (%s) by the norms of women and %d (%s) by those of men: that many of 100 people of the same decade of age have less.",
		women.Shown(), wordOf(women), men.Shown(), wordOf(men))
}

// standingRange are the percentiles at both ends of an error; "" where there are none.
func standingRange(age int, sex fitness.Sex, vo2max, see float64, mode fitness.NormMode) string {
	low, lowErr := fitness.PercentileOf(age, sex, vo2max-see, mode)
	high, highErr := fitness.PercentileOf(age, sex, vo2max+see, mode)
	if lowErr != nil || highErr != nil {
		return ""
	}
	return fmt.Sprintf("%d (%s) to %d (%s)", low.Shown(), wordOf(low), high.Shown(), wordOf(high))
}

func normWords(mode fitness.NormMode) string {
	if mode == fitness.Cycle {
		return "Cycle"
	}
	return "Treadmill"
}

func wordOf(s fitness.Standing) string { return strings.ReplaceAll(string(s.Word), "_", " ") }

package main

import (
	"brae/domain"
	"brae/domain/intake"
	"brae/domain/intensity"
	"brae/store"
)

// typed joins what was typed into the intake.
func typed(maps ...map[string]string) map[string]string {
	all := map[string]string{}
	for _, m := range maps {
		for field, text := range m {
			all[field] = text
		}
	}
	return all
}

func yes(codes ...string) map[string]string {
	m := map[string]string{}
	for _, code := range codes {
		m[intake.QuestionField(code)] = "yes"
	}
	return m
}

// active is somebody who has trained regularly for a year, idle who has not.
func active(class intensity.Class) map[string]string {
	return map[string]string{
		intake.FieldDays: "4", intake.FieldMinutes: "40", intake.FieldMonths: "12", intake.FieldActivityClass: class.String(),
	}
}

func idle() map[string]string {
	return map[string]string{intake.FieldDays: "0", intake.FieldMinutes: "0", intake.FieldMonths: "0"}
}

func measured(resting, systolic, diastolic, desired string) map[string]string {
	return map[string]string{
		intake.FieldResting1: resting, intake.FieldPosture: "seated", intake.FieldSystolic: systolic, intake.FieldDiastolic: diastolic,
		intake.FieldMedicines: "", intake.FieldDesired: desired,
	}
}

func takes(medicines string) map[string]string {
	return map[string]string{intake.FieldMedicines: medicines}
}

// steady repeats a week's sessions for as many weeks as there are counts; a count
// of 0 is a week without a log.
func steady(counts [8]int, s ...demoSession) (weeks [8][]demoSession) {
	for i, n := range counts {
		for j := range n {
			one := s[j%len(s)]
			one.day = (j*2 + i) % 7
			weeks[i] = append(weeks[i], one)
		}
	}
	return weeks
}

// demoClients are the invented clients: one for each state that a practice meets.
func demoClients() []demoClient {
	walk := demoSession{activity: "walk_brisk", minutes: 30, talk: intensity.TalkSentences}
	stroll := demoSession{activity: "walk_slow", minutes: 15, talk: intensity.TalkSing}
	bike := demoSession{activity: "bike_easy", minutes: 40, talk: intensity.TalkSentences}
	run := demoSession{activity: "run_8", minutes: 25, talk: intensity.TalkFewWords}
	moderate := func(sessions, minutes, target int) *store.PrescriptionInput {
		return &store.PrescriptionInput{
			Class: intensity.Moderate, SessionsPerWeek: sessions, MinutesPerSession: minutes, TargetMinutes: target,
			Activities: "Brisk walking, or cycling on the flat",
		}
	}
	light := &store.PrescriptionInput{
		Class: intensity.Light, SessionsPerWeek: 4, MinutesPerSession: 15, TargetMinutes: 60, TargetLight: true,
		Activities: "Easy walking", Note: "Go out after lunch. Ten minutes are a good start.",
	}
	vigorous := &store.PrescriptionInput{
		Class: intensity.Vigorous, SessionsPerWeek: 4, MinutesPerSession: 30, TargetMinutes: 200,
		Activities: "Running, and one longer easy ride",
	}
	return []demoClient{
		{
			given: "Jon", family: "Ashby", birth: "1968-03-14", sex: domain.Male, signIn: "jon",
			answers:    typed(active(intensity.Moderate), measured("64", "132", "82", "moderate"), yes("diabetes_type_2"), takes("metformin 500 mg")),
			prescribed: moderate(5, 30, 150), weekly: steady([8]int{3, 4, 4, 5, 5, 4, 5, 3}, walk, walk, bike),
		},
		{
			given: "Tilda", family: "Brook", birth: "1981-07-02", sex: domain.Female,
			answers:    typed(idle(), measured("72", "124", "78", "moderate")),
			prescribed: light, weekly: steady([8]int{2, 3, 3, 4, 4, 4, 3, 2}, stroll),
		},
		{
			given: "Omar", family: "Castell", birth: "1990-11-23", sex: domain.Male,
			answers:    typed(active(intensity.Vigorous), measured("56", "118", "72", "vigorous")),
			prescribed: vigorous, weekly: steady([8]int{3, 3, 4, 3, 4, 4, 3, 3}, run, bike, run),
		},
		{
			given: "Greta", family: "Dunmore", birth: "1957-01-30", sex: domain.Female,
			answers: typed(idle(), measured("68", "138", "84", "moderate"), yes("heart_attack", "stent"), takes("bisoprolol 2.5 mg\naspirin 100 mg\natorvastatin 40 mg")),
		},
		{
			given: "Wim", family: "Eastgate", birth: "1973-09-09", sex: domain.Male,
			answers:    typed(active(intensity.Moderate), measured("60", "128", "80", "moderate"), takes("amlodipine 5 mg"), yes("hypertension")),
			prescribed: moderate(4, 35, 150), weekly: steady([8]int{4, 4, 3, 2, 1, 1, 0, 0}, walk, bike),
		},
		{
			given: "Paula", family: "Fenwick", birth: "1964-05-17", sex: domain.Female,
			answers:    typed(idle(), measured("74", "130", "80", "light")),
			prescribed: light, weekly: steady([8]int{1, 2, 2, 3, 4, 4, 5, 4}, stroll, stroll, walk),
		},
		{
			given: "Noor", family: "Garrick", birth: "1988-12-01", sex: domain.Female,
			answers: typed(active(intensity.Moderate), measured("62", "122", "76", "moderate"), yes("chest_pressure")),
		},
		{
			given: "Emil", family: "Holt", birth: "1951-08-26",
			answers:    typed(active(intensity.Moderate), measured("58", "134", "78", "moderate"), takes("metoprolol 47.5 mg"), yes("hypertension")),
			prescribed: moderate(5, 25, 120), weekly: steady([8]int{5, 4, 5, 5, 4, 5, 5, 4}, walk),
		},
		{
			given: "Sanne", family: "Inglis", birth: "1995-02-11", sex: domain.Female,
			answers:    typed(idle(), measured("70", "116", "70", "moderate")),
			prescribed: moderate(3, 20, 90), weekly: steady([8]int{2, 3, 3, 3, 3, 3, 3, 1}, bike, walk),
		},
		{
			given: "Leo", family: "Jarrow", birth: "1979-10-05",
			answers: map[string]string{"unfinished": "yes", intake.FieldDays: "1", intake.FieldMinutes: "20"},
		},
	}
}

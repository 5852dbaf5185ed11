package main

import (
	"brae/domain/clearance"
	"brae/domain/intensity"
	"brae/domain/plan"
	"brae/domain/prescription"
	"brae/store"
)

// demoWalkers are the invented clients with months of history: one for each way that
// it can go.
func demoWalkers() []demoWalker {
	// beginner starts with light walks, walker with moderate ones.
	beginner := func(given, family, birth string, weeks int, p person, more ...map[string]string) demoWalker {
		return demoWalker{
			demoClient: demoClient{
				given: given, family: family, birth: birth,
				answers: typed(append([]map[string]string{idle(), measured("70", "126", "78", "moderate")}, more...)...),
				prescribed: &store.PrescriptionInput{
					Class: intensity.Light, SessionsPerWeek: 3, MinutesPerSession: 15, TargetMinutes: 45, TargetLight: true, Activities: "Walking",
				},
			},
			person: p, weeks: weeks, goal: 150, start: plan.Start{Class: intensity.Light, Sessions: 3, Minutes: 15},
		}
	}
	walker := func(given, family, birth string, weeks int, p person, more ...map[string]string) demoWalker {
		w := beginner(given, family, birth, weeks, p, append([]map[string]string{active(intensity.Moderate), measured("64", "128", "80", "moderate")}, more...)...)
		w.prescribed = &store.PrescriptionInput{
			Class: intensity.Moderate, SessionsPerWeek: 4, MinutesPerSession: 25, TargetMinutes: 100, Activities: "Brisk walking",
		}
		w.start = plan.Start{Class: intensity.Moderate, Sessions: 4, Minutes: 25}
		return w
	}

	keen := beginner("Ruben", "Kestrel", "1970-04-12", 14, person{keeps: .97, gains: .8, can: 26})
	keen.vitals = [][3]int{{138, 86, 74}, {132, 84, 70}, {128, 80, 66}}

	often := beginner("Ilse", "Larkin", "1962-09-30", 12, person{keeps: .8, gains: .5, can: 22})

	// What she can do does not grow: kept low, and flagged.
	flat := beginner("Tessa", "Merrow", "1958-02-17", 16, person{keeps: .97, gains: 0, can: 12})

	// Three weeks of silence, then lower and up again.
	silent := beginner("Yara", "Norwood", "1984-06-05", 24, person{keeps: .95, gains: .7, can: 24})
	silent.silent = [2]int{19, 21}

	holiday := beginner("Anton", "Oakham", "1966-11-02", 17, person{keeps: .93, gains: .7, can: 24})
	holiday.pause, holiday.kind, holiday.reason = [2]int{15, 17}, "holiday", "By the sea"

	// After a heart attack, cleared up to moderate work with a heart-rate limit.
	heart := beginner("Hannes", "Pellworm", "1957-08-19", 14, person{keeps: .95, gains: .6, can: 20},
		yes("heart_attack", "stent"), takes("bisoprolol 2.5 mg\naspirin 100 mg\natorvastatin 40 mg"))
	heart.cleared = &store.ClearanceInput{Release: true}
	heart.cleared.DecidedBy = clearance.Clinician{
		Name: "Dr Edda Lund", Profession: clearance.Physician, Registration: "R 1177", Organisation: "Harbour Surgery", Contact: "030 555 0177",
	}
	heart.cleared.Channel, heart.cleared.Outcome, heart.cleared.Ceiling = clearance.Letter, clearance.ClearedWithLimits, intensity.Moderate
	heart.cleared.Considered, heart.cleared.Limits.HeartRate = []string{"heart_attack", "stent"}, 110
	heart.vitals = [][3]int{{134, 78, 58}, {128, 76, 56}, {124, 74, 56}, {122, 74, 54}}

	// A hot fortnight: what was right is too hard now.
	hot := walker("Mette", "Quarrie", "1969-03-23", 15, person{keeps: .95, gains: .5, can: 30})
	hot.harder = [2]float64{14, 7}

	// At the goal and content with it: each further step is declined, or left.
	content := walker("Piet", "Rosvik", "1960-12-11", 22, person{keeps: .98, gains: .6, can: 40}, yes("hypertension"), takes("amlodipine 5 mg"))
	content.steps = func(week int) int {
		switch {
		case week < 12:
			return 1
		case week == 14:
			return -1
		}
		return 0
	}
	content.word = "Content as it is until the harvest is in."

	// The heart runs ahead of what it feels like.
	drift := walker("Signe", "Stellmark", "1975-05-28", 16, person{keeps: .95, gains: .5, can: 34})
	drift.prescribed.Method = prescription.Reserve
	drift.pulse = [2]int{15, 150}
	drift.vitals = [][3]int{{124, 76, 64}, {126, 78, 72}}

	slack := beginner("Bruno", "Tarbert", "1979-01-09", 15, person{keeps: .5, gains: .5, can: 22})

	// Half a year: to the goal and on to the first vigorous minutes.
	long := walker("Lena", "Ulfsby", "1982-07-14", 26, person{keeps: .96, gains: .8, can: 38}, measured("62", "122", "76", "vigorous"))
	long.vitals = [][3]int{{126, 80, 66}, {122, 78, 62}, {118, 76, 58}}

	ill := beginner("Osk", "Varland", "1964-10-03", 13, person{keeps: .92, gains: .6, can: 22})
	ill.pause, ill.kind, ill.reason = [2]int{10, 11}, "illness", "Flu"

	return []demoWalker{keen, often, flat, silent, holiday, heart, hot, content, drift, slack, long, ill}
}

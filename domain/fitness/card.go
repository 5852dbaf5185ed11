package fitness

// Card is the protocol of a test as it lies beside somebody who does it.
type Card struct {
	For       string            // what the test tells
	Valid     string            // for whom and when
	Equipment []string          //
	Stop      []string          // when to end it at once
	Write     []string          // what to write down
	Limits    map[string]string // of single keys of [Input], in words
	Rest      bool              // heart rate and blood pressure at rest are taken before
	Walk      bool              // saturation, breathlessness and fatigue are taken before and after
	Timer     Timer             //
}

// Timer is what a clock does during a test: it counts up until it is stopped and
// gives the minutes, or it runs through phases. The zero Timer is no clock.
type Timer struct {
	CountsUp bool
	Phases   []Phase
}

// Phase is a stretch of a test, with what is said when it begins.
type Phase struct {
	Seconds int    `json:"seconds"`
	Says    string `json:"says"`
}

// Timed reports whether there is something to time.
func (t Timer) Timed() bool { return t.CountsUp || len(t.Phases) > 0 }

// stopSigns end every test with effort.
//
// Source: acsm_test_stop.
var stopSigns = []string{
	"Pain, pressure or tightness in the chest, arm, neck or jaw.",
	"Breathlessness out of proportion, wheezing, dizziness or near-fainting.",
	"An unsteady gait, confusion, pale or cold damp skin, blue lips.",
	"Cramp or pain in the legs that changes how the person moves.",
	"The person wants to stop, or a reading cannot be trusted any more.",
}

// courses and clocks that several tests share.
var (
	mileCourse = []string{"A flat course of one mile (1609 m), measured: a 400 m track takes four laps and 9 m.", "A stopwatch.", "A chest strap, or a pulse count."}
	walkCourse = []string{"A flat, straight corridor of 30 m with marks and two cones.", "A stopwatch and a lap counter.", "A chair that can be moved, blood pressure cuff, pulse oximeter, an exertion scale."}
	step       = []string{"A step that does not move, with something to hold near by.", "A metronome, one beat a foot.", "A stopwatch."}
	questions  = []string{"Scales and a height rod."}

	stopwatch = Timer{CountsUp: true}
	sixClock  = Timer{Phases: []Phase{
		{60, "Walk. Minute 1."}, {60, "Minute 2 begins, five minutes to go."}, {60, "Minute 3 begins, four minutes to go."},
		{60, "Minute 4 begins, three minutes to go."}, {60, "Minute 5 begins, two minutes to go."}, {60, "Minute 6 begins, one minute to go."},
	}}
)

// cards has the protocol cards. Each test with effort ends at the stop signs.
//
// Source: kline1987, keller2002, ebbeling1991, kokkinos2017, holland2014, ats2002,
// george1993, cooper1968, mcardle1972, golding2000, sykes2004, rikli1999,
// jackson1990, bradshaw2005, jurca2005, acsm_test_stop.
var cards = map[TestID]Card{
	RockportWalk: {
		For:       "Fitness of somebody who can walk a mile briskly, from time and heart rate.",
		Valid:     "Worked out from 30 to 69 years; it reads low below 30. Not with a medicine or a device that holds the heart rate down.",
		Equipment: mileCourse, Write: []string{"Time to the second.", "Heart rate at the finish, in beats a minute.", "Weight on the day."},
		Limits: map[string]string{"minutes": "Minutes and seconds, such as 15:12.", "hr": "Over the last quarter or at once at the finish. A count of 10 seconds times 6."},
		Rest:   true, Timer: stopwatch,
	},
	RockportWalkLitres: {
		For:       "The one-mile walk by the equation in litres a minute, to compare with results worked out that way.",
		Valid:     "Worked out from 30 to 69 years. Not with a medicine or a device that holds the heart rate down.",
		Equipment: mileCourse, Write: []string{"Time to the second.", "Heart rate at the finish, in beats a minute.", "Weight on the day."},
		Limits: map[string]string{"minutes": "Minutes and seconds, such as 15:12.", "hr": "Over the last quarter or at once at the finish. A count of 10 seconds times 6."},
		Rest:   true, Timer: stopwatch,
	},
	SingleStageWalk: {
		For:       "Fitness from one brisk walk on a treadmill, where there is no course.",
		Valid:     "Worked out from 20 to 59 years. Not with a medicine or a device that holds the heart rate down.",
		Equipment: []string{"A treadmill that can be set to 5 per cent.", "A chest strap."}, Write: []string{"Speed.", "Heart rate in the last 15 seconds at 5 per cent."},
		Limits: map[string]string{"speed_m_min": "3.2 to 7.2 km/h (2.0 to 4.5 mph), with its unit.", "hr": "In the last 15 seconds of the second stage, aiming at 50 to 70 per cent of the maximum."},
		Rest:   true, Timer: Timer{Phases: []Phase{{240, "Walk on the level."}, {240, "Set the grade to 5 per cent."}}},
	},
	TreadmillPeak: {
		For:       "Fitness from the last load kept up in a graded test to the person's own limit.",
		Valid:     "For people who train at moderate intensity and are free of holds. Right only if they gave everything; no error was published.",
		Equipment: []string{"A treadmill with an emergency stop, and somebody beside it.", "A chest strap or an ECG, a blood pressure cuff."},
		Write:     []string{"The last speed and grade kept up.", "The highest heart rate, and why the test ended."},
		Limits:    map[string]string{"speed_m_min": "The last one kept up, with its unit: 8 km/h.", "grade": "In per cent, 0 for level."},
		Rest:      true,
	},
	CyclePeak: {
		For:       "Fitness from the last load kept up in a graded test on a cycle.",
		Valid:     "For people who train at moderate intensity and are free of holds. A cycle gives 10 to 20 per cent less than a treadmill; no error was published.",
		Equipment: []string{"A cycle whose work rate is known.", "A chest strap or an ECG, a blood pressure cuff."},
		Write:     []string{"The last work rate kept up.", "The highest heart rate, and why the test ended.", "Weight on the day."},
		Limits:    map[string]string{"work_kgm_min": "The last one kept up, with its unit: 150 W."},
		Rest:      true,
	},
	SixMinuteWalk: {
		For:       "How far somebody walks in six minutes against healthy people of the same build.",
		Valid:     "Worked out from 40 to 80 years. Not within a month of unstable angina or a heart attack; with caution above 120 beats, 180 or 100 mmHg at rest. Compare only walks on the same course.",
		Equipment: walkCourse, Write: []string{"Distance to the metre: laps and the rest.", "Heart rate, saturation, breathlessness and fatigue before and after.", "Length of the course, walking aid, oxygen."},
		Limits: map[string]string{"distance_m": "1200 m at most."}, Rest: true, Walk: true, Timer: sixClock,
	},
	SixMinuteWalkBMI: {
		For:       "The six-minute walk against a Brazilian sample, by age, sex and body-mass index.",
		Valid:     "The range of ages was not read. Not within a month of unstable angina or a heart attack. Compare only walks on the same course.",
		Equipment: walkCourse, Write: []string{"Distance to the metre: laps and the rest.", "Heart rate, saturation, breathlessness and fatigue before and after.", "Length of the course, walking aid, oxygen."},
		Limits: map[string]string{"distance_m": "1200 m at most."}, Rest: true, Walk: true, Timer: sixClock,
	},
	Run15Mile: {
		For:       "Fitness of somebody who runs, from an all-out run of 1.5 miles.",
		Valid:     "For people who train at moderate intensity and are free of holds. Right only if they gave everything; no error was published.",
		Equipment: []string{"A flat course of 1.5 miles (2414 m), measured.", "A stopwatch."}, Write: []string{"Time to the second."},
		Limits: map[string]string{"minutes": "Minutes and seconds, such as 12:45."}, Rest: true, Timer: stopwatch,
	},
	Run15MileCollege: {
		For:       "The same run by an equation that knows weight and sex.",
		Valid:     "Worked out in students of 18 to 29 years. Right only if they gave everything.",
		Equipment: []string{"A flat course of 1.5 miles (2414 m), measured.", "A stopwatch."}, Write: []string{"Time to the second.", "Weight on the day."},
		Limits: map[string]string{"minutes": "Minutes and seconds, such as 12:45."}, Rest: true, Timer: stopwatch,
	},
	Cooper12Min: {
		For:       "Fitness of somebody who runs, from the distance of an all-out run of 12 minutes.",
		Valid:     "For people who train at moderate intensity and are free of holds. It reads low below 1600 m: no test for walkers.",
		Equipment: []string{"A track or a flat course with marks.", "A stopwatch."}, Write: []string{"Distance to 10 m."},
		Limits: map[string]string{"distance_m": "Above 1600 m, or the result reads low."}, Rest: true,
		Timer: Timer{Phases: []Phase{{360, "Run."}, {300, "Half the time is over."}, {60, "One minute to go."}}},
	},
	Jog1Mile: {
		For:       "Fitness of a fit young adult, from an easy jog.",
		Valid:     "18 to 29 years only. Not with a medicine or a device that holds the heart rate down.",
		Equipment: mileCourse, Write: []string{"Time to the second.", "Heart rate at once at the finish.", "Weight on the day."},
		Limits: map[string]string{"minutes": "Men 8:00 or more, women 9:00 or more.", "hr": "At once at the finish; 180 at most."}, Rest: true, Timer: stopwatch,
	},
	Jog1MileTeen: {
		For:       "The same jog by the equation for young people.",
		Valid:     "13 to 17 years only. Not with a medicine or a device that holds the heart rate down.",
		Equipment: mileCourse, Write: []string{"Time to the second.", "Heart rate at once at the finish.", "Weight on the day."},
		Limits: map[string]string{"minutes": "Men 8:00 or more, women 9:00 or more.", "hr": "At once at the finish; 180 at most."}, Rest: true, Timer: stopwatch,
	},
	QueensStep: {
		For:       "Fitness from the pulse after three minutes on a high step.",
		Valid:     "Worked out in students, and less sure in anybody else. The step is high: not with knee or balance trouble.",
		Equipment: step, Write: []string{"The pulse from second 5 to second 20, times 4."},
		Limits: map[string]string{"hr": "The count of 15 seconds times 4."}, Rest: true,
		Timer: Timer{Phases: []Phase{{180, "Step."}, {5, "Stop, stay standing, find the pulse."}, {15, "Count the pulse."}}},
	},
	ThreeMinuteStep: {
		For:       "How fast the heart settles after three minutes on a low step, by age and sex. It gives no oxygen uptake.",
		Valid:     "Norms from 18 years. Not with a medicine or a device that holds the heart rate down.",
		Equipment: step, Write: []string{"The pulse of one full minute, begun within 5 seconds."},
		Limits: map[string]string{"hr": "The count of the full minute after stepping, not multiplied."}, Rest: true,
		Timer: Timer{Phases: []Phase{{180, "Step."}, {5, "Sit down and find the pulse."}, {60, "Count the pulse for a full minute."}}},
	},
	StagedStep: {
		For:       "Fitness from stages on a step, by a line through heart rate and work.",
		Valid:     "Worked out from 18 to 52 years, two stages above 110 beats or more. Only as good as the maximal heart rate it is read at.",
		Equipment: step, Write: []string{"Height of the step.", "Heart rate at the end of each stage."},
		Limits: map[string]string{"stages": "One a line: full steps a minute, then the heart rate at its end. Such as 15 95.", "hr_max": "Measured if it is known. A predicted one is off by 11 beats."}, Rest: true,
		Timer: Timer{Phases: []Phase{
			{120, "Stage 1: 15 steps a minute."}, {120, "Stage 2: 20 a minute. Note the heart rate."}, {120, "Stage 3: 25 a minute. Note the heart rate."},
			{120, "Stage 4: 30 a minute. Note the heart rate."}, {120, "Stage 5: 35 a minute. Note the heart rate."},
		}},
	},
	ChairStand: {
		For:       "Strength of the legs for daily life, by age and sex.",
		Valid:     "Norms from 60 to 94 years; a change counts from 3 stands.",
		Equipment: []string{"A chair without arms, seat at 43 to 44 cm, against a wall.", "A stopwatch."}, Write: []string{"Full stands in 30 seconds; 0 if the arms helped."},
		Limits: map[string]string{"stands": "0 if the arms helped."}, Timer: Timer{Phases: []Phase{{30, "Stand up and sit down."}}},
	},
	TwoMinuteStep: {
		For:       "Endurance where there is no room to walk, by age and sex.",
		Valid:     "Norms from 60 to 94 years. No published error: a change cannot be told from chance.",
		Equipment: []string{"A wall to mark the height of the knee on, and to hold.", "A stopwatch and a counter."}, Write: []string{"How often the right knee reached the mark."},
		Limits: map[string]string{"steps": "The right knee only."}, Timer: Timer{Phases: []Phase{{60, "Step on the spot."}, {60, "One minute to go."}}},
	},
	NonExercise: {
		For:       "A rough idea of fitness without any effort, from build and activity.",
		Valid:     "Least sure above 70 years, above a body-mass index of 35 and in the very unfit.",
		Equipment: questions, Write: []string{"Weight, height, and the answer on activity."},
	},
	NonExerciseFat: {
		For:       "The same from body fat instead of the body-mass index.",
		Valid:     "As good as the measurement of body fat.",
		Equipment: []string{"A way to measure body fat."}, Write: []string{"Body fat, how it was measured, and the answer on activity."},
	},
	NonExercisePace: {
		For:       "The same with two ratings of the pace that feels right.",
		Valid:     "Worked out from 18 to 65 years in 100 people.",
		Equipment: questions, Write: []string{"Weight, height, the answer on activity and the two ratings added up."},
		Limits: map[string]string{"pace_rating": "The two ratings added up, 2 to 26."},
	},
	NonExerciseResting: {
		For:       "The same with the resting heart rate.",
		Valid:     "Worked out from 20 to 70 years. Not with a medicine or a device that holds the heart rate down.",
		Equipment: questions, Write: []string{"Weight, height, resting heart rate and the answer on activity."},
	},
}

// Card returns the protocol card of the test.
//
// Source: acsm_test_stop, holland2014, ats2002.
func (t Test) Card() Card {
	c := cards[t.ID]
	if t.Effort > 0 {
		c.Stop = append([]string{}, stopSigns...)
	}
	if c.Walk {
		c.Stop = append(c.Stop, "A saturation below 80 per cent.")
	}
	return c
}

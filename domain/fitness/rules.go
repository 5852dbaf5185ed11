package fitness

import "brae/domain/source"

func rule(id, says string, cites ...source.Key) source.Rule {
	return source.Rule{ID: "fitness." + id, Topic: source.TopicFitness, Says: says, Cites: cites}
}

// Rules are the rules of this package, for the Sources page.
var Rules = []source.Rule{
	rule("energy.walk", "Oxygen uptake of walking in ml per kg and minute: 3.5 + 0.1 x speed + 1.8 x speed x grade, in m/min, from 50 to 100 m/min; faster only if the person really walks.", "bushman2020", "acsm_equations", "acsm_ranges"),
	rule("energy.run", "Oxygen uptake of running: 3.5 + 0.2 x speed + 0.9 x speed x grade, from 134 m/min; down to 80 only if the person really jogs. Walking and running are asked for, never inferred.", "bushman2020", "acsm_equations", "acsm_ranges"),
	rule("energy.leg_cycle", "Oxygen uptake of cycling: 7 + 1.8 x work / weight, in kgm/min and kg, from 300 to 1200 kgm/min.", "bushman2020", "acsm_equations", "acsm_ranges"),
	rule("energy.arm_cycle", "Oxygen uptake of arm cycling: 3.5 + 3 x work / weight, from 150 to 750 kgm/min.", "acsm_equations", "acsm_ranges"),
	rule("energy.step", "Oxygen uptake of stepping: 3.5 + 0.2 x rate + 1.33 x 1.8 x height x rate, in full cycles a minute and m, from 12 to 30 cycles and 0.04 to 0.40 m.", "acsm_equations", "acsm_ranges"),
	rule("energy.conditions", "The equations are for steady work without holding on; people differ by about 7 per cent at the same work.", "acsm_conditions"),
	rule("energy.units", "A mile an hour is 26.8 m/min, a watt 6.12 kgm/min, one MET 3.5 ml per kg and minute, a litre of oxygen 5 kcal; cycles run 6 m and arm cranks 2.4 m a turn.", "bushman2020", "acsm_equations", "acsm_conditions", "common_practice"),
	rule("energy.peak", "Oxygen uptake at the end of a test to the limit: speed x (0.17 + 0.79 x grade) + 3.5 on a treadmill, 1.74 x work / weight + 3.5 on a cycle.", "kokkinos2017", "friend_cycle_equation"),
	rule("energy.heart_rate", "Energy from the heart rate, in kJ a minute, for 18 to 45 years and 47 to 120 kg, and never where a medicine holds the heart rate down: men -55.0969 + 0.6309 x heart rate + 0.1988 x kg + 0.2017 x age, women -20.4022 + 0.4472 x heart rate - 0.1263 x kg + 0.0740 x age.", "keytel2005", "keytel2005_sample"),
	rule("energy.heart_rate_vo2max", "With the maximal oxygen uptake known: men -95.7735 + 0.634 x heart rate + 0.404 x uptake + 0.394 x kg + 0.271 x age, women -59.3954 + 0.450 x heart rate + 0.380 x uptake + 0.103 x kg + 0.274 x age.", "keytel2005_vo2max", "keytel2005_sample"),

	rule("test.blunted", "Where a medicine or a device holds the heart rate down, no test that reads it gives an estimate; the readings are kept.", "practice"),
	rule("test.effort", "A test is offered only up to the ceiling of the day; an all-out test also waits until the person trains at moderate intensity and the gate before vigorous work is open, and is done only where the practice does such tests.", "practice"),
	rule("test.ready", "No test under a hold that covers its effort, without a screening that counts, with readings at rest that rule exercise out, or within a month of unstable angina or a heart attack. A ceiling of vigorous leaves room for an all-out test only while the gate before vigorous work is open.", "practice", "acsm_test_stop", "ats2002"),
	rule("test.stop", "A test ends at once for chest pain, breathlessness out of proportion, faintness, an unsteady gait, pallor, cramp, a person who asks, or a device that fails.", "acsm_test_stop", "ats2002"),
	rule("test.peak", "The highest heart rate of a test on a treadmill or a cycle that went to the person's own limit is offered as the measured maximum, with its conditions. It counts only once somebody has entered it in the intake.", "practice"),
	rule("test.best_of_day", "Of two results of one test on a day the better one counts.", "common_practice", "holland2014", "kline1987"),
	rule("test.retest", "A client's last test is due again after the weeks that the practice has set.", "practice"),
	rule("workload", "Work for a class: the oxygen uptake at the edges of the class, in per cent of the oxygen uptake reserve, put into the equation of the work the other way round, and cut to the work that the equation was made for.", "garber2011", "acsm_equations", "acsm_ranges", "acsm_conditions"),
	rule("workload.start", "To begin with, the lower edge of the class as if the maximum were lower by its standard error and the work took 7 per cent more: lower than the range, and checked by the talk test.", "practice", "acsm_conditions", "cdc_talk"),
	rule("test.rockport", "One-mile walk, 30 to 69 years: 132.853 - 0.0769 x lb - 0.3877 x age + 6.315 (men) - 3.2649 x minutes - 0.1565 x heart rate, error 5.0; in litres 6.9652 + 0.0091 x lb - 0.0257 x age + 0.5955 (men) - 0.2240 x minutes - 0.0115 x heart rate, error 0.355. It reads low below 30 years.", "kline1987", "kline1987_relative", "keller2002"),
	rule("test.run_1_5_mile", "1.5-mile run: 3.5 + 483 / minutes. In students 88.02 - 0.1656 x kg - 2.76 x minutes + 3.716 (men), error 3.9.", "acsm_run", "george1993", "george1993_run"),
	rule("test.cooper", "Twelve-minute run: (metres - 504.9) / 44.73; it reads low below 1600 m.", "cooper1968"),
	rule("test.jog", "One-mile jog, 18 to 29 years, no faster than 8 minutes (women 9), heart rate at most 180: 100.5 + 8.344 (men) - 0.1636 x kg - 1.438 x minutes - 0.1928 x heart rate, error 3.1. At 13 to 17 years 92.91 + 6.50 (men) - 0.141 x kg - 1.562 x minutes - 0.125 x heart rate, error 3.26.", "george1993", "hunt2000"),
	rule("test.single_stage", "Treadmill walk at one speed from 2.0 to 4.5 mph, 20 to 59 years: 15.1 + 21.8 x mph - 0.327 x heart rate - 0.263 x mph x age + 0.00504 x heart rate x age + 5.98 (men), error 4.85.", "ebbeling1991"),
	rule("test.queens_step", "Three minutes on a step of 41.3 cm, worked out in students: men 111.33 - 0.42 x heart rate, women 65.81 - 0.1847 x heart rate, error 2.9 in women.", "mcardle1972"),
	rule("test.three_minute_step", "Three minutes on a step of 30.5 cm: the pulse of the minute after, in seven bands by age and sex. A count between two bands gets the worse one.", "golding2000", "golding2000_rows"),
	rule("test.staged_step", "Step test in stages, 18 to 52 years: the oxygen uptake of each stage by the equation of stepping, a line of least squares through two stages or more, read at the maximal heart rate; error 3.9.", "sykes2004", "acsm_equations"),
	rule("test.non_exercise", "Without exercise: 56.363 + 1.921 x activity - 0.381 x age - 0.754 x body-mass index + 10.987 (men), error 5.70; 50.513 + 1.589 x activity - 0.289 x age - 0.552 x per cent of fat + 5.863 (men), error 5.35.", "jackson1990"),
	rule("test.non_exercise_pace", "Without exercise, 18 to 65 years: 48.073 + 6.1779 (men) - 0.2463 x age - 0.6186 x body-mass index + 0.7115 x pace + 0.6709 x activity, error 3.45.", "bradshaw2005"),
	rule("test.non_exercise_resting_hr", "Without exercise, 20 to 70 years, in METs: 18.07 + 2.77 (men) - 0.10 x age - 0.17 x body-mass index - 0.03 x resting heart rate + 0, 0.32, 1.06, 1.76 or 3.03 for the level of activity, error 1.45.", "jurca2005"),
	rule("test.nes_left_out", "The Norwegian equation without exercise is not used: its sources disagree on how its three answers on activity are combined.", "nes2011"),
	rule("test.chair_stand", "Chair stands in 30 seconds, 60 to 94 years: the middle half of people by age and sex; fewer is below average, fewer than 8 goes with low function.", "rikli1999", "steadi"),
	rule("test.step_2_min", "Steps on the spot in 2 minutes, 60 to 94 years: the middle half of people by age and sex, and the count of those who stay independent.", "rikli1999", "rikli2013"),
	rule("test.limits", "Readings that only a slip of typing gives are refused, as are readings that the chosen test has no use for.", "practice"),

	rule("walk.reference", "Six-minute walk, 40 to 80 years: men 7.57 x cm - 5.02 x age - 1.76 x kg - 309 m, women 2.11 x cm - 2.29 x kg - 5.78 x age + 667 m.", "enright1998"),
	rule("walk.lower_limit", "The lower limit of the six-minute walk is 153 m below that for men and 139 m for women.", "enright1998_limits"),
	rule("walk.reference_bmi", "The other reference: 890.46 - 6.11 x age + 0.0345 x age x age + 48.87 (men) - 4.87 x body-mass index.", "britto2013"),
	rule("walk.group", "The peak oxygen uptake of a group is 4.948 + 0.023 x metres of the six-minute walk; for one person, by 4.682 + 0.025 x metres, it is 3.82 off.", "ross2010"),
	rule("walk.protocol", "Two walks on the same flat course of 30 m, the longer one counts. Not within a month of unstable angina or a heart attack; with caution above 120 bpm, 180 or 100 mmHg at rest.", "holland2014", "ats2002"),

	rule("hr_drop", "A fall of the heart rate of 12 beats or fewer in the first minute after an all-out test, of 42 or fewer in 2 minutes after a submaximal one, or of 18 or fewer in a minute lying down is discussed with a doctor.", "cole1999", "cole2000", "watanabe2001"),

	rule("norms", "Percentiles of the maximal oxygen uptake by sex, decade of age and treadmill or cycle, with a straight line between the rows; below the lowest row 0.1, above the highest 99.9; none outside 20 to 89 years.", "kaminsky2022"),
	rule("norms.first", "The first editions, to read results that were reported by them, from 20 to 79 years.", "kaminsky2015", "kaminsky2017"),
	rule("norms.words", "Superior from the 95th percentile, excellent from 80, good from 60, fair from 40, poor from 20, very poor below. Below 20 fitness is low.", "acsm_words"),
	rule("norms.mile", "Without an estimate, who cannot run a mile in 12 minutes (30.3 ml per kg and minute, 8.7 METs) is of low fitness.", "common_practice", "berry2011", "bushman2020"),
	rule("norms.threshold", "With a maximal oxygen uptake above 40, training below 45 per cent of the reserve did nothing; at 40 or less the lowest that was tried, 30 per cent, still worked.", "swain2002"),

	rule("change.vo2max", "A change of the maximal oxygen uptake below one MET is within the error, above 7 ml per kg and minute it is clear, between them probable; only between two results of the same test.", "practice", "katch1982", "vickers_sem", "edgett2018"),
	rule("change.walk", "A change of the six-minute walk below 20 m is none, from 50 m it is large; of gait speed 0.05 and 0.10 m/s. Only on the same course.", "perera2006", "holland2014", "bohannon2017"),
	rule("change.walk_groups", "The smallest change of the six-minute walk that matters was put at 14.0 to 30.5 m across groups of adult patients, 17.8 m in frail older people, 20 to 30 m after respiratory failure, about 36 m in chronic heart failure and 30 m in chronic lung disease. For reading only.", "bohannon2017", "frail_walk2013", "failure_walk2015", "heart_walk2014", "ats2002"),
	rule("change.chair_stand", "A change of 3 chair stands or more is real.", "gill2022"),
	rule("change.heart_rate", "A change of the resting heart rate, as a mean of seven mornings, counts from 5 beats; at the same work from 8.", "practice", "wilmore1996", "wilmore2001", "huang2005_hr", "marschall2014"),
	rule("gains", "What training gave to groups: 13 per cent in inactive adults, 16 per cent above 60 years, 16 to 18 per cent in 20 weeks; 20 to 40 of 100 people stay within the error.", "qiu2010", "huang2005", "wilmore1996", "wilmore2001", "msse2017"),
	rule("gains.beginner", "A beginner's goal for 12 weeks is any one of 10 per cent more oxygen uptake, 8 beats less at the standard walk, 30 m more in six minutes.", "practice"),
}

package fitness

// The twelve-minute mile: the oxygen uptake of running a mile in 12 minutes, 134
// m/min, which is 3.5 + 0.2 x 134 = 30.3 ml per kg and minute or 8.7 METs. Who
// cannot do it is taken for unfit, which is right for men below 50; it is the 53rd
// percentile of men in their fifties and the 86th of women in theirs, so the
// percentile goes first wherever there is one.
//
// Source: bushman2020, berry2011, common_practice.
const (
	TwelveMinuteMile    = 12.0 // minutes
	TwelveMinuteMileVO2 = RestingVO2 + 0.2*MetresPerMph*60/TwelveMinuteMile
)

// LowPercentile is the percentile below which fitness is low.
//
// Source: acsm_words.
const LowPercentile = 20.0

// Answered is what is known when somebody starts. A nil field is not known.
type Answered struct {
	VO2max      *float64  // ml per kg and minute, measured or estimated
	Standing    *Standing // of that
	RunsTheMile *bool     // could you run a mile in 12 minutes today?
}

// LowFitness reports whether fitness is low, and whether that is known at all: by
// the percentile if there is one, else by the twelve-minute mile. Who can run it
// is not called unfit.
//
// Source: acsm_words, common_practice.
func LowFitness(a Answered) (low, known bool) {
	switch {
	case a.Standing != nil:
		return a.Standing.Percentile < LowPercentile, true
	case a.RunsTheMile != nil:
		return !*a.RunsTheMile, true
	}
	return false, false
}

// The least intensity that has been shown to raise fitness, in per cent of the
// oxygen uptake reserve, by the oxygen uptake that a person starts with. The
// authors call the evidence for a threshold not strong.
//
// Source: swain2002.
const (
	ThresholdVO2max = 40.0 // ml per kg and minute
	LeastForUnfit   = 30   // per cent, at or below that; nothing lower was tried
	LeastForTheRest = 45   // per cent, above it
)

// LeastIntensity returns the least per cent of the oxygen uptake reserve that is
// known to raise fitness, and whether anything is known. Without an oxygen uptake,
// who cannot run the twelve-minute mile has less than 40; of who can, nothing
// follows.
//
// Source: swain2002, common_practice.
func LeastIntensity(a Answered) (percent int, known bool) {
	switch {
	case a.VO2max != nil && *a.VO2max > ThresholdVO2max:
		return LeastForTheRest, true
	case a.VO2max != nil:
		return LeastForUnfit, true
	case a.RunsTheMile != nil && !*a.RunsTheMile:
		return LeastForUnfit, true
	}
	return 0, false
}

package heartrate

import "brae/domain"

// Sentences returns what [CheckSession] says to a client with numbers in it, under
// the policy, where neither a maximum nor a ceiling is known.
func Sentences(p Policy) []domain.Sentence {
	return []domain.Sentence{p.sessionRange(0), p.sessionRange(countLow)}
}

func (p Policy) sessionRange(hr BPM) domain.Sentence {
	return domain.Sentence{Format: "A heart rate must be from %d to %d." + shortCount(hr), Args: []any{p.SessionLow, p.SessionHigh}}
}

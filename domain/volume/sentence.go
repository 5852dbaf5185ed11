package volume

import "brae/domain"

// Sentences returns what [CheckSession] and [CheckDay] say with numbers in it, under
// the policy.
func Sentences(p Policy) []domain.Sentence {
	return []domain.Sentence{p.minutesRange(), p.tooLong(), p.long(), p.tooLate()}
}

func (p Policy) minutesRange() domain.Sentence {
	return domain.Sentence{Format: "Minutes are a whole number from 1 to %d.", Args: []any{p.SessionMost}}
}

func (p Policy) tooLong() domain.Sentence {
	return domain.Sentence{Format: "A session has at most %d minutes in all.", Args: []any{p.SessionMost}}
}

func (p Policy) long() domain.Sentence {
	return domain.Sentence{Format: "This is more than %d minutes in all. Is that right?", Args: []any{p.SessionConfirm}}
}

func (p Policy) tooLate() domain.Sentence {
	return domain.Sentence{Format: "This was more than %d days ago. Tell your practitioner about it.", Args: []any{p.LogDays}}
}

package intake

import (
	"strconv"
	"strings"

	"brae/domain"
	"brae/domain/screening"
)

// reader reads typed answers one by one and collects what is wrong with them.
type reader struct {
	answers  map[string]string
	problems domain.Problems
	doubts   domain.Doubts
}

func (r *reader) text(field string) string { return strings.TrimSpace(r.answers[field]) }

// whole reads a whole number from low to high; nothing typed is 0. A decimal
// comma or point, a sign and a unit are refused rather than guessed at.
func (r *reader) whole(field string, low, high int, sentence string) int {
	typed := r.text(field)
	if typed == "" {
		return 0
	}
	n, err := strconv.Atoi(typed)
	if err != nil || n < low || n > high || typed[0] == '+' {
		r.problems.Add(field, sentence)
		return 0
	}
	return n
}

// decimal reads a number with at most one decimal, after a point or a comma, in
// hundredths; ok is false if nothing was typed or it cannot be read.
func (r *reader) decimal(field string) (n int, ok bool) {
	typed := r.text(field)
	if typed == "" {
		return 0, false
	}
	h, err := screening.ParseHundredths(typed)
	if _, after, _ := strings.Cut(strings.Replace(typed, ",", ".", 1), "."); err != nil || len(after) > 1 {
		r.problems.Add(field, "Type a number with one decimal at most, such as 72.5.")
		return 0, false
	}
	return int(h), true
}

// date reads a day; nothing typed is no day.
func (r *reader) date(field string) domain.Date {
	typed := r.text(field)
	if typed == "" {
		return domain.Date{}
	}
	d, err := domain.ParseDate(typed)
	if err != nil {
		r.problems.Add(field, "Type the day as year-month-day, such as 2026-04-30.")
	}
	return d
}

// lines reads a text of one item a line.
func (r *reader) lines(field string) []string {
	var list []string
	for line := range strings.Lines(r.answers[field]) {
		if line = strings.TrimSpace(line); line != "" {
			list = append(list, line)
		}
	}
	return list
}

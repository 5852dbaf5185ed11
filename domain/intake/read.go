package intake

import (
	"strconv"
	"strings"

	"brae/domain"
)

// reader reads typed answers one by one and collects what is wrong with them.
type reader struct {
	answers  map[string]string
	problems domain.Problems
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

// tenths reads a number with at most one decimal, after a point or a comma, in
// tenths; nothing typed is 0.
func (r *reader) tenths(field string, low, high int, sentence string) int {
	typed := strings.Replace(r.text(field), ",", ".", 1)
	if typed == "" {
		return 0
	}
	before, after, _ := strings.Cut(typed, ".")
	if len(after) > 1 || before == "" || strings.Trim(before+after, "0123456789") != "" || len(before) > 5 {
		r.problems.Add(field, sentence)
		return 0
	}
	n, _ := strconv.Atoi(before + (after + "0")[:1]) // digits only
	if n < low*10 || n > high*10 {
		r.problems.Add(field, sentence)
		return 0
	}
	return n
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

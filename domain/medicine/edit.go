package medicine

import "unicode/utf8"

// oneEdit reports whether one letter added, left out, exchanged for another or
// swapped with its neighbour turns a into b. Equal texts are no edit apart.
func oneEdit(a, b string) bool {
	if a == b {
		return false
	}
	for a != "" && b != "" { // what they begin with in common
		ra, na := utf8.DecodeRuneInString(a)
		rb, nb := utf8.DecodeRuneInString(b)
		if ra != rb {
			break
		}
		a, b = a[na:], b[nb:]
	}
	for a != "" && b != "" { // what they end with in common
		ra, na := utf8.DecodeLastRuneInString(a)
		rb, nb := utf8.DecodeLastRuneInString(b)
		if ra != rb {
			break
		}
		a, b = a[:len(a)-na], b[:len(b)-nb]
	}
	switch na, nb := utf8.RuneCountInString(a), utf8.RuneCountInString(b); {
	case na <= 1 && nb <= 1:
		return true
	case na == 2 && nb == 2:
		ra, rb := []rune(a), []rune(b)
		return ra[0] == rb[1] && ra[1] == rb[0]
	}
	return false
}

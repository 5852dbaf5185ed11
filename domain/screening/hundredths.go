package screening

import (
	"fmt"
	"strconv"
	"strings"
)

// Hundredths is a measured value in hundredths of its unit: 38.05 degrees are
// 3805. Whole numbers keep limits such as 38.0 exact.
type Hundredths int

// ParseHundredths reads a number with up to two decimals, after a point or a
// comma: 38, 38.1, 38,15. It refuses signs, exponents, spaces within, further
// decimals and more than six digits before them, so that nothing is rounded or
// misread in silence.
func ParseHundredths(text string) (Hundredths, error) {
	refuse := func() (Hundredths, error) {
		return 0, fmt.Errorf("number %q is not written with digits and up to two decimals", text)
	}
	whole, decimals, point := strings.Cut(strings.Replace(strings.TrimSpace(text), ",", ".", 1), ".")
	if whole == "" || len(whole) > 6 || point && decimals == "" || len(decimals) > 2 {
		return refuse()
	}
	for _, r := range whole + decimals {
		if r < '0' || r > '9' {
			return refuse()
		}
	}
	n, err := strconv.Atoi(whole + (decimals + "00")[:2])
	if err != nil {
		return refuse()
	}
	return Hundredths(n), nil
}

// String writes the value with as many decimals as it needs, one at least.
func (h Hundredths) String() string {
	sign := ""
	if h < 0 {
		sign, h = "-", -h
	}
	text := fmt.Sprintf("%s%d.%02d", sign, h/100, h%100)
	return strings.TrimSuffix(text, "0")
}

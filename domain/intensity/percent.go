package intensity

import (
	"fmt"
	"strconv"
	"strings"
)

// Percent is a share in hundredths of a per cent: 40 % is 40*OnePercent and
// 87.5 % is 8750. Two decimals are kept exactly; more are refused when read.
type Percent int

// OnePercent is 1 %. Not a rule: the unit of Percent.
const OnePercent Percent = 100

// ParsePercent reads a number of per cent with at most two decimals and a point,
// such as 87.5. It refuses signs, units and more decimals.
func ParsePercent(s string) (Percent, error) {
	n, err := parseFixed(s, 2)
	if err != nil {
		return 0, fmt.Errorf("per cent: %w", err)
	}
	return Percent(n), nil
}

// String writes the number of per cent without the sign, and without decimals
// that are nought: 87.5.
func (p Percent) String() string { return formatFixed(int64(p), 2) }

// maxWhole bounds the digits before the point of a number that is read, so that
// nothing overflows.
const maxWhole = 9

// parseFixed reads a decimal number without a sign into units of 10^-decimals. It
// does so exactly: what has more decimals is refused, never rounded.
func parseFixed(s string, decimals int) (int64, error) {
	whole, fraction, point := strings.Cut(s, ".")
	switch {
	case whole == "" || len(whole) > maxWhole || point && fraction == "":
		return 0, fmt.Errorf("%q is not a number such as 12.5", s)
	case len(fraction) > decimals:
		return 0, fmt.Errorf("%q has more than %d decimals", s, decimals)
	}
	digits := whole + fraction + strings.Repeat("0", decimals-len(fraction))
	for _, d := range []byte(digits) {
		if d < '0' || d > '9' {
			return 0, fmt.Errorf("%q is not a number such as 12.5", s)
		}
	}
	return strconv.ParseInt(digits, 10, 64)
}

// formatFixed writes n units of 10^-decimals without trailing noughts.
func formatFixed(n int64, decimals int) string {
	sign := ""
	if n < 0 {
		sign, n = "-", -n
	}
	digits := fmt.Sprintf("%0*d", decimals+1, n)
	whole, fraction := digits[:len(digits)-decimals], digits[len(digits)-decimals:]
	if fraction = strings.TrimRight(fraction, "0"); fraction != "" {
		fraction = "." + fraction
	}
	return sign + whole + fraction
}

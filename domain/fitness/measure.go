package fitness

import (
	"fmt"
	"strconv"
	"strings"
)

// maxText bounds what is read as a number, and maxDigits its digits before and
// after the point, so that nothing overflows or loses digits.
const maxText, maxDigits = 40, 7

// ParseMinutes reads a time that somebody typed and returns minutes with decimals:
// 12:45, 1:02:15, "12 min 45 s", 12 or 12.75. Twelve minutes and 45 seconds is often
// typed as 12.45, which would be read 18 seconds short; so a number with two
// decimals that could be seconds is refused, with both readings in the message.
//
// The error is a sentence for the person who typed it.
func ParseMinutes(text string) (float64, error) {
	s := strings.ToLower(strings.TrimSpace(text))
	if s == "" || len(s) > maxText {
		return 0, errMinutes
	}
	if strings.Contains(s, ":") {
		return clock(strings.Split(s, ":"))
	}
	if m, sec, ok := cutUnit(s, "minutes", "minute", "mins", "min", "m", "'"); ok {
		if sec == "" {
			return decimalMinutes(m)
		}
		sec, rest, ok := cutUnit(sec, "seconds", "second", "secs", "sec", "s", "\"", "''")
		if !ok || rest != "" {
			return 0, errMinutes
		}
		return clock([]string{m, pad(sec)})
	}
	return decimalMinutes(s)
}

// mistyped is an error whose text is a sentence for the person who typed.
type mistyped string

func (m mistyped) Error() string { return string(m) }

const errMinutes = mistyped("Write the time as minutes and seconds, such as 12:45.")

// cutUnit cuts s after a number followed by one of the units, the longest first,
// and returns the number and what follows the unit.
func cutUnit(s string, units ...string) (number, rest string, ok bool) {
	end := strings.IndexFunc(s, func(r rune) bool { return !strings.ContainsRune("0123456789.,", r) })
	if end <= 0 {
		return "", "", false
	}
	number, tail := s[:end], strings.TrimSpace(s[end:])
	for _, u := range units {
		after, found := strings.CutPrefix(tail, u)
		if found {
			return number, strings.TrimSpace(strings.TrimPrefix(after, ".")), true
		}
	}
	return "", "", false
}

func pad(seconds string) string {
	if len(seconds) == 1 {
		return "0" + seconds
	}
	return seconds
}

// clock reads minutes and seconds, or hours, minutes and seconds.
func clock(parts []string) (float64, error) {
	if len(parts) > 3 {
		return 0, errMinutes
	}
	total := 0
	for i, part := range parts {
		n, ok := digits(part)
		last := i > 0 // minutes after hours, and seconds, have two digits below 60
		if !ok || last && (len(part) != 2 || n > 59) {
			return 0, errMinutes
		}
		total = 60*total + n
	}
	return float64(total) / 60, nil
}

func decimalMinutes(s string) (float64, error) {
	x, fraction, err := decimal(s)
	if err != nil {
		return 0, errMinutes
	}
	if n, ok := digits(fraction); ok && len(fraction) == 2 && n > 0 && n < 60 {
		whole := s[:len(s)-3]
		return 0, mistyped(fmt.Sprintf("Write %s:%s for %s minutes %s seconds, or %s:%02d for %s.%s minutes.",
			whole, fraction, whole, fraction, whole, (n*60+50)/100, whole, fraction))
	}
	return x, nil
}

// decimal reads a number with a point or a comma, without a sign, and returns it
// with its decimals as typed.
func decimal(s string) (x float64, fraction string, err error) {
	whole, fraction, point := strings.Cut(strings.Replace(s, ",", ".", 1), ".")
	if _, ok := digits(whole); !ok {
		return 0, "", errNumber
	}
	if _, ok := digits(fraction); point && !ok {
		return 0, "", errNumber
	}
	x, err = strconv.ParseFloat(whole+"."+fraction+"0", 64)
	return x, fraction, err
}

const errNumber = mistyped("Write a number, such as 12.5.")

// digits reads a whole number of up to maxDigits digits and nothing else.
func digits(s string) (int, bool) {
	if s == "" || len(s) > maxDigits {
		return 0, false
	}
	for _, b := range []byte(s) {
		if b < '0' || b > '9' {
			return 0, false
		}
	}
	n, err := strconv.Atoi(s)
	return n, err == nil
}

// ShowMinutes writes minutes with decimals as minutes and seconds, to the second:
// 12:45.
func ShowMinutes(minutes float64) string {
	seconds := int(minutes*60 + 0.5)
	return fmt.Sprintf("%d:%02d", seconds/60, seconds%60)
}

// Kind is a kind of quantity that people type with a unit.
type Kind int8

// The kinds of quantity.
const (
	Weight   Kind = iota // kg or lb
	Height               // cm, m or in
	Distance             // m, km or miles
	Speed                // km/h, mph or m/min
	WorkRate             // W or kgm/min
)

type unit struct {
	factor float64
	names  []string // the longer of two that begin alike first
}

// kinds has what each kind is called and its units with their factors.
//
// Source: bushman2020, acsm_conditions, common_practice.
var kinds = [...]struct {
	what  string
	units []unit
}{
	Weight: {"a weight in kg or lb, such as 70 kg", []unit{
		{1, []string{"kg", "kilos", "kilo"}},
		{KgPerPound, []string{"lbs", "lb", "pounds", "pound"}},
	}},
	Height: {"a height in cm, m or in, such as 172 cm", []unit{
		{1, []string{"cm"}},
		{100, []string{"m"}},
		{100 * MetresPerInch, []string{"inches", "inch", "in", "\""}},
	}},
	Distance: {"a distance in m, km or miles, such as 2400 m", []unit{
		{1000, []string{"km"}},
		{MetresPerMile, []string{"miles", "mile", "mi"}},
		{1, []string{"metres", "meters", "m"}},
	}},
	Speed: {"a speed in km/h, mph or m/min, such as 5.6 km/h", []unit{
		{1000.0 / 60, []string{"km/h", "kmh", "kph"}},
		{MetresPerMph, []string{"mph"}},
		{1, []string{"m/min"}},
	}},
	WorkRate: {"a work rate in W or kgm/min, such as 75 W", []unit{
		{KgmPerWatt, []string{"watts", "watt", "w"}},
		{1, []string{"kgm/min", "kpm/min"}},
	}},
}

// ParseQuantity reads a number with its unit and returns kg for a weight, cm for a
// height, m for a distance, m/min for a speed and kgm/min for a work rate. A number
// without a unit is refused, since 150 could be kg or lb; so is a comma before
// three digits, which could stand for thousands.
//
// The error is a sentence for the person who typed it.
func ParseQuantity(text string, k Kind) (float64, error) {
	kind := kinds[k]
	refused := mistyped("Write " + kind.what + ".")
	s := strings.ToLower(strings.TrimSpace(text))
	if len(s) > maxText {
		return 0, refused
	}
	for _, u := range kind.units {
		number, rest, ok := cutUnit(s, u.names...)
		if !ok || rest != "" {
			continue
		}
		x, fraction, err := decimal(number)
		if err != nil || strings.Contains(number, ",") && len(fraction) == 3 {
			return 0, refused
		}
		return x * u.factor, nil
	}
	return 0, refused
}

package volume

import "fmt"

// ExtraBenefit is the moderate-equivalent minutes a week beyond which more
// benefit is to be had. It is a mark on the way, not a limit.
//
// Source: paga2018, who2020.
const ExtraBenefit = 300

// activeFrom is where the active band begins. It is the guideline's figure and
// does not follow a practice's or a client's own target.
const activeFrom = 150

// Band is how a week compares with the guideline for adults. Bands are ordered.
//
// Source: paga2018.
type Band int8

// The bands of moderate-equivalent minutes a week. Both edges of Active belong
// to it: 150 and 300 are active, 149 is insufficient, 301 is highly active.
//
// Source: paga2018.
const (
	Inactive     Band = iota // nothing of moderate intensity or harder
	Insufficient             // some, but under 150
	Active                   // 150 to 300
	HighlyActive             // over 300
)

var bandNames = [...]string{"inactive", "insufficient", "active", "highly_active"}

// BandOf returns the band of a week's moderate-equivalent minutes. Light
// minutes are worth showing, yet a week of light minutes alone is Inactive in
// the guideline's words.
//
// Source: paga2018.
func BandOf(moderateEquivalent int) Band {
	switch {
	case moderateEquivalent <= 0:
		return Inactive
	case moderateEquivalent < activeFrom:
		return Insufficient
	case moderateEquivalent <= ExtraBenefit:
		return Active
	}
	return HighlyActive
}

// ParseBand reads the name that String writes.
func ParseBand(name string) (Band, error) {
	for i, n := range bandNames {
		if n == name {
			return Band(i), nil
		}
	}
	return Inactive, fmt.Errorf("band %q: not one of inactive, insufficient, active, highly_active", name)
}

// String returns the name as stored and as `brae calc` writes it.
func (b Band) String() string {
	if b < Inactive || b > HighlyActive {
		return fmt.Sprintf("Band(%d)", int8(b))
	}
	return bandNames[b]
}

// MarshalText writes the name of the band.
func (b Band) MarshalText() ([]byte, error) {
	if b < Inactive || b > HighlyActive {
		return nil, fmt.Errorf("band %d does not exist", int8(b))
	}
	return []byte(bandNames[b]), nil
}

// UnmarshalText reads what MarshalText writes.
func (b *Band) UnmarshalText(text []byte) error {
	parsed, err := ParseBand(string(text))
	if err != nil {
		return err
	}
	*b = parsed
	return nil
}

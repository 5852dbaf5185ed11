package fitness

import (
	"fmt"

	"brae/domain"
	"brae/domain/source"
)

// DropProtocol is how the fall of the heart rate after exercise was measured.
// Results of two protocols cannot be compared.
type DropProtocol string

// The protocols.
const (
	DropUpright1Min    DropProtocol = "upright_1_min"    // all-out treadmill test, then a slow walk
	DropSubmaximal2Min DropProtocol = "submaximal_2_min" // a test that ends below the maximum
	DropSupine1Min     DropProtocol = "supine_1_min"     // all-out test, then lying down at once
)

// The largest fall, in beats, that is abnormal by each protocol.
//
// Source: cole1999, cole2000, watanabe2001.
const (
	AbnormalUpright1Min    = 12
	AbnormalSubmaximal2Min = 42
	AbnormalSupine1Min     = 18
)

// Drop is a fall of the heart rate after exercise.
type Drop struct {
	Beats    int
	Abnormal bool // to be discussed with a doctor; never a diagnosis
	Blunted  bool // a medicine holds the heart rate down: no use for following it over time
	Cites    []source.Key
}

// PostExerciseHRDrop returns the fall of the heart rate from the peak, both in bpm,
// and whether it is abnormal by the protocol. It is not the heart-rate reserve,
// which has the same initials elsewhere. It refuses rates outside 30 to 240, a
// later rate above the peak, and an unknown protocol, with problems at peak_hr,
// after_hr and protocol.
//
// Source: cole1999, cole2000, watanabe2001.
func PostExerciseHRDrop(peak, after int, protocol DropProtocol, hrBlunted bool) (Drop, error) {
	var p domain.Problems
	for _, f := range []struct {
		name string
		hr   int
	}{{"peak_hr", peak}, {"after_hr", after}} {
		if f.hr < 30 || f.hr > highestHR {
			p.Add(f.name, "Beats per minute go from 30 to 240.")
		}
	}
	if after > peak {
		p.Add("after_hr", fmt.Sprintf("The heart rate afterwards cannot be above the peak of %d.", peak))
	}
	var most int
	var cite source.Key
	switch protocol {
	case DropUpright1Min:
		most, cite = AbnormalUpright1Min, "cole1999"
	case DropSubmaximal2Min:
		most, cite = AbnormalSubmaximal2Min, "cole2000"
	case DropSupine1Min:
		most, cite = AbnormalSupine1Min, "watanabe2001"
	default:
		p.Add("protocol", "Choose upright_1_min, submaximal_2_min or supine_1_min.")
	}
	if p != nil {
		return Drop{}, p
	}
	drop := peak - after
	return Drop{Beats: drop, Abnormal: drop <= most, Blunted: hrBlunted, Cites: []source.Key{cite}}, nil
}

package screening

import (
	"fmt"

	"brae/domain/intensity"
	"brae/domain/source"
)

// Band is what may be entered for one measurement: outside Low to High it is
// refused, outside ConfirmLow to ConfirmHigh it has to be confirmed.
type Band struct {
	Low, High               int
	ConfirmLow, ConfirmHigh int
}

// Check judges a value. The unit stands in the sentence only.
//
// Practice rule: practice.
func (b Band) Check(value int, unit string) intensity.Finding {
	switch {
	case value < b.Low || value > b.High:
		return intensity.Finding{Verdict: intensity.Reject, Sentence: fmt.Sprintf("This is from %d to %d %s.", b.Low, b.High, unit)}
	case value < b.ConfirmLow || value > b.ConfirmHigh:
		return intensity.Finding{Verdict: intensity.Confirm, Sentence: fmt.Sprintf("Is %d right? It is outside %d to %d %s.", value, b.ConfirmLow, b.ConfirmHigh, unit)}
	}
	return intensity.Finding{}
}

// Bands are the bands of what an intake measures beside the heart rate.
type Bands struct {
	Systolic    Band // mmHg
	Diastolic   Band // mmHg
	PressureGap int  // mmHg that the lower pressure is below the upper one at least
	PressureFar int  // mmHg by which two upper readings differ before a third is asked for
	Weight      Band // kg
	Height      Band // cm
	Temperature Band // tenths of a degree Celsius
	Glucose     Band // mg/dL
	Oxygen      Band // per cent
}

// bandSetting is a bound with the place it is read into.
type bandSetting struct {
	source.Setting
	read func(*Bands, int)
}

// band makes the four settings of a band. The outer bounds may be drawn tighter,
// never wider than given here.
func band(name, unit, says string, b Band, field func(*Bands) *Band) []bandSetting {
	bound := func(key, text string, def, low, high int, read func(*Band, int)) bandSetting {
		return bandSetting{
			setting("band_"+name+"_"+key, source.TopicVitals, unit, says+" "+text, def, low, high),
			func(all *Bands, n int) { read(field(all), n) },
		}
	}
	return []bandSetting{
		bound("low", "below this cannot be saved.", b.Low, b.Low, b.ConfirmLow, func(b *Band, n int) { b.Low = n }),
		bound("confirm_low", "below this has to be confirmed.", b.ConfirmLow, b.Low, b.ConfirmHigh, func(b *Band, n int) { b.ConfirmLow = n }),
		bound("confirm_high", "above this has to be confirmed.", b.ConfirmHigh, b.ConfirmLow, b.High, func(b *Band, n int) { b.ConfirmHigh = n }),
		bound("high", "above this cannot be saved.", b.High, b.ConfirmHigh, b.High, func(b *Band, n int) { b.High = n }),
	}
}

// bandSettings are all bounds.
var bandSettings = func() (all []bandSetting) {
	all = append(all, band("systolic", "mmHg", "An upper blood pressure", Band{50, 300, 90, 179}, func(b *Bands) *Band { return &b.Systolic })...)
	all = append(all, band("diastolic", "mmHg", "A lower blood pressure", Band{20, 200, 50, 109}, func(b *Bands) *Band { return &b.Diastolic })...)
	all = append(all, band("weight", "kg", "A weight", Band{20, 400, 35, 250}, func(b *Bands) *Band { return &b.Weight })...)
	all = append(all, band("height", "cm", "A height", Band{90, 250, 130, 210}, func(b *Bands) *Band { return &b.Height })...)
	all = append(all, band("temperature", "tenths of a degree Celsius", "A body temperature", Band{300, 450, 350, 379}, func(b *Bands) *Band { return &b.Temperature })...)
	all = append(all, band("glucose", "mg/dL", "A blood sugar", Band{10, 1000, 54, 349}, func(b *Bands) *Band { return &b.Glucose })...)
	all = append(all, band("oxygen", "per cent", "An oxygen saturation", Band{50, 100, 88, 100}, func(b *Bands) *Band { return &b.Oxygen })...)
	all = append(all,
		bandSetting{setting("band_pressure_gap", source.TopicVitals, "mmHg", "The lower blood pressure has to be below the upper one by more than this.", 5, 5, 20),
			func(b *Bands, n int) { b.PressureGap = n }},
		bandSetting{setting("band_pressure_far", source.TopicVitals, "mmHg", "Two upper blood pressures that differ by more are taken once more.", 10, 5, 30),
			func(b *Bands, n int) { b.PressureFar = n }},
	)
	return all
}()

// boundsOf are the settings of the bands.
func boundsOf() []source.Setting {
	list := make([]source.Setting, 0, len(bandSettings))
	for _, s := range bandSettings {
		if s.Low < s.High { // a bound that cannot be moved is no setting
			list = append(list, s.Setting)
		}
	}
	return list
}

// BandsFrom returns the bands of a practice; BandsFrom(nil) is all defaults.
//
// Practice rule: practice.
func BandsFrom(v source.Values) Bands {
	var b Bands
	for _, s := range bandSettings {
		s.read(&b, v.Of(s.Setting))
	}
	return b
}

package intensity

import "brae/domain/source"

// Scheme names a published table of classes. It is stored with every class, so
// that a later edition does not rewrite old weeks.
type Scheme string

// ACSM2011 is the scheme that everything here is classified by, except CR10.
//
// Source: garber2011.
const ACSM2011 Scheme = "acsm2011"

// ESSA2010 is the scheme of the CR10 classes.
//
// Source: norton2010.
const ESSA2010 Scheme = "essa2010"

// SchemeRange is one class of a scheme: from From to below To, or to To itself
// where Closed.
type SchemeRange struct {
	Class    Class
	From, To int // per cent, or points
	Closed   bool
}

// SchemeInfo is a table of classes for explaining what other places print.
// Nothing is classified by any but [ACSM2011] and, on CR10, [ESSA2010].
type SchemeInfo struct {
	Scheme  Scheme
	Name    string
	Measure string // a [Method], or a [Kind] of points
	Ranges  []SchemeRange
	Cites   []source.Key
	Note    string
}

// Schemes returns the schemes met elsewhere, with the ones in use first.
//
// Source: garber2011, norton2010, cdc_hr_present, cdc_hr_older, aha_hr, esc2016, esc2020, german_rehab, bcmj_karvonen.
func Schemes() []SchemeInfo {
	reserve, maximum := Reserve.String(), Maximum.String()
	return []SchemeInfo{
		{ACSM2011, "ACSM 2011, of the reserve", reserve, acsmRanges(Reserve), []source.Key{"garber2011"},
			"In use. One journal table prints vigorous as 60-84 %, left over from the edition of 1998."},
		{ACSM2011, "ACSM 2011, of the maximum", maximum, acsmRanges(Maximum), []source.Key{"garber2011"},
			"In use. One copy prints near-maximal from 95 % although vigorous ends at 95; 96 is used."},
		{ESSA2010, "Sports-science Australia 2010, CR10", string(KindCR10), []SchemeRange{
			{Light, 1, 3, false}, {Moderate, 3, 5, false}, {Vigorous, 5, 7, false}, {NearMaximal, 7, 10, true},
		}, []source.Key{"norton2010", "essa_table_copy"}, "In use for CR10 only. Its top class is called high."},
		{ESSA2010, "Sports-science Australia 2010, of the reserve", reserve, []SchemeRange{
			{Light, 20, 40, false}, {Moderate, 40, 60, false}, {Vigorous, 60, 85, false}, {NearMaximal, 85, 100, true},
		}, []source.Key{"norton2010", "essa_table_copy"}, "Vigorous ends at 85 %, above is called high."},
		{ESSA2010, "Sports-science Australia 2010, of the maximum", maximum, []SchemeRange{
			{Light, 40, 55, false}, {Moderate, 55, 70, false}, {Vigorous, 70, 90, false}, {NearMaximal, 90, 100, true},
		}, []source.Key{"norton2010", "essa_table_copy"}, ""},
		{"cdc_present", "US public-health pages, present", maximum, []SchemeRange{
			{Moderate, 64, 76, true}, {Vigorous, 77, 93, true},
		}, []source.Key{"cdc_hr_present"}, "93 % here and 95 % in ACSM 2011 are edges of different schemes."},
		{"cdc_older", "US public-health pages, older", maximum, []SchemeRange{
			{Moderate, 50, 70, false}, {Vigorous, 70, 85, true},
		}, []source.Key{"cdc_hr_older"}, ""},
		{"aha", "American heart charity", maximum, []SchemeRange{
			{Moderate, 50, 70, false}, {Vigorous, 70, 85, true},
		}, []source.Key{"aha_hr"}, "The target zone of 50-85 % is both together."},
		{"esc2016", "European cardiology 2016", maximum, []SchemeRange{
			{Light, 50, 63, true}, {Moderate, 64, 76, true}, {Vigorous, 77, 93, true},
		}, []source.Key{"esc2016"}, ""},
		{"esc2020", "European cardiology 2020", reserve, []SchemeRange{
			{Light, 0, 40, false}, {Moderate, 40, 69, true}, {Vigorous, 70, 85, true}, {NearMaximal, 86, 100, true},
		}, []source.Key{"esc2020"}, "Moderate reaches into what ACSM 2011 calls vigorous."},
		{"german_rehab", "German cardiac rehabilitation", reserve, []SchemeRange{
			{Moderate, 40, 60, false}, {Vigorous, 60, 70, true},
		}, []source.Key{"german_rehab"}, ""},
		{"bedside", "What many practitioners use", reserve, []SchemeRange{
			{Light, 30, 40, false}, {Moderate, 40, 60, false}, {Vigorous, 60, 80, true},
		}, []source.Key{"common_practice", "bcmj_karvonen"}, "Some end vigorous at 90 %."},
	}
}

// acsmRanges reads the edges in use as ranges.
func acsmRanges(m Method) []SchemeRange {
	var ranges []SchemeRange
	for _, c := range Classes() {
		r := SchemeRange{Class: c, From: m.From(c), To: 100, Closed: true}
		if c < NearMaximal {
			r.To, r.Closed = m.From(c+1), false
		}
		ranges = append(ranges, r)
	}
	return ranges
}

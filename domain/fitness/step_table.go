package fitness

// stepGroups is how many groups of age the norms of the three-minute step have: 18
// to 25, then ten years each, then from 66 on.
const stepGroups = 6

// stepRatings is how many bands there are in a group, the last without an end.
const stepRatings = 7

// stepMen and stepWomen have the heartbeats counted in the minute after three
// minutes of stepping, one line a band from the best; the last band has only where
// it starts. The published bands leave gaps.
//
// Source: golding2000, golding2000_rows.
var stepMen = [stepRatings][stepGroups]span{
	{{50, 76}, {51, 76}, {49, 76}, {56, 82}, {60, 77}, {59, 81}},                         // excellent
	{{79, 84}, {79, 85}, {80, 88}, {87, 93}, {86, 94}, {87, 92}},                         // good
	{{88, 93}, {88, 94}, {92, 98}, {95, 101}, {97, 100}, {94, 102}},                      // above average
	{{95, 100}, {96, 102}, {100, 105}, {103, 111}, {103, 109}, {104, 110}},               // average
	{{102, 107}, {104, 110}, {108, 113}, {113, 119}, {111, 117}, {114, 118}},             // below average
	{{111, 119}, {114, 121}, {116, 124}, {121, 126}, {119, 128}, {121, 126}},             // poor
	{{124, noEnd}, {126, noEnd}, {130, noEnd}, {131, noEnd}, {131, noEnd}, {130, noEnd}}, // very poor
}

var stepWomen = [stepRatings][stepGroups]span{
	{{52, 81}, {58, 80}, {51, 84}, {63, 91}, {60, 92}, {70, 92}},                         // excellent
	{{85, 93}, {85, 92}, {89, 96}, {95, 101}, {97, 103}, {96, 101}},                      // good
	{{96, 102}, {95, 101}, {100, 104}, {104, 110}, {106, 111}, {104, 111}},               // above average
	{{104, 110}, {104, 110}, {107, 112}, {113, 118}, {113, 118}, {116, 121}},             // average
	{{113, 120}, {113, 119}, {115, 120}, {120, 124}, {119, 127}, {123, 126}},             // below average
	{{122, 131}, {122, 129}, {124, 132}, {126, 132}, {129, 135}, {128, 133}},             // poor
	{{135, noEnd}, {134, noEnd}, {137, noEnd}, {137, noEnd}, {141, noEnd}, {135, noEnd}}, // very poor
}

// noEnd is the upper end of a band that has none.
const noEnd = 1 << 30

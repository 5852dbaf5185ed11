package fitness

// ages is how many five-year groups the norms of older adults have, from 60 to 94.
const ages = 7

// span is a range of counts, both ends included.
type span struct{ low, high int }

// chairMen and chairWomen have the middle half of people, 25th to 75th percentile,
// of stands in 30 seconds, for 60 to 64 years and on.
//
// Source: rikli1999.
var chairMen = [ages]span{{14, 19}, {12, 18}, {12, 17}, {11, 17}, {10, 15}, {8, 14}, {7, 12}}

var chairWomen = [ages]span{{12, 17}, {11, 16}, {10, 15}, {10, 15}, {9, 14}, {8, 13}, {4, 11}}

// stepping is what is known of steps in 2 minutes in one group: the middle half of
// people, mean and standard deviation, and the count that goes with staying
// independent into very old age.
type stepping struct {
	middle      span
	mean, sd    int
	independent int
}

// steppingMen and steppingWomen are for 60 to 64 years and on.
//
// Source: rikli1999, rikli2013.
var steppingMen = [ages]stepping{
	{span{87, 115}, 101, 21, 106}, // 60-64
	{span{86, 116}, 101, 23, 101}, // 65-69
	{span{80, 110}, 95, 23, 95},   // 70-74
	{span{73, 109}, 91, 27, 88},   // 75-79
	{span{71, 103}, 87, 24, 80},   // 80-84
	{span{59, 91}, 75, 24, 71},    // 85-89
	{span{52, 86}, 69, 26, 60},    // 90-94
}

var steppingWomen = [ages]stepping{
	{span{75, 107}, 91, 24, 97}, // 60-64
	{span{73, 107}, 90, 26, 93}, // 65-69
	{span{68, 101}, 84, 25, 89}, // 70-74
	{span{68, 100}, 84, 24, 84}, // 75-79
	{span{60, 91}, 75, 23, 78},  // 80-84
	{span{55, 85}, 70, 22, 70},  // 85-89
	{span{44, 72}, 58, 21, 60},  // 90-94
}

package source

// The citations of the activity rules.
var activity = []Citation{}

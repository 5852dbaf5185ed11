package source

// The citations of the weekly-volume rules.
var volume = []Citation{}

package source

// The citations of the screening rules.
var screening = []Citation{}

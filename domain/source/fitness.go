package source

// The citations of the fitness rules.
var fitness = []Citation{}

package source

// The citations of the plan rules.
var plan = []Citation{}

package source

// The citations of the medicine rules.
var medicine = []Citation{}

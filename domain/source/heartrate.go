package source

// The citations of the heart-rate rules.
var heartRate = []Citation{}

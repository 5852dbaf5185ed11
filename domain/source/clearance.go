package source

// The citations of the doctor-review rules.
var clearance = []Citation{}

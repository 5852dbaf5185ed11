package source

// The citations of the symptom rules.
var triage = []Citation{}

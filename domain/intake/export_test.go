package intake

// Conditions lets tests look at the link between answers and heart-rate rules.
var Conditions = conditions
var Events = events

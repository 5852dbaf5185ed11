package source

// The citations of the intensity rules.
var intensity = []Citation{}

package say

import "golang.org/x/text/language"

var _ = translate(language.Spanish, map[string]string{
	"Go for the harder end of this.": "Busca la parte más exigente de esto.",
	"Blood pressure before exercise": "Presión arterial antes del ejercicio",
	"Heartbeats before exercise":     "Latidos antes del ejercicio",
})

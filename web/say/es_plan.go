package say

import "golang.org/x/text/language"

// The weeks of a plan.
var _ = translate(language.Spanish, map[string]string{
	"Week from":                            "Semana del",
	"Why":                                  "Por qué",
	"Nothing is asked of you.":             "No se le pide nada.",
	"%d time, %d minutes":                  "%d vez, %d minutos",
	"%d times, %d minutes each":            "%d veces, %d minutos cada una",
	"%d minutes in the week are hard.":     "%d minutos de la semana son fuertes.",
	"You have a break.":                    "Tiene un descanso.",
	"This is your week now.":               "Esta es su semana ahora.",
	"The time changes, one thing at once.": "Cambia el tiempo, una sola cosa cada vez.",
	"The number of times changes.":         "Cambia el número de veces.",
	"How hard it is changes.":              "Cambia lo fuerte que es.",
	"The week changes.":                    "La semana cambia.",
	"Time to get used to it.":              "Tiempo para acostumbrarse.",
})

package say

import "golang.org/x/text/language"

// The weeks of a plan.
var _ = translate(language.Spanish, map[string]string{
	"Week from":                                  "Semana del",
	"Why":                                        "Por qué",
	"Nothing is asked of you.":                   "No se le pide nada.",
	"%d time, %d minutes":                        "%d vez, %d minutos",
	"%d times, %d minutes each":                  "%d veces, %d minutos cada una",
	"%d minute in the week is hard.":             "%d minuto de la semana es fuerte.",
	"%d minutes in the week are hard.":           "%d minutos de la semana son fuertes.",
	"You have a break.":                          "Tiene un descanso.",
	"This is your week now.":                     "Esta es su semana ahora.",
	"A bit longer each time.":                    "Un poco más largo cada vez.",
	"A bit shorter each time.":                   "Un poco más corto cada vez.",
	"More often than before.":                    "Más veces que antes.",
	"Not as often as before.":                    "Menos veces que antes.",
	"A bit harder, now that you are used to it.": "Un poco más fuerte, ahora que se ha acostumbrado.",
	"A bit easier.":                              "Un poco más suave.",
	"The week changes.":                          "La semana cambia.",
	"Time to get used to it.":                    "Tiempo para acostumbrarse.",
})

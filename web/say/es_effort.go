package say

import "golang.org/x/text/language"

// How hard it is, and the week as a slope.
var _ = translate(language.Spanish, map[string]string{
	"None":         "Ninguna",
	"Very light":   "Muy ligera",
	"Light":        "Ligera",
	"Moderate":     "Moderada",
	"Vigorous":     "Vigorosa",
	"Near-maximal": "Casi máxima",

	"Intensity":                      "Intensidad",
	"Talk test":                      "Prueba del habla",
	"Effort":                         "Esfuerzo",
	"Heart rate":                     "Pulso",
	"Not open now":                   "Por ahora no",
	"%d to %d bpm":                   "de %d a %d lpm",
	"%d to %d of 20":                 "de %d a %d de 20",
	"Never above %d beats a minute.": "Nunca por encima de %d latidos por minuto.",

	"could sing":       "podía cantar",
	"whole sentences":  "frases enteras",
	"broken sentences": "frases cortadas",
	"a few words":      "pocas palabras",
	"no talking":       "sin poder hablar",

	"I could sing a song while I moved.":                                   "Podía cantar una canción mientras me movía.",
	"I could chat in whole sentences, but I could not sing.":               "Podía charlar con frases enteras, pero no cantar.",
	"I could talk, but I had to stop for air in the middle of a sentence.": "Podía hablar, pero tenía que parar a tomar aire a mitad de frase.",
	"I could only get out a few words between breaths.":                    "Solo me salían unas pocas palabras entre respiraciones.",
	"I had no breath left to talk at all.":                                 "No me quedaba aire para hablar.",

	"So easy that you could sing without any effort.":        "Tan fácil que podría cantar sin ningún esfuerzo.",
	"Easy enough that you could sing a line of a song.":      "Tan fácil que podría cantar un verso de una canción.",
	"You can talk in whole sentences, but you cannot sing.":  "Puede hablar con frases enteras, pero no cantar.",
	"You can say only a few words before you need a breath.": "Solo puede decir unas pocas palabras antes de tomar aire.",
	"You have no breath left for talking.":                   "No le queda aire para hablar.",

	"%d left":                         "faltan %d",
	"%d min":                          "%d min",
	"%d minute":                       "%d minuto",
	"%d minutes":                      "%d minutos",
	"of %s":                           "de %s",
	"%s, minutes by day":              "%s, minutos por día",
	"%s: none.":                       "%s: nada.",
	"Together %d of %s.":              "En total, %d de %s.",
	"Day":                             "Día",
	"Week":                            "Semana",
	"Counts":                          "Cuentan",
	"counts %s":                       "cuenta como %s",
	"Not known":                       "No se sabe",
	"we do not know how hard":         "no sabemos con qué esfuerzo",
	"at the foot, a dot for every %d": "al pie, un punto por cada %d",
	"Show as a table":                 "Ver como tabla",
	"of":                              "de",
	"no log":                          "sin registro",
	"No weeks yet":                    "Aún no hay semanas",
	"Minutes of the last %d weeks, oldest first: %s": "Minutos de las últimas %d semanas, de la más antigua a la más reciente: %s",
})

// What is wrong with a log.
var _ = translate(language.Spanish, map[string]string{
	"Choose the day.": "Elija el día.",
	"This day is still to come. Choose today or an earlier day.":                                            "Ese día aún no ha llegado. Elija hoy o un día anterior.",
	"This was more than %d days ago. Tell your practitioner about it.":                                      "Fue hace más de %d días. Cuénteselo a su profesional.",
	"Say for how many minutes it was.":                                                                      "Diga cuántos minutos fueron.",
	"Minutes are a whole number from 1 to %d.":                                                              "Los minutos son un número entero de 1 a %d.",
	"Minutes must be from 1 to 720.":                                                                        "Los minutos deben ser de 1 a 720.",
	"A session has at most %d minutes in all.":                                                              "Una sesión tiene como máximo %d minutos en total.",
	"This is more than %d minutes in all. Is that right?":                                                   "Son más de %d minutos en total. ¿Es correcto?",
	"Perceived exertion is a whole number from 6 to 20.":                                                    "El esfuerzo es un número entero de 6 a 20.",
	"A heart rate must be from %d to %d.":                                                                   "El pulso debe estar entre %d y %d.",
	"A heart rate must be from %d to %d. A count of 10 seconds is multiplied by 6, one of 15 seconds by 4.": "El pulso debe estar entre %d y %d. Si contó 10 segundos, multiplique por 6; si contó 15, por 4.",
	"Choose what you did.":                                                                                  "Elija lo que hizo.",
	"Say how well you could talk. It tells how hard it was.":                                                "Diga si podía hablar bien. Así se sabe cuánto esfuerzo fue.",
	"The form was incomplete. Load the page again.":                                                         "El formulario estaba incompleto. Cargue la página de nuevo.",
	"The note is too long. Use 2,000 characters at most.":                                                   "La nota es demasiado larga. Use 2000 caracteres como máximo.",
})

package say

import "golang.org/x/text/language"

// Fitness tests.
var _ = translate(language.Spanish, map[string]string{
	"My fitness tests": "Mis pruebas de forma física",
	"A test shows where you are. What counts is your own way from there.": "Una prueba muestra dónde está. Lo que cuenta es su propio camino desde ahí.",
	"No test yet": "Aún no hay pruebas",
	"Your practitioner does them with you. You can log what you do all the same.": "Su profesional las hace con usted. Aun así puede registrar lo que hace.",
	"How far you walk in six minutes":                                             "Cuánto camina en seis minutos",
	"Your walk over one mile":                                                     "Su caminata de una milla",
	"Your walk on the treadmill":                                                  "Su caminata en la cinta",
	"Your test to the limit":                                                      "Su prueba hasta el límite",
	"Your run":                                                                    "Su carrera",
	"Your test on the step":                                                       "Su prueba en el escalón",
	"Your pulse after three minutes on the step":                                  "Su pulso tras tres minutos en el escalón",
	"How often you stand up from a chair in 30 seconds":                           "Cuántas veces se levanta de una silla en 30 segundos",
	"Steps on the spot in two minutes":                                            "Pasos en el sitio en dos minutos",
	"Your fitness, worked out from your answers":                                  "Su forma física, calculada con sus respuestas",
	"metres":                   "metros",
	"times":                    "veces",
	"steps":                    "pasos",
	"heartbeats in a minute":   "latidos por minuto",
	"times the energy of rest": "veces la energía del reposo",
	"About the same as on %s. Small ups and downs are normal.":                  "Más o menos igual que el %s. Pequeños altibajos son normales.",
	"Less than on %s. Talk with your practitioner about why. It can come back.": "Menos que el %s. Hable con su profesional sobre el porqué. Puede recuperarse.",
	"A bit better than on %s.":   "Un poco mejor que el %s.",
	"Clearly better than on %s.": "Claramente mejor que el %s.",
	"Result":                     "Resultado",
})

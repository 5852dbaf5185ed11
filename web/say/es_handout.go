package say

import "golang.org/x/text/language"

// The plan on paper.
var _ = translate(language.Spanish, map[string]string{
	"My plan on paper": "Mi plan en papel",
	"Print":            "Imprimir",
	"Back":             "Volver",
	"Printed on %s":    "Impreso el %s",
	"Plan for %s":      "Plan de %s",
	"Effort":           "Esfuerzo",
	"Heart rate":       "Pulso",
	"%s, where 6 is rest and 20 is all you have": "%s, donde 6 es reposo y 20 es todo lo que puede",
	"Warm up and cool down":                      "Calentar y volver a la calma",
	"Work for your body":                         "Trabajo para su cuerpo",
	"%s to %s times what it needs at rest":       "de %s a %s veces lo que gasta en reposo",
	"Which one counts":                           "Cuál cuenta",
	"How well you can talk goes before each figure. Pick one kind of work.": "Lo bien que puede hablar va antes que cada cifra. Elija un tipo de trabajo.",
	"On a bike":                     "En bicicleta",
	"On a step":                     "En un escalón",
	"less than %s":                  "menos de %s",
	"%s at first, then %s to %s %s": "%s al empezar, luego de %s a %s %s",
	"%s at first, then %s %s":       "%s al empezar, luego %s %s",
	"times a minute":                "veces por minuto",
	"miles an hour":                 "millas por hora",
	"%d inches high:":               "de %d pulgadas:",
	"%d cm high:":                   "de %d cm:",
	"on the flat:":                  "en llano:",
	"%s %% uphill:":                 "cuesta del %s %%:",
	"How it builds up":              "Cómo va subiendo",
	"To be confirmed. Talk to your practitioner first.": "Por confirmar. Hable antes con su profesional.",
	"Whom to call":                            "A quién llamar",
	"With a question, call us: %s":            "Si tiene una pregunta, llámenos: %s",
	"With a question, ask your practitioner.": "Si tiene una pregunta, hable con su profesional.",
	"This page does not take the place of your doctor. If you feel unwell, stop and ask.": "Esta hoja no sustituye a su médico. Si se encuentra mal, pare y pregunte.",
})

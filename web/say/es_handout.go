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
	"Whom to call":                               "A quién llamar",
	"With a question, call us: %s":               "Si tiene una pregunta, llámenos: %s",
	"With a question, ask your practitioner.":    "Si tiene una pregunta, hable con su profesional.",
	"This page does not take the place of your doctor. If you feel unwell, stop and ask.": "Esta hoja no sustituye a su médico. Si se encuentra mal, pare y pregunte.",
})

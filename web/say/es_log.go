package say

import "golang.org/x/text/language"

// Logging a session, and what is told when something felt wrong.
var _ = translate(language.Spanish, map[string]string{
	"Choose":                   "Elija",
	"Log a session":            "Registrar una sesión",
	"What you did lately":      "Lo que hizo últimamente",
	"Did anything feel wrong?": "¿Se sintió mal en algún momento?",
	"What did you feel?":       "¿Qué sintió?",
	"Tick all that fits, also if it has passed.":                     "Marque todo lo que sintió, aunque ya haya pasado.",
	"Your session is not saved yet. You can finish it below, later.": "Su sesión aún no se ha guardado. Puede terminarla más abajo, después.",
	"You have deleted this session.":                                 "Ha borrado esta sesión.",
	"Saved: %s.":                                                     "Guardado: %s.",
	"One more thing":                                                 "Una cosa más",
	"Send":                                                           "Enviar",
	"Go on to your week":                                             "Ir a su semana",
	"Go to what you logged":                                          "Ir a lo que registró",
})

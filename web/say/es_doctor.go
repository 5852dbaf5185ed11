package say

import "golang.org/x/text/language"

var _ = translate(language.Spanish, map[string]string{
	"The doctor says: train only when we are with you.":                "El médico dice: solo en sesiones con el profesional.",
	"The doctor rules out: %s.":                                        "El médico no permite: %s.",
	"The doctor rules out until %s: %s.":                               "El médico no permite hasta el %s: %s.",
	"The doctor expects this and allows it up to a limit: %s, %s.":     "El médico espera esto y lo permite hasta un límite: %s, %s.",
	"The doctor's limit: upper blood pressure at most %d.":             "Límite del médico: tensión alta de %d como máximo.",
	"The doctor's limit: lower blood pressure at most %d.":             "Límite del médico: tensión baja de %d como máximo.",
	"The doctor's limit: blood sugar at least %d mg/dL (%.1f mmol/L).": "Límite del médico: azúcar en sangre de %d mg/dL (%.1f mmol/L) como mínimo.",
	"The doctor's limit: blood sugar at most %d mg/dL (%.1f mmol/L).":  "Límite del médico: azúcar en sangre de %d mg/dL (%.1f mmol/L) como máximo.",
	"The doctor's limit: oxygen at least %d %%.":                       "Límite del médico: oxígeno del %d %% como mínimo.",
	"The doctor's limit: effort at most %d of 20.":                     "Límite del médico: esfuerzo de %d sobre 20 como máximo.",
})

package say

import "golang.org/x/text/language"

// The session that comes next.
var _ = translate(language.Spanish, map[string]string{
	"Your next session": "Su próxima sesión",
	"You have done the sessions of this week. You can do one more if you feel well.": "Ya ha hecho las sesiones de esta semana. Puede hacer una más si se siente bien.",
	"Shown on %s at %s.":                          "Mostrado el %s a las %s.",
	"A stop that came later is not on this page.": "Si después hubo un aviso de parar, en esta página no está.",
	"Load it again":                               "Cargarla de nuevo",
	"This has changed":                            "Esto ha cambiado",
	"Something is new since you opened the page. What stands here now is what counts.": "Hay algo nuevo desde que abrió la página. Vale lo que pone aquí ahora.",
	"Off you go": "Adelante",
	"Log it when you are done. If you feel unwell, stop.": "Regístrela al terminar. Si se siente mal, pare.",
	"Easier than planned":             "Más suave de lo previsto",
	"I start now":                     "Empiezo ahora",
	"Log it":                          "Registrarla",
	"Before you start":                "Antes de empezar",
	"What to do today":                "Qué hacer hoy",
	"No session now":                  "Ninguna sesión ahora",
	"The hard part":                   "La parte fuerte",
	"%s in the hard part":             "%s en la parte fuerte",
	"%d minute in all":                "%d minuto en total",
	"%d minutes in all":               "%d minutos en total",
	"Nobody watches while you train.": "Nadie le vigila mientras entrena.",
	"Your plan waits. If you did something all the same, log it.":                                               "Su plan espera. Si aun así hizo algo, regístrelo.",
	"%d of the minutes are easy: half to start with, half to end with.":                                         "%d de los minutos son suaves: la mitad al empezar y la mitad al terminar.",
	"%d minute of it, in short bits, with easier ones between":                                                  "%d minuto, en ratos cortos, con otros más suaves en medio",
	"%d minutes of it, in short bits, with easier ones between":                                                 "%d minutos, en ratos cortos, con otros más suaves en medio",
	"Something is on hold, so this session is easier than planned.":                                             "Hay algo en pausa, así que esta sesión es más suave de lo previsto.",
	"For now you may not train as hard as planned, so this session is easier.":                                  "Por ahora no puede entrenar tan fuerte como estaba previsto, así que esta sesión es más suave.",
	"Your practitioner looks at your plan again before the next hard part. Until then, do it all at this pace.": "Su profesional revisa su plan antes de la próxima parte fuerte. Hasta entonces, haga todo a este ritmo.",
	"We ask about your health again before the next hard part. Until then, do it all at this pace.":             "Le preguntamos otra vez por su salud antes de la próxima parte fuerte. Hasta entonces, haga todo a este ritmo.",
	"A doctor has to say yes before the next hard part. Until then, do it all at this pace.":                    "Un médico tiene que decir que sí antes de la próxima parte fuerte. Hasta entonces, haga todo a este ritmo.",
	"The hard part comes later in your plan. For now, do it all at this pace.":                                  "La parte fuerte viene más adelante en su plan. Por ahora, haga todo a este ritmo.",
	"As of {t}. A stop that came later is not shown.":                                                           "Datos del {t}. Si después hubo un aviso de parar, aquí no se ve.",
})

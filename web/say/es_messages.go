package say

import "golang.org/x/text/language"

// Messages from the practice.
var _ = translate(language.Spanish, map[string]string{
	"Messages":                               "Mensajes",
	"What your practice has written to you.": "Lo que su clínica le ha escrito.",
	"Nobody watches this page live. If you need help now, call": "Nadie mira esta página en tiempo real. Si necesita ayuda ahora, llame al",
	"No messages yet": "Todavía no hay mensajes",
	"When your practice writes to you, you find it here.": "Cuando su clínica le escriba, lo encontrará aquí.",
	"About the week of %s":                                "Sobre la semana del %s",
	"About what you did on %s":                            "Sobre lo que hizo el %s",
	"This message was taken back.":                        "Este mensaje fue retirado.",
	"Your answer":                                         "Su respuesta",
	"Your answer, %s":                                     "Su respuesta, %s",
	"Answer":                                              "Responder",
	"You can answer once.":                                "Puede responder una vez.",
	"Send the answer":                                     "Enviar la respuesta",
	"Write something first.":                              "Escriba algo primero.",
	"This is too long. Use 500 characters at most.":       "Es demasiado largo. Use 500 caracteres como máximo.",
	"You have answered this already. Only one answer can be sent.": "Ya respondió a este mensaje. Solo se puede enviar una respuesta.",
	"Your answer is sent. It is read when the practice is open.":   "Su respuesta está enviada. Se lee cuando la clínica está abierta.",
})

package say

import "golang.org/x/text/language"

// Joining, passkeys, messages, reminders and the calendar.
var _ = translate(language.Spanish, map[string]string{
	"Sign in": "Entrar",
	"No way in? Ask your practice for a new link.": "¿No puede entrar? Pida un enlace nuevo a su consulta.",
	"Welcome, %s":     "Le damos la bienvenida, %s",
	"%s invites you.": "%s le invita.",
	"Choose a passphrase. With it and your sign-in name you can come back at any time.":                         "Elija una frase de acceso. Con ella y su nombre de usuario puede volver cuando quiera.",
	"This phone stays signed in for 30 days. If you lose it, tell your practice: they can sign it out at once.": "Este teléfono queda conectado 30 días. Si lo pierde, avise a su consulta: pueden desconectarlo enseguida.",
	"Save and go on":       "Guardar y seguir",
	"This link is used up": "Este enlace ya no sirve",
	"It works once and for three days. Ask for a new one.": "Sirve una sola vez y durante tres días. Pida uno nuevo.",
})

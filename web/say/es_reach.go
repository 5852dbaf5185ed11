package say

import "golang.org/x/text/language"

// Joining, passkeys, messages, reminders and the calendar.
var _ = translate(language.Spanish, map[string]string{
	"%s invites you.": "%s le invita.",
	"This phone stays signed in for 30 days. If you lose it, tell your practice: they can sign it out at once.": "Este teléfono mantiene la sesión abierta 30 días. Si lo pierde, avise a su clínica: pueden cerrar la sesión enseguida.",
})

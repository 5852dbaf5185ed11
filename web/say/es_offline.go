package say

import "golang.org/x/text/language"

// Logging without a signal, and what waits on the phone.
var _ = translate(language.Spanish, map[string]string{
	"Log without a signal": "Registrar sin señal",
	"No signal now":        "Ahora no hay señal",
	"Log all the same. What you save waits on this phone. It goes out by itself when there is a signal.": "Registre igual. Lo que guarde espera en este teléfono. Se envía solo cuando haya señal.",
	"You are not signed in on this phone. Sign in when there is a signal.":                               "No ha iniciado sesión en este teléfono. Hágalo cuando haya señal.",
	"1 session waits on this phone":                               "1 sesión espera en este teléfono",
	"{n} sessions wait on this phone":                             "{n} sesiones esperan en este teléfono",
	"Not yet sent. It goes out by itself when there is a signal.": "Aún no se ha enviado. Se envía solo cuando haya señal.",
	"Your session is kept on this phone. It is not yet sent.":     "Su sesión está guardada en este teléfono. Aún no se ha enviado.",
	"Your session is not saved.":                                  "Su sesión no está guardada.",
	"This phone cannot keep it, and it could not be sent. The clinic does not know of it. All you filled in is still here. Stay on this page.": "Este teléfono no puede guardarla y no se pudo enviar. La clínica no la conoce. Todo lo que rellenó sigue aquí. Quédese en esta página.",
	"Press Save again when there is a signal.":          "Pulse Guardar otra vez cuando haya señal.",
	"You are signed out.":                               "Se ha cerrado su sesión.",
	"Then come back to this page and press Save again.": "Luego vuelva a esta página y pulse Guardar otra vez.",
	"Send now":          "Enviar ahora",
	"Do the same again": "Hacer lo mismo otra vez",
	"{n} min":           "{n} min",
	"Sign in to send.":  "Inicie sesión para enviar.",
	"This one needs another look. It is not saved yet.": "Esta necesita otra mirada. Aún no se ha guardado.",
	"Correct it":    "Corregirla",
	"Throw it away": "Borrarla",
	"Throw this session away? It is saved nowhere else.": "¿Borrar esta sesión? No está guardada en ningún otro sitio.",
	"Part {n}":         "Parte {n}",
	"Go on":            "Seguir",
	"I have read this": "Lo he leído",
	"Sign out now?":    "¿Cerrar la sesión ahora?",
	"They stay on this phone, under your account. They are sent when you sign in here again. Nobody else sees them.": "Se quedan en este teléfono, en su cuenta. Se envían cuando vuelva a iniciar sesión aquí. Nadie más las ve.",
	"Keep them and sign out":                               "Guardarlas y cerrar la sesión",
	"Throw them away and sign out":                         "Borrarlas y cerrar la sesión",
	"Stay signed in":                                       "Seguir con la sesión abierta",
	"There is no signal now. Try to sign out again later.": "Ahora no hay señal. Cierre la sesión más tarde.",
})

package say

import "golang.org/x/text/language"

// Signing in with a passkey.
var _ = translate(language.Spanish, map[string]string{
	"Sign in with a passkey": "Entrar con una llave de acceso",
	"Did you save a passkey on this device? Then you need no passphrase.": "¿Guardó una llave de acceso en este dispositivo? Entonces no necesita la contraseña.",
	"Use a passkey instead":     "Usar una llave de acceso",
	"Or with this device alone": "O solo con este dispositivo",
	"A passkey lets you sign in the way you unlock this device. It may be a finger, your face or a code. Nobody can guess it.": "Con una llave de acceso entra igual que desbloquea este dispositivo. Puede ser con un dedo, la cara o un código. Nadie puede adivinarla.",
	"Then there is no passphrase. You can choose one later.":                                                                   "Entonces no hay contraseña. Puede elegir una más tarde.",
	"Choose a passphrase": "Elegir una contraseña",
	"You have none yet. With one you can also come back from a device without your passkey.": "Todavía no tiene. Con una también puede volver desde un dispositivo sin su llave de acceso.",
	"Save the passphrase": "Guardar la contraseña",
	"That did not work, and nothing was changed. Try again, or use the passphrase.": "No funcionó y no se cambió nada. Inténtelo de nuevo o use la contraseña.",
	"This device has a passkey for your account already.":                           "Este dispositivo ya tiene una llave de acceso para su cuenta.",
	"Passkeys":                     "Llaves de acceso",
	"Passkey":                      "Llave de acceso",
	"You have no passkey yet.":     "Todavía no tiene una llave de acceso.",
	"Made on %s.":                  "Creada el %s.",
	"Last used on %s.":             "Usada por última vez el %s.",
	"Remove %s":                    "Quitar %s",
	"Rename %s":                    "Cambiar el nombre de %s",
	"The name is saved.":           "El nombre está guardado.",
	"Type a name for this device.": "Escriba un nombre para este dispositivo.",
	"There are 20 passkeys already. Remove one first.": "Ya hay 20 llaves de acceso. Quite una primero.",
	"Remove": "Quitar",
	"If you remove one, all your other devices are signed out.":        "Si quita una, se cierra la sesión en todos sus otros dispositivos.",
	"Add a passkey on this device":                                     "Añadir una llave de acceso en este dispositivo",
	"Name of this device":                                              "Nombre de este dispositivo",
	"Such as: my phone":                                                "Por ejemplo: mi teléfono",
	"This passkey was not accepted. Try again, or use the passphrase.": "No se aceptó esta llave de acceso. Inténtelo de nuevo o use la contraseña.",
	"The passkey is saved.":                                            "La llave de acceso está guardada.",
	"Choose a passphrase first. Without it and without a passkey you could not come back.": "Elija primero una contraseña. Sin ella y sin llave de acceso no podría volver.",
	"The passkey is removed. All your other devices are signed out.":                       "La llave de acceso está quitada. Se cerró la sesión en todos sus otros dispositivos.",
})

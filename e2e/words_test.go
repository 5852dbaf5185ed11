package e2e

import "testing"

// A client joins in Spanish, reads the week, the log and the plan in it, and
// changes to English and back on the page of the account.
func TestInSpanish(t *testing.T) {
	t.Parallel()
	NeedAxe(t)
	brae := Start(t)
	practice := NewPractice(t, brae)

	pia := NewPerson(t, brae, "practitioner", Desk)
	pia.SignIn(practice.PractitionerName, PractitionerPassphrase)
	pia.Open("/clients/new")
	pia.Fill("First name", "Elena")
	pia.Fill("Last name", "Elder")
	pia.Fill("Date of birth", BirthDate(60))
	pia.Press("Save and begin the intake")
	quickIntake(pia)
	pia.Press("Decide")
	pia.Press("Prescribe")
	pia.Fill("Sessions a week", "5")
	pia.Fill("Minutes each time", "30")
	pia.Fill("Type", "caminar rápido en llano")
	pia.Press("Sign")
	pia.Fill("Sign-in name", "elena")
	pia.Press("Make the link")

	phone := NewPerson(t, brae, "client", Phone)
	language := func(want string) {
		t.Helper()
		if got := Ask[string](phone, `return document.documentElement.lang`); got != want {
			t.Errorf("%s is marked as %q; want %q", phone.Path(), got, want)
		}
	}
	phone.Open(linkShown(pia))
	language("en")
	phone.Follow("Español")
	language("es")
	phone.Sees("Le damos la bienvenida, Elena Elder", "Elija una contraseña")
	phone.Inspect("join", "in Spanish")
	phone.Fill("Contraseña", ClientPassphrase)
	phone.Press("Guardar y seguir")

	phone.Is("/week", 200)
	language("es")
	phone.Sees("Su semana tiene 150 minutos", "La clínica no sigue sus registros en tiempo real", "Le quedan 5 sesiones esta semana", "Cuándo parar")
	phone.SeesNot("This week", "minutes")
	phone.Inspect("week", "in Spanish")
	phone.Follow("Registrar")
	phone.Is("/log", 200)
	language("es")
	phone.Sees("Guardar")
	phone.Inspect("log", "in Spanish")
	phone.Follow("Mi plan")
	phone.Is("/plan", 200)
	language("es")
	phone.Sees("5 veces por semana", "Puede hablar con frases enteras", "Por qué este plan", "Firmado por")
	phone.Inspect("plan", "in Spanish")

	phone.Open("/account")
	phone.Sees("Idioma y unidades", "Ha entrado como elena")
	phone.Inspect("account", "in Spanish")
	phone.Choose("Idioma", "English")
	phone.Choose("Distancias en", "Millas")
	phone.Press("Guardar")
	phone.Is("/account", 200)
	language("en")
	phone.Sees("Saved.", "Language and units")
	phone.Open("/log")
	phone.Sees("Brisk walk, about 3.5 mph")
	phone.Open("/account")
	phone.Choose("Language", "Español")
	phone.Press("Save")
	language("es")
	phone.Press("Cerrar sesión")
	language("es") // the sign-in page keeps it
	phone.Sees("Nombre de usuario")
}

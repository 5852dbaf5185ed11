package say

import (
	"fmt"

	"golang.org/x/text/language"
)

// What a client can tick when something felt wrong, and what is asked then.
var _ = translate(language.Spanish, map[string]string{
	"Chest, jaw or arm":               "Pecho, mandíbula o brazo",
	"Faint or dizzy":                  "Desmayo o mareo",
	"Breathing":                       "Respiración",
	"Heartbeat":                       "Latidos del corazón",
	"Face, arms, speech or sight":     "Cara, brazos, habla o vista",
	"Legs, feet and swelling":         "Piernas, pies e hinchazón",
	"Fever, heat and muscles":         "Fiebre, calor y músculos",
	"Joints, back and falls":          "Articulaciones, espalda y caídas",
	"Tired, low or a headache":        "Cansancio, desánimo o dolor de cabeza",
	"Blood sugar":                     "Azúcar en la sangre",
	"Pregnancy":                       "Embarazo",
	"Small things, and anything else": "Cosas pequeñas y todo lo demás",

	"Pressure or pain in my chest, jaw, neck, back or arm, now":                     "Presión o dolor en el pecho, la mandíbula, el cuello, la espalda o el brazo, ahora",
	"Pressure or pain like that which lasted more than a few minutes, or came back": "Presión o dolor así que duró más de unos minutos o que volvió",
	"Pressure or pain like that while I was resting":                                "Presión o dolor así mientras descansaba",
	"Pressure or pain like that during exercise, gone soon after I stopped":         "Presión o dolor así al hacer ejercicio, que pasó pronto al parar",
	"My usual angina, no stronger than 2 out of 4, gone soon after I slowed down":   "Mi angina de siempre, no más fuerte que 2 de 4, que pasó pronto al ir más despacio",
	"I used my angina spray or tablet once and it helped":                           "Usé mi espray o pastilla para la angina una vez y me ayudó",
	"I used my angina spray or tablet and it did not help within 5 minutes":         "Usé mi espray o pastilla para la angina y no me ayudó en 5 minutos",
	"I used my angina spray or tablet twice or more":                                "Usé mi espray o pastilla para la angina dos veces o más",
	"I fainted or passed out":                                                       "Me desmayé o perdí el conocimiento",
	"I was dizzy or nearly fainted while I trained":                                 "Me mareé o casi me desmayé durante el ejercicio",
	"Light-headed only when I stopped suddenly, gone in 1 or 2 minutes":             "Mareo leve solo al parar de golpe, que pasó en 1 o 2 minutos",
	"Light-headed on stopping, three times or more":                                 "Mareo leve al parar, tres veces o más",
	"Short of breath at rest, or too breathless to speak":                           "Me falta el aire en reposo, o tanto que no puedo hablar",
	"Much more out of breath than the effort explains; it settled":                  "Mucho más falta de aire de lo que explica el esfuerzo; ya pasó",
	"Out of breath in the way my doctor told me to expect; it settled":              "Falta de aire como mi médico me dijo que podía pasar; ya pasó",
	"Short of breath when I lie flat, or it woke me at night":                       "Me falta el aire al acostarme, o me despertó por la noche",
	"Still short of breath more than 10 minutes after I stopped":                    "Aún me faltaba el aire más de 10 minutos después de parar",
	"Still short of breath an hour or more after I stopped":                         "Aún me faltaba el aire una hora o más después de parar",
	"Racing or uneven heartbeat, short, like those my doctor called harmless":       "Latidos rápidos o irregulares, breves, como los que mi médico llamó inofensivos",
	"Racing or uneven heartbeat that is new to me":                                  "Latidos rápidos o irregulares que son nuevos para mí",
	"Racing or uneven heartbeat for more than 5 minutes":                            "Latidos rápidos o irregulares durante más de 5 minutos",
	"My heart device gave me one shock, and I feel well":                            "Mi aparato del corazón me dio una descarga y me siento bien",
	"My heart device gave me a shock, and I do not feel well":                       "Mi aparato del corazón me dio una descarga y no me siento bien",
	"My heart device gave me two or more shocks within 24 hours":                    "Mi aparato del corazón me dio dos o más descargas en 24 horas",
	"Face, arm or leg suddenly weak or numb, even if it passed":                     "De repente, cara, brazo o pierna débil o dormido, aunque haya pasado",
	"Suddenly slurred or lost speech, even if it passed":                            "De repente hablé mal o no pude hablar, aunque haya pasado",
	"Suddenly lost or double sight, even if it passed":                              "De repente perdí la vista o vi doble, aunque haya pasado",
	"Suddenly confused, even if it passed":                                          "De repente, confusión, aunque haya pasado",
	"Suddenly could not keep my balance or walk straight, even if it passed":        "De repente no pude mantener el equilibrio o caminar recto, aunque haya pasado",
	"Sudden headache, the worst I ever had":                                         "Dolor de cabeza repentino, el peor de mi vida",
	"One calf painful and swollen or red":                                           "Una pantorrilla con dolor e hinchada o roja",
	"Leg cramp when I walk that goes when I rest, new or other than usual":          "Calambre en la pierna al caminar que pasa al descansar, nuevo o distinto al de siempre",
	"My usual leg cramp when I walk, within the limit my doctor set":                "Mi calambre de siempre al caminar, dentro del límite que puso mi médico",
	"Foot pain at rest, or a cold, white or blue foot":                              "Dolor de pie en reposo, o un pie frío, blanco o azul",
	"Both ankles newly swollen":                                                     "Los dos tobillos hinchados desde hace poco",
	"My weight went up more than my limit in a day or a week":                       "Mi peso subió más que mi límite en un día o una semana",
	"Unusually tired into the next day":                                             "Más cansancio de lo normal hasta el día siguiente",
	"Unusually tired for three days or more":                                        "Más cansancio de lo normal durante tres días o más",
	"Everyday tasks have become harder":                                             "Las tareas de cada día me cuestan más",
	"Coughing up pink or bloody froth":                                              "Tos con espuma rosada o con sangre",
	"Wheeze that settled with my reliever":                                          "Pitidos al respirar que pasaron con mi inhalador",
	"I need my reliever more often":                                                 "Necesito mi inhalador más a menudo",
	"Wheeze that my reliever does not help":                                         "Pitidos al respirar que mi inhalador no alivia",
	"My oxygen fell below 88 while I trained":                                       "Mi oxígeno bajó de 88 con el ejercicio",
	"My oxygen was still low 5 minutes after I stopped":                             "Mi oxígeno no se recuperó en 5 minutos",
	"Low sugar that I treated myself":                                               "Azúcar baja que traté yo mismo",
	"Low sugar, and I needed help or passed out":                                    "Azúcar baja, y necesité ayuda o perdí el conocimiento",
	"High sugar with ketones, or with vomiting":                                     "Azúcar alta con cetonas o con vómitos",
	"High sugar, and I am drowsy or breathe deeply":                                 "Azúcar alta, y tengo mucho sueño o respiro hondo",
	"Fever": "Fiebre",
	"Ill as with flu: aching, shivering, swollen glands":                                      "Como con gripe: dolor del cuerpo, escalofríos, ganglios hinchados",
	"Dark urine, like cola, after exercise":                                                   "Orina oscura, como de cola, después del ejercicio",
	"Very painful, swollen or weak muscles 1 to 3 days after exercise":                        "Músculos con mucho dolor, hinchados o débiles de 1 a 3 días después del ejercicio",
	"Confused, very hot skin, or collapsed in the heat":                                       "Confusión, piel muy caliente o desplome por el calor",
	"The usual sore muscles, 1 to 3 days":                                                     "Las agujetas de siempre, de 1 a 3 días",
	"Joint pain, 2 out of 10 or less":                                                         "Dolor de articulación, 2 de 10 o menos",
	"Joint pain, 3 to 5 out of 10, settled by the next morning":                               "Dolor de articulación, de 3 a 5 de 10, que pasó a la mañana siguiente",
	"Joint pain over 5 out of 10, or worse the next morning":                                  "Dolor de articulación de más de 5 de 10, o peor a la mañana siguiente",
	"A joint that is hot, swollen, locked or bent out of shape, or that I cannot stand on":    "Una articulación caliente, hinchada, trabada o deformada, o en la que no puedo apoyarme",
	"Back pain with numbness between my legs, new bladder or bowel trouble, or two weak legs": "Dolor de espalda con la entrepierna dormida, problemas nuevos para orinar o defecar, o las dos piernas débiles",
	"I fell and was not hurt":                                                                 "Me caí y no me hice daño",
	"I fell and hit my head":                                                                  "Me caí y me golpeé la cabeza",
	"I fell and am drowsy or not myself":                                                      "Me caí y tengo mucho sueño o no me siento como siempre",
	"I fell and cannot get up, or my hip hurts":                                               "Me caí y no puedo levantarme, o me duele la cadera",
	"My breastbone clicks, moves or leaks, or I have a fever with it":                         "El hueso del pecho me cruje, se mueve o supura, o tengo fiebre además",
	"A wound on my foot":                                                                      "Una herida en el pie",
	"Sight suddenly changed, or new spots in it":                                              "La vista cambió de repente, o veo manchas nuevas",
	"Pregnant and bleeding":                                                                   "Embarazo con sangrado",
	"Pregnant and losing fluid":                                                               "Embarazo con pérdida de líquido",
	"Pregnant with regular, painful tightening":                                               "Embarazo con contracciones regulares y dolorosas",
	"Pregnant and breathless before I start":                                                  "Embarazo y falta de aire antes de empezar",
	"Pregnant with weak muscles that upset my balance":                                        "Embarazo con músculos débiles que me quitan el equilibrio",
	"Pregnant and the baby moves less":                                                        "Embarazo y el bebé se mueve menos",
	"Mild headache with exercise":                                                             "Dolor de cabeza leve con el ejercicio",
	"Severe headache with exercise":                                                           "Dolor de cabeza fuerte con el ejercicio",
	"Sick, in a cold sweat or pale during exercise":                                           "Náuseas, sudor frío o palidez durante el ejercicio",
	"A stitch in my side":                                                                     "Una punzada en el costado",
	"A mild muscle cramp":                                                                     "Un calambre leve",
	"A blister":                                                                               "Una ampolla",
	"I feel depressed":                                                                        "Me siento deprimido o deprimida",
	"I think about harming myself":                                                            "Pienso en hacerme daño",
	"Something else":                                                                          "Otra cosa",
	"I am not sure":                                                                           "No estoy seguro o segura",

	"Did you have pressure, tightness or pain in your chest, jaw, neck, back or arm?": "¿Tuvo presión, opresión o dolor en el pecho, la mandíbula, el cuello, la espalda o el brazo?",
	"Did you faint or pass out?":                                                                "¿Se desmayó o perdió el conocimiento?",
	"Are you short of breath at rest, or too breathless to speak?":                              "¿Le falta el aire en reposo, o tanto que no puede hablar?",
	"Was your heart racing or uneven?":                                                          "¿Tuvo latidos rápidos o irregulares?",
	"Did your heart device give you a shock?":                                                   "¿Le dio una descarga su aparato del corazón?",
	"Were your face, arm or leg weak or numb, or your speech or sight lost, even if it passed?": "¿Tuvo la cara, un brazo o una pierna débil o dormida, o perdió el habla o la vista, aunque haya pasado?",
	"Did you cough up blood or pink froth?":                                                     "¿Tosió sangre o espuma rosada?",
	"Was your urine dark, like cola?":                                                           "¿Tuvo la orina oscura, como de cola?",
	"Were you confused, very hot or close to collapse in the heat?":                             "¿Tuvo confusión, mucho calor o casi se desplomó por el calor?",
	"Is one calf painful and swollen or red?":                                                   "¿Le duele una pantorrilla y está hinchada o roja?",
	"Does a foot hurt at rest, or is it cold, white or blue?":                                   "¿Le duele un pie en reposo, o está frío, blanco o azul?",
	"Are you numb between the legs, or have you new trouble with bladder or bowel?":             "¿Tiene la entrepierna dormida, o problemas nuevos para orinar o defecar?",
	"Did you fall and hit your head?":                                                           "¿Se cayó y se golpeó la cabeza?",
	"Was your sugar so low that you needed help?":                                               "¿Tuvo el azúcar tan baja que necesitó ayuda?",
	"Are you pregnant and bleeding or losing fluid?":                                            "¿Está embarazada y sangra o pierde líquido?",
	"Do you think about harming yourself?":                                                      "¿Piensa en hacerse daño?",
	"Do you feel depressed?":                                                                    "¿Se siente deprimido o deprimida?",

	"Since then: was your urine dark, like cola?":                                        "Desde entonces: ¿tuvo la orina oscura, como de cola?",
	"Since then: any pressure, tightness or pain in your chest, jaw, neck, back or arm?": "Desde entonces: ¿presión, opresión o dolor en el pecho, la mandíbula, el cuello, la espalda o el brazo?",
	"Since then: did you faint or pass out?":                                             "Desde entonces: ¿se desmayó o perdió el conocimiento?",
	"Since then: were you short of breath lying flat, or at night?":                      "Desde entonces: ¿le faltó el aire al acostarse o por la noche?",
	"Are you short of breath at rest?":                                                   "¿Le falta el aire en reposo?",
	"Since then: is one calf swollen and painful or red?":                                "Desde entonces: ¿tiene una pantorrilla hinchada y con dolor o roja?",
	"Since then: are both ankles newly swollen?":                                         "Desde entonces: ¿se le han hinchado los dos tobillos?",
	"Since then: did your weight go up more than your limit?":                            "Desde entonces: ¿subió su peso más que su límite?",
	"Since then: were you so tired that everyday tasks became harder?":                   "Desde entonces: ¿tuvo tanto cansancio que le costaron más las tareas de cada día?",
	"Did any joint hurt more the next morning?":                                          "¿Le dolió más alguna articulación a la mañana siguiente?",
})

// What is told to a report.
var _ = translate(language.Spanish, map[string]string{
	"Stop now. Sit or lie down.": "Pare ahora. Siéntese o acuéstese.",
	"Call {emergency_number} now. Do not drive yourself. Do not wait to see if it passes.":                                        "Llame ahora al {emergency_number}. No conduzca. No espere a ver si se le pasa.",
	"If someone is with you, ask them to stay.":                                                                                   "Si hay alguien con usted, pídale que se quede.",
	"Ask them to fetch a defibrillator if there is one. They should be ready to press hard on your chest if you stop responding.": "Pídale que traiga un desfibrilador si hay uno. Debe estar listo para apretarle fuerte el pecho si usted deja de responder.",
	"Unlock your door.": "Deje la puerta sin llave.",
	"If you have been given a spray or tablet for angina, use it as you were told.":                      "Si le dieron un espray o una pastilla para la angina, úselo como le dijeron.",
	"Your plan is paused. {clinic} will contact you.":                                                    "Su plan está en pausa. {clinic} se pondrá en contacto con usted.",
	"{clinic} is not an emergency service.":                                                              "{clinic} no es un servicio de urgencias.",
	"You can talk to someone at any time: {crisis_line}.":                                                "Puede hablar con alguien a cualquier hora: {crisis_line}.",
	"Thank you for telling us. You do not have to deal with this alone.":                                 "Gracias por decírnoslo. No tiene que pasar por esto a solas.",
	"If you might hurt yourself, call {emergency_number} now.":                                           "Si puede hacerse daño, llame ahora al {emergency_number}.",
	"Stay with someone you trust, or ask them to come.":                                                  "Quédese con alguien de confianza, o pídale que venga.",
	"Please rest. Do not exercise until you have had no fever for 24 hours, without medicine for it.":    "Por favor, descanse. No haga ejercicio hasta llevar 24 horas sin fiebre y sin medicina para ella.",
	"Then tell us here, and you can go on.":                                                              "Después díganoslo aquí y podrá seguir.",
	"Please stop all exercise until we have spoken.":                                                     "Por favor, no haga ningún ejercicio hasta que hayamos hablado.",
	"Please do only light things until we have spoken.":                                                  "Por favor, haga solo actividad suave hasta que hayamos hablado.",
	"Please keep it easy. Nothing hard until we have looked at this.":                                    "Por favor, tómeselo con calma. Nada duro hasta que lo hayamos mirado.",
	"Leave out the exercise that hurt.":                                                                  "Deje el ejercicio que le dolió.",
	"Keep weight off your feet for exercise. Do not swim with an open wound.":                            "Haga ejercicio sin apoyar los pies. No nade con una herida abierta.",
	"Thank you. We have it.":                                                                             "Gracias. Lo hemos recibido.",
	"If it comes back, gets worse or worries you, call {emergency_number}.":                              "Si vuelve, empeora o le preocupa, llame al {emergency_number}.",
	"Part of this was harder than we agreed for now. Please stay below that until we tell you.":          "Una parte fue más dura de lo que acordamos por ahora. Por favor, vaya más suave hasta que le avisemos.",
	"Your breathing and your heart rate do not fit together. How well could you talk? Any new medicine?": "Su respiración y su pulso no encajan. ¿Podía hablar bien? ¿Alguna medicina nueva?",
	"Next time, slow down bit by bit for 5 minutes before you stop.":                                     "La próxima vez, vaya más despacio poco a poco durante 5 minutos antes de parar.",
	"Call the clinic that looks after your device today.":                                                "Llame hoy a la clínica que cuida de su aparato.",
	"Tell them about the dark urine. You need to be seen today.":                                         "Cuénteles lo de la orina oscura. Tienen que verle hoy.",
	"Tell them about your muscles. You need to be seen today.":                                           "Cuénteles lo de los músculos. Tienen que verle hoy.",
	"Get into the shade or a cool room. Wet your skin and fan it.":                                       "Vaya a la sombra o a un lugar fresco. Mójese la piel y abaníquese.",

	"Please stop exercising for now": "Por favor, no haga ejercicio por ahora",
	"Only easy activity for now":     "Solo actividad suave por ahora",
	"Keep it easy for now":           "Con calma por ahora",
	"We will speak to you":           "Hablaremos con usted",
	"We will look at this":           "Lo miraremos",
	"We have noted this":             "Lo hemos anotado",
	"We have it":                     "Lo hemos recibido",
	"Your session could not be saved. Send it again later.": "Su sesión no se pudo guardar. Envíela otra vez más tarde.",
})

// What is told with the days within which somebody acts, as many as a practice
// can set.
var _ = translate(language.Spanish, withDays())

func withDays() map[string]string {
	texts := map[string]string{}
	add := func(english, spanish string) {
		texts["Thank you for telling us. We will speak to you "+english+"."] = "Gracias por decírnoslo. Hablaremos con usted " + spanish + "."
		texts["Thank you for telling us. We will answer "+english+"."] = "Gracias por decírnoslo. Le responderemos " + spanish + "."
		texts["Thank you. We have noted this and will look at it "+english+"."] = "Gracias. Lo hemos anotado y lo miraremos " + spanish + "."
	}
	add("today, if we are open, or else on the next working day", "hoy, si está abierto, o si no el próximo día laborable")
	add("within 1 working day", "en 1 día laborable")
	add("within 1 day", "en 1 día")
	for n := 2; n <= 30; n++ {
		add(fmt.Sprintf("within %d working days", n), fmt.Sprintf("en %d días laborables", n))
		add(fmt.Sprintf("within %d days", n), fmt.Sprintf("en %d días", n))
	}
	return texts
}

package screening

import "brae/domain/source"

var symptomCites = []source.Key{"acsm_symptoms", "screening_memory"}

// symptomTerms is the nine headings of signs and symptoms that suggest disease
// of the heart, vessels, lungs or metabolism, in our words.
//
// Source: acsm_symptoms, aha_signs, screening_memory.
var symptomTerms = [...]Term{
	{
		Code: "chest_pressure", Row: "SX_CHEST", Kind: Symptom, Name: "Chest pressure or pain", Cites: symptomCites,
		Asks: "Do you get pressure, tightness, heaviness, burning or pain in your chest, neck, jaw, shoulder, back or arm? " +
			"Think of effort, cold, stress, and after a meal.",
		Means: "The heart muscle may be short of blood. For it speaks a squeezing or heavy feeling behind the breastbone that effort " +
			"brings on; against it a knife-like pain that changes with a breath or one movement.",
		Acute: "It is there now, lasts more than a few minutes, comes back, comes at rest, or comes with sweat, sickness, breathlessness or faintness.",
	},
	{
		Code: "breathlessness", Row: "SX_DYSP", Kind: Symptom, Name: "Breathlessness at rest or with little effort", Cites: symptomCites,
		Asks:  "Are you short of breath at rest, or with so little effort that it surprises you?",
		Means: "The left side of the heart may be weak, or the lungs ill.",
		Acute: "It is severe, sudden, or there at rest now.",
	},
	{
		Code: "fainting", Row: "SX_SYNC", Kind: Symptom, Name: "Fainting, near-fainting or dizzy spells", Cites: symptomCites,
		Asks: "Have you fainted, nearly fainted or had dizzy spells, above all during effort?",
		Means: "Too little blood may reach the brain: rhythm, valve, heart muscle or low pressure. Feeling light-headed after stopping " +
			"suddenly is often harmless, and still told.",
		Acute: "You fainted, or were faint during effort or with chest pain or a racing heart.",
	},
	{
		Code: "breathless_lying", Row: "SX_ORTH", Kind: Symptom, Name: "Breathlessness lying flat or at night", Cites: symptomCites,
		Asks:  "Are you short of breath lying flat, do you need more pillows, or do you wake at night short of breath and have to sit up?",
		Means: "The left side of the heart may be weak; sometimes it is the lungs.",
		Acute: "You cannot lie flat tonight, or cough up pink froth.",
	},
	{
		Code: "ankle_swelling", Row: "SX_OEDM", Kind: Symptom, Name: "Swelling of the ankles or of one leg", Cites: symptomCites,
		Asks:  "Do both ankles swell, more so in the evening, or is one leg swollen?",
		Means: "Both: the heart or the veins. One: a clot or a blocked lymph vessel. All over: kidney, heart or liver.",
		Acute: "One calf is newly swollen, painful or red; or with heart failure your weight is climbing fast.",
	},
	{
		Code: "palpitations", Row: "SX_PALP", Kind: Symptom, Name: "A racing, pounding or irregular heartbeat", Cites: symptomCites,
		Asks:  "Does your heart race, pound, flutter or skip beats without a reason?",
		Means: "The rhythm of the heart may be disturbed; also worry, too few red blood cells, fever or the thyroid.",
		Acute: "It comes with faintness, chest pain or breathlessness, or an implanted defibrillator gave a shock.",
	},
	{
		Code: "leg_pain_walking", Row: "SX_CLAU", Kind: Symptom, Name: "Leg pain that walking brings on", Cites: symptomCites,
		Asks: "Do you get a cramp-like pain in calf, thigh or buttock that walking brings on, sooner uphill, and that is gone a minute or " +
			"two after you stop?",
		Means: "The arteries of the legs may be narrowed.",
		Acute: "The foot hurts at rest, is cold, white, blue or numb, or has a new sore.",
	},
	{
		Code: "heart_murmur", Row: "SX_MURM", Kind: Symptom, Name: "A heart murmur", Cites: symptomCites,
		Asks:  "Has a doctor told you that you have a heart murmur?",
		Means: "Often it is innocent. It can be a valve or a narrowed way out of the heart.",
	},
	{
		Code: "unusual_tiredness", Row: "SX_FATG", Kind: Symptom, Name: "Unusual tiredness or breathlessness with everyday tasks", Cites: symptomCites,
		Asks:  "Do everyday tasks that you used to manage make you unusually tired or short of breath?",
		Means: "It may be harmless. It may be the start or the worsening of disease of the heart, lungs or metabolism.",
		Acute: "It is sudden and comes with any of the above.",
	},
}

package medicine

import "brae/domain/source"

// Rules is the rules and tables of this package, for the Sources page.
var Rules = []source.Rule{
	{
		ID: "medicine.classes", Topic: source.TopicMedicine,
		Says: "55 classes of medicines, each with its effect on resting heart rate, exercise heart rate and blood " +
			"pressure, and a zone code for what it leaves valid.",
		Cites: []source.Key{"healthlinkbc_medicines", "peel1995", "medicine_memory"},
	},
	{
		ID: "medicine.beta_blockers", Topic: source.TopicMedicine,
		Says: "On a beta-blocker a maximum predicted from age is not used (Z1). That means not to trust the " +
			"prediction, not that heart rate is always low; work set by perceived exertion stays repeatable.",
		Cites: []source.Key{"eston1997", "mitchell2025", "threshold_bb2021", "maldonado2020", "adequate_effort2022"},
	},
	{
		ID: "medicine.calcium_blockers", Topic: source.TopicMedicine,
		Says:  "Verapamil and diltiazem slow the heart and count as Z1; amlodipine and its like do not.",
		Cites: []source.Key{"matsuda1991", "healthlinkbc_medicines", "medicine_memory"},
	},
	{
		ID: "medicine.names", Topic: source.TopicMedicine,
		Says:  "211 generic names with the spellings that count as the same; brand names are aliases of the practice.",
		Cites: []source.Key{"who_atc", "medicine_memory"},
	},
	{
		ID: "medicine.zones", Topic: source.TopicMedicine,
		Says: "Of several zone codes the strictest counts, in the order Z3, Z1, Z2, Z4, Z0; Z5 and Z6 add to it. In an " +
			"irregular rhythm it is Z3 whatever the medicine.",
		Cites: []source.Key{"practice", "medicine_memory"},
	},
	{
		ID: "medicine.matching", Topic: source.TopicMedicine,
		Says: "Names are compared in lower case without accents, doses, forms and salts, the longest name first; a " +
			"combination takes every class found. One slip in a word of 5 letters or more is a suggestion that a " +
			"practitioner confirms. What fits nothing is kept as typed, for a practitioner to classify.",
		Cites: []source.Key{"practice"},
	},
	{
		ID: "medicine.eye_drops", Topic: source.TopicMedicine,
		Says: "Timolol, betaxolol, carteolol and levobunolol in the eye count as Z2, as tablets as Z1; without a word " +
			"about the route, as tablets.",
		Cites: []source.Key{"who_atc", "medicine_memory", "practice"},
	},
	{
		ID: "medicine.change", Topic: source.TopicMedicine,
		Says: "Starting, stopping or changing the dose of a Z1, Z2 or Z3 medicine makes resting heart rate and any " +
			"measured maximum stale, leaves talk test and perceived exertion, and puts a decision with a heart-rate " +
			"limit under review. Starting insulin or insulin-releasing tablets puts a glucose limit under review.",
		Cites: []source.Key{"practice"},
	},
	{
		ID: "medicine.hints", Topic: source.TopicMedicine,
		Says: "A medicine that is given for a disease which the client denies leaves the screening incomplete until a " +
			"practitioner has asked.",
		Cites: []source.Key{"practice", "medicine_memory"},
	},
	{
		ID: "medicine.clash", Topic: source.TopicMedicine,
		Says:  "A nitrate, nicorandil or molsidomine together with a PDE5 inhibitor is passed on to the prescriber the same day.",
		Cites: []source.Key{"medicine_memory"},
	},
}

// Settings is the numbers of this package that a practice may change: none.
var Settings = []source.Setting{}

package source

// The citations of the doctor-review rules. That a decision counts for twelve
// months is in the screening model; most of the rest is the practice's own.
var clearance = []Citation{
	{
		Key: "cms_benefit_policy", Topic: TopicClearance, Status: Published,
		Text: "Medicare Benefit Policy Manual, cardiac rehabilitation: a written plan, reviewed and signed by a physician every 30 days.",
		Note: "Read in a copy. It binds programmes in the United States that bill for it.",
	},
	{
		Key: "clearance_forms", Topic: TopicClearance, Status: PublishedSecond,
		Text: "Published forms for medical clearance before exercise: without restriction, with restrictions, not; activities to avoid; heart rate; signature and date.",
		Note: "Three forms were read, as examples of what is asked; none of them is reproduced.",
	},
	{
		Key: "hl7_physical_activity", Topic: TopicClearance, Status: Published,
		Text:    "HL7. US physical activity implementation guide, workflow.",
		Address: "https://hl7.org/fhir/us/physical-activity/",
		Note:    "Matching words for the states of a request: draft, active, on hold, revoked, completed, entered in error.",
	},
	{
		Key: "consent_elements", Topic: TopicClearance, Status: PublishedSecond,
		Text: "The parts of an informed consent before exercise, from study material; the list agrees with common consent forms.",
		Note: "Our words. To be read by a lawyer: what has to be in it differs by place.",
	},
	{
		Key: "gdpr_9", Topic: TopicClearance, Status: PublishedSecond,
		Text: "Regulation (EU) 2016/679, article 9: health data need explicit consent or another ground, such as vital interests of somebody who cannot consent, " +
			"or care by a professional bound to secrecy.",
		Note: "Points 1 and 2(a) read; 2(c) and 2(h) from memory. Other places have other law: have a lawyer say which exceptions hold for the practice.",
	},
	{
		Key: "apta_documentation", Topic: TopicClearance, Status: PublishedSecond,
		Text: "American Physical Therapy Association. Documentation of patient and client management: dated and authenticated by who did it, " +
			"with a summary at the end of the episode.",
		Note: "Abstract of the policy read. Law and payers may ask for more.",
	},
}

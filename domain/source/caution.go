package source

// The citations of what is cautioned with certain conditions.
var caution = []Citation{
	{
		Key: "pescatello2004", Topic: TopicCaution, Status: PublishedSecond,
		Text: "Pescatello LS, Franklin BA, Fagard R, et al. Exercise and hypertension. Med Sci Sports Exerc 2004;36:533-553, as summarised.",
		Note: "Pressure can fall when effort stops suddenly, above all on vasodilating medicines. Read in a copy and a summary.",
	},
	{
		Key: "diabetes_tables", Topic: TopicCaution, Status: PublishedSecond,
		Text:    "Complications of diabetes and exercise, tables adapted from the American Diabetes Association, PMC4254543 table 4 and PMC7069691 table 4.",
		Address: "https://pmc.ncbi.nlm.nih.gov/articles/PMC7069691/table/T4",
		Note:    "Eyes, feet and autonomic nerves. About kidneys the sources disagree: the doctor decides.",
	},
	{
		Key: "howden2015", Topic: TopicCaution, Status: Published,
		Text:    "Howden EJ, Coombes JS, Isbel NM. The role of exercise training in the management of chronic kidney disease. Curr Opin Nephrol Hypertens 2015;24:480-487.",
		Address: "https://journals.lww.com/co-nephrolhypertens/Fulltext/2015/11000/The_role_of_exercise_training_in_the_management_of.3.aspx",
	},
	{
		Key: "dialysis_review", Topic: TopicCaution, Status: PublishedSecond,
		Text: "Wilund KR, Jeong JH, Greenwood SA. Addressing myths about exercise in hemodialysis patients. 2019, as copied.",
		Note: "Calls several of the usual limits tradition rather than evidence.",
	},
	{
		Key: "pad_top_ten", Topic: TopicCaution, Status: Published,
		Text:    "American Heart Association. Ten things about exercise with peripheral artery disease.",
		Address: "https://professional.heart.org/professional/ScienceNews/UCM_503185_Top-Ten-Optimal-Exercise-Programs-for-Patients-With-Peripheral-Artery-Disease.jsp",
	},
	{
		Key: "lung_breathlessness", Topic: TopicCaution, Status: Published,
		Text:    "Breathlessness scores in lung rehabilitation, PMC7892370 table 1.",
		Address: "https://pmc.ncbi.nlm.nih.gov/articles/PMC7892370/table/T1",
		Note:    "3 to 4 of 10; other programmes go to 6, from memory.",
	},
	{
		Key: "joint_pain_programme", Topic: TopicCaution, Status: PublishedSecond,
		Text: "Pain rules of an exercise programme for the knee, and Roos EM, et al. 2018, as copied.",
		Note: "Up to 2 of 10 is ideal, never above 5; back to usual within the hour and no worse the next morning.",
	},
	{
		Key: "shubert2011", Topic: TopicCaution, Status: PublishedSecond,
		Text: "Shubert TE. Evidence-based exercise prescription for balance and falls prevention. J Geriatr Phys Ther 2011;34:100-108.",
		Note: "About 50 hours of challenging balance work are the smallest dose that prevents falls.",
	},
	{
		Key: "billinger2014", Topic: TopicCaution, Status: PublishedSecond,
		Text: "Billinger SA, Arena R, Bernhardt J, et al. Physical activity and exercise recommendations for stroke survivors. Stroke 2014;45:2532-2553, abstract.",
	},
	{
		Key: "caution_memory", Topic: TopicCaution, Status: FromMemory,
		Text: "Cautions with common conditions, as recalled while the rules were written.",
		Note: "To be checked against the current guidelines.",
	},
}

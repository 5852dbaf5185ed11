package source

// The two citations that stand for the trade itself and for the practice.
var practice = []Citation{
	{
		Key:    "common_practice",
		Topic:  TopicPlan,
		Text:   "What practitioners commonly do; no publication states it.",
		Status: CommonPractice,
	},
	{
		Key:    "practice",
		Topic:  TopicPlan,
		Text:   "A choice of this software that the practice's lead may change and signs.",
		Status: PracticeSetting,
	},
}

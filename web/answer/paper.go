package answer

// Asked is a question of the answer as it stands on paper, and the fields of [Form]
// into which what is written there is typed. The page behind the link, the practice's
// form and the paper ask the same: a test compares them.
type Asked struct {
	Says   string
	Ticks  []string // to choose from
	Blanks []Blank  // to write into
	Fields []string // of [Form]
}

// Blank is room to write, with the words before it.
type Blank struct {
	Says string
	Long bool
}

// Paper are the questions in the lines of the paper.
var Paper = [][]Asked{
	{{Says: "May exercise now:", Ticks: []string{"yes", "yes, with limits", "not now", "ask another doctor"}, Fields: []string{"outcome"}}},
	{
		{Says: "Ceiling:", Ticks: []string{"light", "moderate", "vigorous"}, Fields: []string{"ceiling"}},
		{Says: "For:", Ticks: []string{"all work", "aerobic", "resistance", "only"}, Blanks: []Blank{{}}, Fields: []string{"work", "activity"}},
	},
	{
		blank("Heart rate at most", "limits.heart_rate"), blank("Angina or ischaemia from", "limits.ischaemia"),
		blank("Defibrillator acts from", "limits.detection"),
	},
	{
		blank("Blood pressure at most", "limits.systolic", "limits.diastolic"),
		{Blanks: []Blank{{Says: "Blood sugar from"}, {Says: "to"}}, Fields: []string{"limits.glucose_low", "limits.glucose_high"}},
		{Ticks: []string{"mg/dL", "mmol/L"}, Fields: []string{"glucose_unit"}},
		blank("Oxygen at least", "limits.oxygen_floor"), blank("Effort (6 to 20) at most", "limits.effort"),
	},
	{long("To avoid, and until when", "restrictions")},
	{long("Expected symptoms, and up to what", "expected")},
	{
		{Says: "May train:", Ticks: []string{"supervised only", "also alone"}, Fields: []string{"supervised_only", "unsupervised"}},
		long("Tests done or needed", "tests"),
	},
	{
		blank("Valid from", "valid_from"), blank("until (twelve months at most)", "valid_until"),
		{Says: "Takes into account:", Ticks: []string{"all above", "only"}, Blanks: []Blank{{}}, Fields: []string{"covers"}},
	},
}

// PaperSign are the questions beside the signature.
var PaperSign = []Asked{
	long("Name, profession, licence or registration", "decided_by.name", "decided_by.profession", "decided_by.registration"),
	long("Surgery or hospital, and how to reach you", "decided_by.organisation", "decided_by.contact"),
	long("Date and signature", "decided_on"),
}

func blank(says string, fields ...string) Asked {
	return Asked{Blanks: []Blank{{Says: says}}, Fields: fields}
}

func long(says string, fields ...string) Asked {
	return Asked{Blanks: []Blank{{Says: says, Long: true}}, Fields: fields}
}

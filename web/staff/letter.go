package staff

import (
	"net/http"
	"strconv"
	"strings"

	"github.com/google/uuid"

	"brae/domain"
	"brae/domain/clearance"
	"brae/domain/consent"
	"brae/store"
	"brae/web/page"
	"brae/web/ui"
)

// letterForm is a letter as typed.
type letterForm struct {
	Version      string `form:"version"`
	Doctor       string `form:"doctor"`
	Address      string `form:"address"`
	From         string `form:"from"`
	Trigger      string `form:"trigger"`
	Symptoms     string `form:"symptoms"`
	Diagnoses    string `form:"diagnoses"`
	Medicines    string `form:"medicines"`
	Vitals       string `form:"vitals"`
	Activity     string `form:"activity"`
	Plan         string `form:"plan"`
	More         string `form:"more"`
	ConsentOn    string `form:"consent_on"`
	ConsentUntil string `form:"consent_until"`
	Ground       string `form:"ground"` // of [consent.Ground]; the id of a consent on record
	ConsentHow   string `form:"consent_how"`
	ConsentWhy   string `form:"consent_why"`
	Day          string `form:"day"`
	Channel      string `form:"channel"`
	Do           string `form:"do"`
}

func newLetterForm(r store.Referral, today domain.Date) letterForm {
	l := r.Letter
	ground := string(l.Ground)
	if l.Ground == consent.OnRecord {
		ground = l.Consent.String()
	}
	if ground == "" {
		ground = string(consent.AgreesNow)
		if len(r.Shares) == 1 {
			ground = r.Shares[0].ID.String()
		}
	}
	return letterForm{
		Ground: ground, ConsentHow: string(l.ConsentHow), ConsentWhy: l.Why,
		Version: number(r.Version), Doctor: l.Doctor, Address: l.Address, From: l.From, Trigger: l.Trigger, Symptoms: l.Symptoms,
		Diagnoses: l.Diagnoses, Medicines: l.Medicines, Vitals: l.Vitals, Activity: l.Activity, Plan: l.Plan, More: l.More,
		ConsentOn: dateText(l.ConsentOn), ConsentUntil: dateText(l.ConsentUntil), Day: today.String(),
	}
}

func dateText(d domain.Date) string {
	if d.IsZero() {
		return ""
	}
	return d.String()
}

// letter converts the form. What does not parse is a problem of its field.
func (f letterForm) letter() (store.Letter, domain.Problems) {
	var problems domain.Problems
	date := func(field, typed string) domain.Date {
		d, err := domain.ParseDate(strings.TrimSpace(typed))
		if err != nil && strings.TrimSpace(typed) != "" {
			problems.Add(field, "Type the day as year-month-day, such as 2026-04-30.")
		}
		return d
	}
	ground, record := consent.Ground(f.Ground), uuid.Nil
	if id, err := uuid.Parse(f.Ground); err == nil {
		ground, record = consent.OnRecord, id
	}
	return store.Letter{
		Ground: ground, Consent: record, ConsentHow: consent.How(f.ConsentHow), Why: f.ConsentWhy,
		Doctor: f.Doctor, Address: f.Address, From: f.From, Trigger: f.Trigger, Symptoms: f.Symptoms, Diagnoses: f.Diagnoses,
		Medicines: f.Medicines, Vitals: f.Vitals, Activity: f.Activity, Plan: f.Plan, More: f.More,
		ConsentOn: date("consent_on", f.ConsentOn), ConsentUntil: date("consent_until", f.ConsentUntil),
	}, problems
}

// letterView is what the page of a letter shows.
type letterView struct {
	Client   store.Client
	Practice store.Practice
	Today    domain.Date
	store.Referral
	Form     letterForm
	Problems domain.Problems
	Link     string // for the doctor, shown once
	Confirm  confirmForm
	Active   []ui.Option // decisions that a new one may supersede
	MarkNote string
}

func (v letterView) path() string { return letterPath(v.Referral) }

// WriteLetter begins a letter and goes on to it.
func (p Pages) WriteLetter(w http.ResponseWriter, r *http.Request) error {
	client, err := pathID(r, "client")
	if err != nil {
		return err
	}
	id, err := p.Store.WriteReferral(r.Context(), page.From(r.Context()).Actor(), client)
	if err != nil {
		return err
	}
	return page.See(w, r, recordPath(client)+"/letters/"+id.String())
}

// Letter shows a letter: the form of a draft, what was sent of another.
func (p Pages) Letter(w http.ResponseWriter, r *http.Request) error {
	client, id, err := letterIDs(r)
	if err != nil {
		return err
	}
	v, err := p.letterView(r, client, id)
	if err != nil {
		return err
	}
	return p.renderLetter(w, r, http.StatusOK, v)
}

func letterIDs(r *http.Request) (client, id uuid.UUID, err error) {
	if client, err = pathID(r, "client"); err != nil {
		return client, id, err
	}
	id, err = pathID(r, "letter")
	return client, id, err
}

func (p Pages) letterView(r *http.Request, client, id uuid.UUID) (letterView, error) {
	who := page.From(r.Context())
	v := letterView{Practice: who.Practice, Today: p.Store.Today(who.Practice)}
	var err error
	if v.Client, v.Referral, err = p.Store.Referral(r.Context(), who.Actor(), client, id); err != nil {
		return v, err
	}
	v.Form = newLetterForm(v.Referral, v.Today)
	v.Confirm.Release = "yes"
	if v.Pending != nil {
		f, err := p.Store.DoctorFile(r.Context(), who.Actor(), client)
		if err != nil {
			return v, err
		}
		v.Active = activeOptions(f)
		if len(v.Active) > 1 {
			v.Confirm.Supersedes = v.Active[1].Value
		}
	}
	return v, nil
}

func (p Pages) renderLetter(w http.ResponseWriter, r *http.Request, status int, v letterView) error {
	frame := p.Frame(r, "Letter about "+v.Client.Name())
	frame.ProblemTitle = v.Problems != nil
	return p.renderRecord(w, r, status, frame, v.Client.ID, letterPage(v))
}

// SaveLetter saves a draft, and marks it as sent if that button was pressed.
func (p Pages) SaveLetter(w http.ResponseWriter, r *http.Request) error {
	client, id, err := letterIDs(r)
	if err != nil {
		return err
	}
	var f letterForm
	if err := page.Decode(r, &f); err != nil {
		return err
	}
	who := page.From(r.Context())
	letter, problems := f.letter()
	version, said := atoi(f.Version), "The letter is saved."
	if problems == nil {
		if f.Do == "send" {
			day, _ := domain.ParseDate(strings.TrimSpace(f.Day)) // zero is refused with words
			said = "The letter is marked as sent."
			err = p.Store.SendReferral(r.Context(), who.Actor(), client, id, version, letter, day, f.Channel)
		} else {
			err = p.Store.SaveReferral(r.Context(), who.Actor(), client, id, version, letter)
		}
		if err == nil {
			p.Say(r.Context(), said)
			return page.See(w, r, recordPath(client)+"/letters/"+id.String())
		}
		var ok bool
		if problems, ok = page.Problems(err); !ok {
			return err
		}
	}
	v, err := p.letterView(r, client, id)
	if err != nil {
		return err
	}
	v.Form, v.Problems = f, problems
	return p.renderLetter(w, r, http.StatusUnprocessableEntity, v)
}

// PrintLetter shows the letter as it goes to paper.
func (p Pages) PrintLetter(w http.ResponseWriter, r *http.Request) error {
	client, id, err := letterIDs(r)
	if err != nil {
		return err
	}
	v, err := p.letterView(r, client, id)
	if err != nil {
		return err
	}
	return p.Render(w, r, http.StatusOK, p.Frame(r, "Letter on paper about "+v.Client.Name()), letterPaper(v))
}

// LetterLink makes a link for the doctor and shows the letter with it, once.
func (p Pages) LetterLink(w http.ResponseWriter, r *http.Request) error {
	client, id, err := letterIDs(r)
	if err != nil {
		return err
	}
	token, refused := p.Store.NewDoctorLink(r.Context(), page.From(r.Context()).Actor(), client, id)
	problems, told := page.Problems(refused)
	if refused != nil && !told {
		return refused
	}
	v, err := p.letterView(r, client, id)
	if err != nil {
		return err
	}
	if told {
		v.Problems = problems
		return p.renderLetter(w, r, http.StatusUnprocessableEntity, v)
	}
	v.Link = p.Origin.JoinPath("answer", token).String()
	return p.Render(w, r, http.StatusOK, p.Frame(r, "Letter on paper about "+v.Client.Name()), letterPaper(v))
}

// MarkLetter notes what became of a letter.
func (p Pages) MarkLetter(w http.ResponseWriter, r *http.Request) error {
	client, id, err := letterIDs(r)
	if err != nil {
		return err
	}
	var f struct {
		Status string `form:"status"`
		Note   string `form:"note"`
	}
	if err := page.Decode(r, &f); err != nil {
		return err
	}
	if actor := page.From(r.Context()).Actor(); f.Status == "reminded" { // the letter stands where it stood
		err = p.Store.RemindReferral(r.Context(), actor, client, id, f.Note)
	} else {
		err = p.Store.MarkReferral(r.Context(), actor, client, id, clearance.ReferralStatus(f.Status), f.Note)
	}
	if problems, ok := page.Problems(err); ok {
		v, err := p.letterView(r, client, id)
		if err != nil {
			return err
		}
		v.Problems, v.MarkNote = problems, f.Note
		return p.renderLetter(w, r, http.StatusUnprocessableEntity, v)
	}
	if err != nil {
		return err
	}
	p.Say(r.Context(), "Noted.")
	return page.See(w, r, recordPath(client)+"/letters/"+id.String())
}

// confirmForm is what a practitioner adds to an answer that came by the link.
type confirmForm struct {
	Specialist string `form:"specialist"`
	Supersedes string `form:"supersedes"`
	Release    string `form:"release"`
	Reason     string `form:"reason"`
	Do         string `form:"do"`
}

// SettleAnswer confirms an answer that came by the link, or sets it aside.
func (p Pages) SettleAnswer(w http.ResponseWriter, r *http.Request) error {
	client, id, err := letterIDs(r)
	if err != nil {
		return err
	}
	var f confirmForm
	if err := page.Decode(r, &f); err != nil {
		return err
	}
	actor := page.From(r.Context()).Actor()
	var recorded store.RecordedClearance
	if f.Do == "aside" {
		err = p.Store.SetAsideAnswer(r.Context(), actor, client, id, f.Reason)
	} else {
		recorded, err = p.Store.ConfirmAnswer(r.Context(), actor, client, id, store.ConfirmInput{
			Specialist: f.Specialist == "yes", Supersedes: f.Supersedes, Release: f.Release == "yes",
		})
	}
	if problems, ok := page.Problems(err); ok {
		v, err := p.letterView(r, client, id)
		if err != nil {
			return err
		}
		v.Problems, v.Confirm = problems, f
		return p.renderLetter(w, r, http.StatusUnprocessableEntity, v)
	}
	if err != nil {
		return err
	}
	if f.Do == "aside" {
		p.Say(r.Context(), "The answer is set aside. The letter still waits.")
		return page.See(w, r, recordPath(client)+"/letters/"+id.String())
	}
	p.Say(r.Context(), recordedWords(recorded))
	return page.See(w, r, recordPath(client)+"/decisions/"+recorded.ID.String())
}

func recordedWords(r store.RecordedClearance) string {
	switch len(r.Released) {
	case 0:
		return "The decision is recorded. No hold was released."
	case 1:
		return "The decision is recorded, and one hold released."
	}
	return "The decision is recorded, and " + number(len(r.Released)) + " holds released."
}

var channelOptions = []ui.Option{
	{Value: "post", Label: "By post"}, {Value: "by_hand", Label: "By hand, with the client"}, {Value: "fax", Label: "By fax"},
	{Value: "secure_mail", Label: "By secure mail"}, {Value: "link", Label: "By the one-time link"},
}

func channelWords(channel string) string {
	for _, o := range channelOptions {
		if o.Value == channel {
			return ", " + strings.ToLower(o.Label[:1]) + o.Label[1:]
		}
	}
	return ""
}

// letterEvents lists the steps of a letter.
func letterEvents(r store.Referral) []ui.Definition {
	var list []ui.Definition
	for _, e := range r.Events {
		by := e.By
		if by == "" {
			by = "the doctor"
		}
		text := day(e.Day) + channelWords(e.Channel) + ", noted by " + by
		if e.Note != "" {
			text += ": " + e.Note
		}
		list = append(list, ui.Definition{Term: statusWords[e.Status], Detail: text})
	}
	for _, e := range r.Reminders {
		text := day(e.Day) + ", noted by " + e.By
		if e.Note != "" {
			text += ": " + e.Note
		}
		list = append(list, ui.Definition{Term: "Reminded", Detail: text})
	}
	if l := r.Link; l != nil {
		state := "cannot be used any more"
		switch {
		case l.Usable:
			state = "can be used until " + l.ExpiresAt.Format("2 January 2006")
		case l.Answered:
			state = "was used"
		}
		list = append(list, ui.Definition{Term: "Link", Detail: "Made on " + l.CreatedAt.Format("2 January 2006") + ", " + state})
	}
	return list
}

func letterDay(v letterView) string {
	on := v.SentOn
	if on.IsZero() {
		on = v.Today
	}
	return on.Time().Format("2 January 2006")
}

func consentWords(v letterView) string {
	l := v.Referral.Letter
	if l.Ground.Exception() {
		return "We write without their consent: " + strings.TrimSuffix(l.Why, ".") + "."
	}
	if l.ConsentOn.IsZero() || l.ConsentUntil.IsZero() {
		return ""
	}
	how := map[consent.How]string{consent.Spoken: " in person", consent.Message: " in a message"}[l.ConsentHow]
	if l.ConsentHow == consent.Signed || l.Ground == "" { // before it was asked it was always in writing
		how = " in writing"
	}
	return "They agreed" + how + " on " + l.ConsentOn.Words() + " that we share this and hear your answer, until " + l.ConsentUntil.Words() + "."
}

// groundWords says on what ground a letter that was sent went to the doctor.
func groundWords(v letterView) string {
	if l := v.Referral.Letter; l.Ground.Exception() {
		return groundLabels[l.Ground] + ". " + l.Why
	}
	return consentWords(v)
}

var groundLabels = map[consent.Ground]string{
	consent.AgreesNow:  "The client agrees now",
	consent.ToProtect:  "Without consent: life or health is at stake, and the client cannot be asked in time",
	consent.AllowedLaw: "Without consent: the law allows it here",
}

// groundOptions are the grounds on which this letter can go: consents on record first.
func groundOptions(v letterView) []ui.Option {
	var list []ui.Option
	for _, c := range v.Shares {
		list = append(list, ui.Option{
			Value: c.ID.String(), Label: "On record: to share with " + c.Recipient,
			Hint: "Agreed on " + c.GivenOn.Words() + ", until " + c.ExpiresOn.AddDays(-1).Words() + ".",
		})
	}
	for _, g := range []consent.Ground{consent.AgreesNow, consent.ToProtect, consent.AllowedLaw} {
		o := ui.Option{Value: string(g), Label: groundLabels[g]}
		if g == consent.AgreesNow {
			o.Hint = "It is recorded with the client's other consents when the letter is sent."
		}
		list = append(list, o)
	}
	return list
}

// howOptions are the ways in which a client agrees.
var howOptions = []ui.Option{
	{Value: string(consent.Signed), Label: "Signed on paper"}, {Value: string(consent.Spoken), Label: "In person, noted here"},
	{Value: string(consent.Message), Label: "In a message or mail"},
}

func howWords(how string) string {
	for _, o := range howOptions {
		if o.Value == how {
			return ", " + lowerFirst(o.Label)
		}
	}
	return ""
}

// withoutFrom is a letter whose sender stands at its head.
func withoutFrom(l store.Letter) store.Letter { l.From = ""; return l }

func atoi(typed string) int {
	n, _ := strconv.Atoi(strings.TrimSpace(typed)) // a wrong one is refused as outdated
	return n
}

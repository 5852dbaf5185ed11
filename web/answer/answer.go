package answer

import (
	"errors"
	"maps"
	"net/http"
	"strings"

	"github.com/go-chi/chi/v5"

	"brae/domain"
	"brae/store"
	"brae/web/page"
	"brae/web/ui"
)

// Pages are the handlers of the doctor's page, which needs no account.
type Pages struct{ *page.Kit }

// letterView is the letter with the form for the answer.
type letterView struct {
	Token     string
	Letter    store.DoctorLetter
	Form      Form
	Signature string
	Problems  domain.Problems
}

// birthForm is what opens a letter.
type birthForm struct {
	BirthDate string `form:"birth_date"`
}

// sentForm is an answer with its signature.
type sentForm struct {
	Form
	BirthDate string `form:"birth_date"`
	Signature string `form:"signature"`
}

// Open asks for the client's birth date.
func (p Pages) Open(w http.ResponseWriter, r *http.Request) error {
	return p.renderOpen(w, r, http.StatusOK, "", nil)
}

func (p Pages) renderOpen(w http.ResponseWriter, r *http.Request, status int, birth string, problems domain.Problems) error {
	token := chi.URLParam(r, "token")
	practice, err := p.Store.DoctorLinkPractice(r.Context(), token)
	if errors.Is(err, domain.ErrNotFound) {
		return p.Render(w, r, http.StatusNotFound, p.Frame(r, "This link does not work"), deadPage())
	}
	if err != nil {
		return err
	}
	frame := p.Frame(r, "A letter for a doctor")
	frame.ProblemTitle = problems != nil
	return p.Render(w, r, status, frame, openPage(practice, token, birth, problems))
}

// Letter shows the letter to who knows the birth date.
func (p Pages) Letter(w http.ResponseWriter, r *http.Request) error {
	var f birthForm
	if err := page.Decode(r, &f); err != nil {
		return err
	}
	birth, _ := domain.ParseDate(strings.TrimSpace(f.BirthDate)) // zero fits nobody
	token := chi.URLParam(r, "token")
	if birth.IsZero() {
		return p.renderOpen(w, r, http.StatusUnprocessableEntity, f.BirthDate, domain.Problems{"birth_date": "Type the date of birth as year-month-day, such as 1961-04-30."})
	}
	letter, err := p.Store.DoctorLetter(r.Context(), token, birth)
	if err != nil {
		return p.refused(w, r, f.BirthDate, err)
	}
	v := letterView{Token: token, Letter: letter, Form: Form{Name: letter.Letter.Doctor, DecidedOn: letter.Today.String()}}
	return p.renderLetter(w, r, http.StatusOK, v)
}

// refused answers to a birth date that does not fit, or a link that is no more.
func (p Pages) refused(w http.ResponseWriter, r *http.Request, birth string, err error) error {
	if errors.Is(err, store.ErrLinkTry) {
		return p.renderOpen(w, r, http.StatusUnprocessableEntity, birth,
			domain.Problems{"birth_date": "This does not fit the letter. After some wrong tries the link stops working."})
	}
	if errors.Is(err, domain.ErrNotFound) {
		return p.renderOpen(w, r, http.StatusNotFound, "", nil)
	}
	return err
}

func (p Pages) renderLetter(w http.ResponseWriter, r *http.Request, status int, v letterView) error {
	v.Form.Fill()
	frame := p.Frame(r, "Letter to answer")
	frame.ProblemTitle = v.Problems != nil
	return p.Render(w, r, status, frame, letterPage(v))
}

// Send takes the answer.
func (p Pages) Send(w http.ResponseWriter, r *http.Request) error {
	var f sentForm
	if err := errors.Join(page.Decode(r, &f), page.Decode(r, &f.Form)); err != nil {
		return err
	}
	token := chi.URLParam(r, "token")
	birth, _ := domain.ParseDate(strings.TrimSpace(f.BirthDate))
	d, typed := f.Decision()
	if birth.IsZero() {
		return p.renderOpen(w, r, http.StatusUnprocessableEntity, "", domain.Problems{"birth_date": "Type the date of birth as year-month-day, such as 1961-04-30."})
	}
	var letter store.DoctorLetter
	var err error
	if typed != nil {
		letter, err = p.Store.DoctorLetter(r.Context(), token, birth)
	} else {
		letter, err = p.Store.AnswerReferral(r.Context(), token, birth, store.DoctorAnswer{Decision: d, Signature: f.Signature})
	}
	problems, refused := page.Problems(err)
	switch {
	case refused || err == nil && typed != nil:
		all := maps.Clone(typed)
		if all == nil {
			all = problems
		}
		return p.renderLetter(w, r, http.StatusUnprocessableEntity, letterView{Token: token, Letter: letter, Form: f.Form, Signature: f.Signature, Problems: all})
	case err != nil:
		return p.refused(w, r, "", err)
	}
	return p.Render(w, r, http.StatusOK, p.Frame(r, "Thank you"), thanksPage(letter.Practice))
}

// LetterItems are the parts of a letter that say something.
func LetterItems(l store.Letter) []ui.Definition {
	var list []ui.Definition
	for _, f := range []struct{ term, text string }{
		{"Why we ask", l.Trigger}, {"Symptoms", l.Symptoms}, {"Known diseases", l.Diagnoses}, {"Medicines", l.Medicines},
		{"Last measured", l.Vitals}, {"Activity now", l.Activity}, {"What we plan", l.Plan}, {"Beside this", l.More}, {"From", l.From},
	} {
		if f.text != "" {
			list = append(list, ui.Definition{Term: f.term, Detail: f.text})
		}
	}
	return list
}

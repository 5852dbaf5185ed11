package store

import (
	"context"
	"errors"
	"fmt"
	"slices"
	"strings"
	"time"
	"unicode/utf8"

	"github.com/google/uuid"
	"github.com/jackc/pgx/v5"

	"brae/domain"
	"brae/domain/clearance"
	"brae/domain/fitness"
	"brae/domain/intensity"
	"brae/domain/plan"
	"brae/domain/rulebook"
	"brae/domain/volume"
)

// Progress is how a client stands with the plan, and the step to suggest.
type Progress struct {
	Client       Client
	Today        domain.Date
	Week         domain.Date // first day of this week
	Plan         *Plan       // in force; nil without one
	Prescription *Prescription
	Ceiling      intensity.Class // hardest class that may be planned now
	Holds        []Hold
	Pauses       []Pause
	Dose         plan.Dose // of now
	Next         plan.Dose // that the plan has for the week in which a step would begin
	Standing     plan.Standing
	Course       plan.Course
	Steps        []Step // answered ones, the newest first

	file clearanceFile
}

// Offered reports whether there is something to accept: a step, or the same week
// once more where the plan would go on.
func (p Progress) Offered() bool {
	s := p.Standing
	return s.Step.Reserve > 0 || s.Step.To.Sessions > 0 && (s.Step.To != p.Dose || s.Status == plan.Behind && p.Next != p.Dose)
}

// Beyond reports whether a dose asks for more than is prescribed, so that a new
// prescription has to be signed with it.
func (p Progress) Beyond(d plan.Dose) bool {
	pr := p.Prescription
	return pr != nil && (d.Hardest() > pr.Class || d.Sessions > pr.SessionsPerWeek || d.Minutes > pr.MinutesPerSession ||
		pr.VigorousMinutes > 0 && d.Vigorous > pr.VigorousMinutes)
}

// Begins is the first day of the week from which a dose holds: more than now from
// the next week on, so that nobody finds the target raised in the middle of a
// week, and less at once.
func (p Progress) Begins(d plan.Dose) domain.Date {
	if p.Today == p.Week || d != p.Dose && !more(p.Dose, d) {
		return p.Week
	}
	return p.Week.AddDays(7)
}

func more(a, b plan.Dose) bool {
	return b.Hardest() > a.Hardest() || b.Sessions > a.Sessions || b.Minutes > a.Minutes || b.Vigorous > a.Vigorous
}

// Step is an answered suggestion.
type Step struct {
	ID         uuid.UUID
	Week       domain.Date
	Status     plan.Status
	Reasons    []plan.Reason
	Suggestion plan.Suggestion
	Answer     string
	Word       string
	Version    int // of the plan that was signed with it; 0 if none was
	DecidedAt  time.Time
	By         string
}

// The answers to a suggestion.
const (
	StepAccepted = "accepted"
	StepChanged  = "changed"
	StepDeclined = "declined"
)

// ProgressOf returns how a client stands.
func (s *Store) ProgressOf(ctx context.Context, actor Actor, client uuid.UUID) (Progress, error) {
	if !actor.Role.Staff() {
		return Progress{}, domain.ErrForbidden
	}
	var p Progress
	err := s.change(ctx, actor, func(t *tx) (err error) {
		c, err := t.client(ctx, client)
		if err != nil {
			return err
		}
		if p, err = t.progress(ctx, c); err != nil {
			return err
		}
		return t.audit(ctx, "progress.view", client, "client/"+client.String(), nil)
	})
	if err != nil {
		return Progress{}, fmt.Errorf("progress of client %s: %w", client, err)
	}
	return p, nil
}

// progress loads how a client stands. Without a prescription the course is empty.
func (t *tx) progress(ctx context.Context, c Client) (p Progress, err error) {
	p.Client, p.Today, p.Week = c, t.today, t.today.Week(t.practice.WeekStart)
	if p.Plan, err = t.planInForce(ctx, c.ID); err != nil {
		return p, err
	}
	if p.Prescription, err = t.prescriptionInForce(ctx, c.ID); err != nil {
		return p, err
	}
	if p.file, err = t.clearanceFile(ctx, c.ID); err != nil {
		return p, err
	}
	if p.Pauses, err = t.pauses(ctx, c.ID); err != nil {
		return p, err
	}
	if p.Steps, err = t.steps(ctx, c.ID); err != nil {
		return p, err
	}
	p.Holds, p.Ceiling = p.file.Holds, p.file.Ceiling()
	gate := p.file.Gate(t.today) // who accepts a step signs it off
	if !gate.Allow {
		p.Ceiling = min(p.Ceiling, intensity.Moderate)
	}
	all, err := t.courses(ctx, []uuid.UUID{c.ID})
	if err != nil {
		return p, err
	}
	if course := all[c.ID]; course != nil {
		p.Course = *course
	}
	p.Course.Today, p.Course.SignedOff = t.today, t.today
	// A complete phase opens the next one, where only the practice's own light
	// beginning keeps it closed.
	if p.Course.Ceiling, err = t.planCeiling(p.file); err != nil {
		return p, err
	}
	if !gate.Allow {
		p.Course.Ceiling = min(p.Course.Ceiling, intensity.Moderate)
	}
	p.Course.ScreeningValid = !slices.ContainsFunc(gate.Reasons, func(r clearance.GateReason) bool { return r.Rule == "gate.screening" })
	policy := plan.PolicyFrom(t.settings)
	if p.Course.WeeksNoGain, err = t.weeksWithoutGain(ctx, c.ID, policy); err != nil {
		return p, err
	}
	p.Standing = p.Course.Stand(policy)
	if n := len(p.Course.Weeks); n > 0 {
		p.Dose = p.Course.Weeks[n-1].Dose
		p.Next = p.Dose
	}
	if p.Plan != nil {
		if w, ok := p.Plan.Week(p.Begins(p.Dose)); ok {
			p.Next = w.Dose
		}
	}
	return p, nil
}

// planStanding returns how a client stands, for pages that show no more of it.
func (t *tx) planStanding(ctx context.Context, w ClientWeek) (*plan.Standing, error) {
	courses, err := t.courses(ctx, []uuid.UUID{w.Client.ID})
	if err != nil || courses[w.Client.ID] == nil {
		return nil, err
	}
	c := courses[w.Client.ID]
	if c.Ceiling = w.Ceiling; !w.Vigorous.Allow {
		c.Ceiling = min(c.Ceiling, intensity.Moderate)
	}
	policy := plan.PolicyFrom(t.settings)
	if c.WeeksNoGain, err = t.weeksWithoutGain(ctx, w.Client.ID, policy); err != nil {
		return nil, err
	}
	standing := c.Stand(policy)
	return &standing, nil
}

// weeksWithoutGain returns over how many weeks the fitness tests of a client showed
// no real change.
func (t *tx) weeksWithoutGain(ctx context.Context, client uuid.UUID, policy plan.Policy) (int, error) {
	list, err := t.tests(ctx, client)
	if err != nil {
		return 0, err
	}
	var tests []fitness.DatedTest
	for _, r := range list {
		if r.InForce() {
			tests = append(tests, fitness.DatedTest{On: r.DoneOn, Done: r.done()})
		}
	}
	slices.SortStableFunc(tests, func(a, b fitness.DatedTest) int { return a.On.Compare(b.On) })
	return fitness.WeeksWithoutGain(tests, policy.NoGainWeeks, fitness.PolicyFrom(t.settings)), nil
}

// steps returns the answered suggestions of a client, the newest first.
func (t *tx) steps(ctx context.Context, client uuid.UUID) ([]Step, error) {
	rows, _ := t.Query(ctx, `
		SELECT s.id, s.week, s.status, s.reasons, s.suggestion, s.answer, s.word, coalesce(p.version, 0) AS version, s.decided_at, a.name AS by
		FROM progress_steps s JOIN accounts a ON a.id = s.decided_by LEFT JOIN plans p ON p.id = s.new_plan_id
		WHERE s.client_id = $1 ORDER BY s.decided_at DESC, s.id LIMIT 100`, client)
	return pgx.CollectRows(rows, pgx.RowToStructByName[Step])
}

// StepAnswer is what a practitioner answers to a suggestion.
type StepAnswer struct {
	ID        uuid.UUID // made with the form: sent twice, it is stored once
	Version   int       // of the plan that the form was shown with; 0 without one
	Suggested plan.Dose // that the form showed
	Reserve   int       // to go up by within the class, that the form showed; 0 if the step is another
	Answer    string
	To        plan.Dose // of a changed one
	Word      string    // why; needed unless the suggestion is accepted as it is
	Confirmed bool      // the practitioner has said that the warnings are wanted
}

// ErrPrescribe says that a step asks for another prescription than the one in force:
// it is taken with the signature under that, see [Store.StepPrescription].
var ErrPrescribe = errors.New("the step is taken with a new prescription")

// AnswerStep records the answer to a suggestion, and signs the next version of the
// plan that follows from it. It returns [domain.Problems] for what is wrong,
// [domain.ErrHeld] for work above what is allowed now, [domain.Doubts] for
// warnings that have to be confirmed, [domain.ErrConflict] if the suggestion
// is no longer the same, and [ErrPrescribe] if a prescription has to be signed with it.
func (s *Store) AnswerStep(ctx context.Context, actor Actor, client uuid.UUID, in StepAnswer) error {
	err := s.change(ctx, actor, func(t *tx) error {
		c, err := t.lockClient(ctx, client, true)
		if err != nil {
			return err
		}
		if err := c.open(); err != nil {
			return err
		}
		p, err := t.progress(ctx, c)
		if err != nil {
			return err
		}
		if err := in.check(p); err != nil {
			return err
		}
		return t.answerStep(ctx, p, in)
	})
	if err != nil && !errors.Is(err, errStoredBefore) {
		return fmt.Errorf("answer a step of client %s: %w", client, err)
	}
	return nil
}

func (in StepAnswer) check(p Progress) error {
	for _, step := range p.Steps {
		if step.ID == in.ID {
			return errStoredBefore
		}
	}
	var problems domain.Problems
	version, step := 0, p.Standing.Step
	if p.Plan != nil {
		version = p.Plan.Version
	}
	if p.Prescription == nil || version != in.Version || in.Answer != StepChanged && (in.Suggested != step.To || in.Reserve != step.Reserve) {
		return domain.ErrConflict
	}
	if in.ID == uuid.Nil {
		problems.Add("id", "The form was incomplete. Load the page again.")
	}
	switch in.Answer {
	case StepAccepted:
		if !p.Offered() {
			problems.Add("answer", "There is no step to accept. Change the plan instead.")
		}
	case StepChanged, StepDeclined:
		if strings.TrimSpace(in.Word) == "" {
			problems.Add("word", "Say why in a few words.")
		}
	default:
		problems.Add("answer", "Choose an answer.")
	}
	if utf8.RuneCountInString(in.Word) > 500 {
		problems.Add("word", "Use 500 characters at most.")
	}
	return problems.Err()
}

// dose is what the answer asks for from now on.
func (in StepAnswer) dose(p Progress) plan.Dose {
	if in.Answer == StepChanged {
		return in.To
	}
	return p.Standing.Step.To
}

func (t *tx) answerStep(ctx context.Context, p Progress, in StepAnswer) error {
	if in.Answer == StepDeclined {
		return t.recordStep(ctx, p, in, uuid.Nil, uuid.Nil)
	}
	to := in.dose(p)
	if err := t.endFirstPhase(ctx, &p, to); err != nil {
		return err
	}
	within := in.Answer == StepAccepted && p.Standing.Step.Reserve > 0
	if within {
		return ErrPrescribe
	}
	signed, err := t.takeStep(ctx, p, in, to)
	if err != nil {
		return err
	}
	if p.Beyond(to) { // what was signed is rolled back
		return ErrPrescribe
	}
	return t.recordStep(ctx, p, in, signed, uuid.Nil)
}

// recordStep stores an answer with what was signed for it.
func (t *tx) recordStep(ctx context.Context, p Progress, in StepAnswer, signed, prescription uuid.UUID) error {
	var before uuid.UUID
	if p.Plan != nil {
		before = p.Plan.ID
	}
	reasons := p.Standing.Reasons
	if reasons == nil {
		reasons = []plan.Reason{}
	}
	if _, err := t.Exec(ctx, `
		INSERT INTO progress_steps (id, client_id, week, plan_id, status, reasons, suggestion, rule_set, answer, word,
			new_plan_id, prescription_id, decided_at, decided_by)
		VALUES ($1, $2, $3, $4, $5, $6, $7, $8, $9, $10, $11, $12, $13, $14)`,
		in.ID, p.Client.ID, p.Week, orNull(before), string(p.Standing.Status), reasons, p.Standing.Step, rulebook.Version,
		in.Answer, strings.TrimSpace(in.Word), orNull(signed), orNull(prescription), t.now, t.actor.ID); err != nil {
		return err
	}
	return t.audit(ctx, "progress.answer", p.Client.ID, "step/"+in.ID.String(), map[string]any{
		"answer": in.Answer, "status": string(p.Standing.Status), "step": string(p.Standing.Step.Step),
	})
}

// endFirstPhase opens what the light phase kept closed, for a step out of it that
// the rules suggest.
func (t *tx) endFirstPhase(ctx context.Context, p *Progress, to plan.Dose) (err error) {
	complete := slices.ContainsFunc(p.Standing.Step.Reasons, func(r plan.Reason) bool { return r.Code == plan.SuggestPhase })
	if to.Hardest() <= p.Ceiling || !complete {
		return nil
	}
	t.firstPhaseOver = p.Client.ID
	if p.file, err = t.clearanceFile(ctx, p.Client.ID); err != nil {
		return err
	}
	if p.Ceiling = p.file.Ceiling(); !p.file.Gate(t.today).Allow {
		p.Ceiling = min(p.Ceiling, intensity.Moderate)
	}
	return nil
}

// takeStep signs the plan that follows from a step.
func (t *tx) takeStep(ctx context.Context, p Progress, in StepAnswer, to plan.Dose) (uuid.UUID, error) {
	if err := plan.CheckWeeks([]plan.Week{plan.WeekOf(1, to)}, p.Ceiling, plan.PolicyFrom(t.settings)); err != nil {
		return uuid.Nil, err
	}
	next := p.after(to, plan.PolicyFrom(t.settings), volume.DefaultTarget(volume.PolicyFrom(t.settings)).Minutes)
	next.Version, next.Reason, next.Confirmed = in.Version, in.Word, in.Confirmed || in.Answer == StepAccepted
	return t.savePlan(ctx, p.Client.ID, next, p.file)
}

// after returns the plan from the week on in which a dose begins.
func (p Progress) after(to plan.Dose, policy plan.Policy, goal int) PlanInput {
	in := PlanInput{Starts: p.Begins(to), Goal: goal, Origin: FromStep}
	var ahead []plan.Week
	if p.Plan != nil {
		in.Goal, in.Preset = p.Plan.Goal, p.Plan.Preset
		ahead = weeks(p.Plan.From(in.Starts))
		if len(p.Plan.Weeks) > 0 && p.Plan.Weeks[0].First.After(in.Starts) {
			in.Starts = p.Plan.Weeks[0].First
		}
	}
	behind := p.Course.Behind + len(p.Course.Weeks) - 1 + in.Starts.DaysSince(p.Week)/7
	inPhase := 0
	for i := len(p.Course.Weeks) - 1; i >= 0 && p.Course.Weeks[i].Dose.Class == to.Class; i-- {
		inPhase++
	}
	from := plan.Input{
		Start: plan.Start{Behind: behind, InPhase: min(inPhase, behind)}, Goal: in.Goal, Weeks: max(len(ahead), stepAhead), Ceiling: p.Ceiling,
	}
	if p.Prescription != nil { // nothing harder is planned ahead than is prescribed with it
		from.Ceiling = min(from.Ceiling, max(p.Prescription.Class, to.Hardest()))
	}
	hold := 1
	switch {
	case p.Standing.Break != nil:
		hold, in.Origin = max(1, p.Standing.Break.Weeks), FromRestart
	case to == p.Dose: // the same once more, then the plan goes on
		in.Weeks = plan.Lay(append([]plan.Week{plan.WeekOf(1, to)}, ahead...))
		return in
	case !more(p.Dose, to):
		hold = policy.BackWeeks
	}
	in.Weeks = plan.Follow(ahead, to, hold, from, policy)
	return in
}

// stepAhead is how many weeks a step plans where no plan does.
const stepAhead = 12

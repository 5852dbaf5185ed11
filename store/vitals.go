package store

import (
	"context"
	"errors"
	"fmt"
	"reflect"
	"slices"
	"strings"
	"time"

	"github.com/google/uuid"
	"github.com/jackc/pgx/v5"

	"brae/domain"
	"brae/domain/clearance"
	"brae/domain/intake"
	"brae/domain/rulebook"
	"brae/domain/screening"
	"brae/domain/worklist"
)

// VitalsInput is what was measured before a session.
type VitalsInput struct {
	ID        uuid.UUID // made with the form
	Reading   screening.Reading
	Grams     int       // body weight today; 0 if it was not measured
	Of        uuid.UUID // the row that this one takes the place of; the nil id for a new reading
	Correct   bool      // that row was wrong; otherwise it is completed by what was measured again
	Reason    string    // why it was wrong
	Confirmed bool      // the person has said that the doubts are right
}

// Vitals is a reading as it was stored.
type Vitals struct {
	ID           uuid.UUID
	First        uuid.UUID // the row that the reading began with
	Change       string    // new, again, correct, error
	TakenAt      time.Time
	Reading      screening.Reading
	Judgement    screening.Judgement
	RuleSet      string
	Supersedes   uuid.NullUUID
	SupersededBy uuid.NullUUID
	Reason       string
	EnteredAt    time.Time
	EnteredBy    string // name of the account
}

// InForce reports whether the reading counts: not superseded, and not in error.
func (v Vitals) InForce() bool { return !v.SupersededBy.Valid && v.Change != "error" }

// VitalsFile is what the page of a client's vital signs shows.
type VitalsFile struct {
	Client  Client
	Today   domain.Date
	Entries []Vitals           // the newest first
	Asked   intake.AskedVitals // beside what everybody is asked
	Known   screening.Vitals
}

// VitalsFile returns the vital signs of a client before sessions, and what to ask
// for today.
func (s *Store) VitalsFile(ctx context.Context, actor Actor, client uuid.UUID) (VitalsFile, error) {
	var f VitalsFile
	err := s.change(ctx, actor, func(t *tx) (err error) {
		if f.Client, err = t.viewClient(ctx, client); err != nil {
			return err
		}
		f.Today = t.today
		if f.Entries, err = t.vitals(ctx, client); err != nil {
			return err
		}
		record, err := t.newestScreening(ctx, client)
		if err != nil {
			return err
		}
		if record != nil {
			f.Asked, f.Known = record.Input.VitalsAsked(), knownOf(record)
		}
		return t.audit(ctx, "vitals.view", client, "client/"+client.String(), nil)
	})
	if err != nil {
		return VitalsFile{}, fmt.Errorf("vital signs of client %s: %w", client, err)
	}
	return f, nil
}

// knownOf is what a screening says about a client, for the rules of vital signs.
func knownOf(s *Screening) screening.Vitals {
	v := s.Input.Vitals()
	return screening.Vitals{Cardiac: v.Cardiac, HeartFailure: v.HeartFailure, GlucoseLowering: v.GlucoseLowering, RateSlowing: v.RateSlowing}
}

// vitals returns all rows of a client's readings, the newest first.
func (t *tx) vitals(ctx context.Context, client uuid.UUID) (list []Vitals, err error) {
	err = t.read(ctx, vitalsOf(&list, client))
	return list, err
}

func vitalsOf(list *[]Vitals, client uuid.UUID) reading {
	return rowsInto(list, pgx.RowToStructByName[Vitals], `
		SELECT v.id, v.first, v.change, v.taken_at, v.reading, v.judgement, v.rule_set, v.supersedes, s.id AS superseded_by, v.reason,
			v.entered_at, a.name AS entered_by
		FROM vitals v JOIN accounts a ON a.id = v.entered_by LEFT JOIN vitals s ON s.supersedes = v.id
		WHERE v.client_id = $1 ORDER BY v.taken_at DESC, s.id IS NULL DESC, v.entered_at DESC, v.id DESC`, client)
}

// changesOfVitals are the vital signs that count, as changes after a doctor's
// decision.
func changesOfVitals(list []Vitals, zone *time.Location) []clearance.Change {
	var changes []clearance.Change
	for _, v := range slices.Backward(list) {
		if !v.InForce() {
			continue
		}
		for _, f := range v.Judgement.Counts().Findings {
			changes = append(changes, clearance.Change{Kind: clearance.VitalsFinding, Code: f.Rule, On: domain.DateOf(v.TakenAt, zone)})
		}
	}
	return changes
}

// TakeVitals stores what was measured before a session, once, with what the rules
// make of it, and opens the holds and the flag that follow. It returns
// [domain.Problems] for values that cannot be, [domain.Doubts] for those to be
// confirmed, and [domain.ErrConflict] if the row to be replaced counts no more or
// the id stands for something else.
func (s *Store) TakeVitals(ctx context.Context, actor Actor, client uuid.UUID, in VitalsInput) (Vitals, error) {
	var taken Vitals
	err := s.change(ctx, actor, func(t *tx) error {
		if _, err := t.lockClient(ctx, client, true); err != nil {
			return err
		}
		list, err := t.vitals(ctx, client)
		if err != nil {
			return err
		}
		record, err := t.newestScreening(ctx, client)
		if err != nil {
			return err
		}
		row := Vitals{ID: in.ID, First: in.ID, Change: "new", TakenAt: t.now, Reading: in.Reading}
		if in.Of != uuid.Nil {
			old, err := replaceable(list, in.Of, in.ID)
			if err != nil {
				return err
			}
			row.First, row.TakenAt, row.Supersedes = old.First, old.TakenAt, orNull(in.Of)
			if row.Change, row.Reason = "correct", strings.TrimSpace(in.Reason); !in.Correct { // what was measured at first stays
				row.Change, row.Reason, row.Reading = "again", "", old.Reading
				row.Reading.SBPAgain, row.Reading.DBPAgain = in.Reading.SBPAgain, in.Reading.DBPAgain
				row.Reading.RestingHRAgain, row.Reading.NotAgain = in.Reading.RestingHRAgain, in.Reading.NotAgain
			}
		}
		if row.Change != "again" {
			row.Reading.Vitals = row.Reading.Vitals.With(record.known())
			row.Reading.Weights = weightsUpTo(list, domain.DateOf(row.TakenAt, t.practice.Location), in.Grams)
		}
		if i := slices.IndexFunc(list, func(v Vitals) bool { return v.ID == in.ID }); i >= 0 {
			taken = list[i]
			if taken.Change == row.Change && taken.Supersedes == row.Supersedes && reflect.DeepEqual(taken.Reading, row.Reading) {
				return errStoredBefore
			}
			return domain.ErrConflict
		}
		if err := t.judgeVitals(&row, in); err != nil {
			return err
		}
		if err := t.storeVitals(ctx, client, row); err != nil {
			return err
		}
		taken = row
		return nil
	})
	if err != nil && !errors.Is(err, errStoredBefore) {
		return Vitals{}, fmt.Errorf("vital signs of client %s: %w", client, err)
	}
	return taken, nil
}

// known is what the rules of vital signs have to know of a client; nothing before
// the first screening.
func (s *Screening) known() screening.Vitals {
	if s == nil {
		return screening.Vitals{}
	}
	return knownOf(s)
}

// replaceable returns the row with that id if another one may take its place.
func replaceable(list []Vitals, id, by uuid.UUID) (Vitals, error) {
	i := slices.IndexFunc(list, func(v Vitals) bool { return v.ID == id })
	switch {
	case i < 0:
		return Vitals{}, domain.ErrNotFound
	case !list[i].InForce() && list[i].SupersededBy.UUID != by: // sent twice, it is found again
		return Vitals{}, domain.ErrConflict
	}
	return list[i], nil
}

// weightsUpTo are the weights of the readings in force on earlier days, and that
// of the day itself.
func weightsUpTo(list []Vitals, on domain.Date, grams int) []screening.Weight {
	if grams == 0 {
		return nil
	}
	var weights []screening.Weight
	for _, v := range slices.Backward(list) {
		if !v.InForce() || len(v.Reading.Weights) == 0 {
			continue
		}
		if w := v.Reading.Weights[len(v.Reading.Weights)-1]; w.On.Before(on) && on.DaysSince(w.On) <= 7 {
			weights = append(weights, w)
		}
	}
	return append(weights, screening.Weight{On: on, Grams: grams})
}

// judgeVitals asks the rules what a row comes to.
func (t *tx) judgeVitals(row *Vitals, in VitalsInput) (err error) {
	var problems domain.Problems
	if in.ID == uuid.Nil {
		problems.Add("id", "The form was incomplete. Load the page again.")
	}
	if in.Correct {
		checkReason(&problems, in.Reason)
	}
	if r := row.Reading; row.Change == "again" && r.SBPAgain == nil && r.DBPAgain == nil && r.RestingHRAgain == nil && !r.NotAgain {
		problems.Add("sbp_again", "Type what was measured now.")
	}
	if !row.Reading.Measured() {
		problems.Add("sbp", "Type what was measured, or tick what the client says.")
	}
	policy := screening.PolicyFrom(t.settings)
	row.Judgement, err = row.Reading.Judge(policy)
	if found, ok := errors.AsType[domain.Problems](err); ok {
		for field, sentence := range found {
			problems.Add(field, sentence)
		}
	} else if err != nil {
		return err
	}
	if err := problems.Err(); err != nil {
		return err
	}
	if in.Confirmed || row.Change == "again" { // a second reading is what confirms the first
		return nil
	}
	return row.Reading.Doubts(policy.Bands).Err()
}

// storeVitals writes a row, and what follows from it: holds that its findings ask
// for and that are not open yet, the end of those that the row before it opened
// and that it does not bear out, and the flag.
func (t *tx) storeVitals(ctx context.Context, client uuid.UUID, row Vitals) error {
	settings, err := loadSettings(ctx, t)
	if err != nil {
		return err
	}
	if _, err := t.Exec(ctx, `
		INSERT INTO vitals (id, client_id, first, change, taken_at, reading, judgement, rule_set, settings_version, supersedes, reason, entered_at, entered_by)
		VALUES ($1, $2, $3, $4, $5, $6, $7, $8, $9, $10, $11, $12, $13)`,
		row.ID, client, row.First, row.Change, row.TakenAt, row.Reading, row.Judgement, rulebook.Version, settings.Version, row.Supersedes, row.Reason,
		t.now, t.actor.ID); err != nil {
		return err
	}
	if err := t.audit(ctx, "vitals."+row.Change, client, "vitals/"+row.ID.String(), nil); err != nil {
		return err
	}
	counts := row.Judgement.Counts()
	if row.Change == "error" {
		counts = screening.Assessment{}
	}
	if row.Change != "new" {
		if err := t.reviseHolds(ctx, client, row, counts); err != nil {
			return err
		}
	}
	if err := t.holdByVitals(ctx, client, row, counts); err != nil {
		return err
	}
	return t.flagVitals(ctx, client, row, counts)
}

// reviseHolds releases the open holds of a reading that it does not bear out any
// more: the value was wrong, or it was normal when it was measured again.
func (t *tx) reviseHolds(ctx context.Context, client uuid.UUID, row Vitals, counts screening.Assessment) error {
	all, err := t.allHolds(ctx, client)
	if err != nil {
		return err
	}
	reason := "Measured again: it is not there any more."
	if row.Change != "again" {
		reason = "The reading was entered in error: " + row.Reason
	}
	for _, h := range all {
		if h.Released != nil || h.Vitals.UUID != row.First || !h.Vitals.Valid {
			continue
		}
		if slices.ContainsFunc(counts.Findings, func(f screening.VitalFinding) bool { return f.Rule == h.Cause && f.Hold == h.Scope }) {
			continue
		}
		if err := t.release(ctx, client, h.ID, clearance.Release{Reason: reason}); err != nil {
			return err
		}
	}
	return nil
}

// holdByVitals opens the holds that findings ask for, except those that an open
// hold of the same cause covers already.
func (t *tx) holdByVitals(ctx context.Context, client uuid.UUID, row Vitals, counts screening.Assessment) error {
	all, err := t.allHolds(ctx, client)
	if err != nil {
		return err
	}
	for _, h := range counts.Holds(domain.DateOf(row.TakenAt, t.practice.Location)) {
		if slices.ContainsFunc(all, func(o Hold) bool { return o.Released == nil && o.Cause == h.Cause && o.Scope >= h.Scope }) {
			continue
		}
		needs := h.Needs
		if needs == "" {
			needs = clearance.NeedsDoctor
		}
		id := newID()
		if _, err := t.Exec(ctx, `
			INSERT INTO holds (id, client_id, scope, kind, cause, rule, reason, needs, since, opened_at, opened_by, vitals_id)
			VALUES ($1, $2, $3, $4, $5, $6, $7, $8, $9, $10, $11, $12)`,
			id, client, h.Scope, string(h.Kind), h.Cause, h.Rule, h.Reason, string(needs), h.Since, t.now, t.actor.ID, row.First); err != nil {
			return err
		}
		if err := t.audit(ctx, "hold.open", client, "hold/"+id.String(), map[string]any{"rule": h.Rule}); err != nil {
			return err
		}
	}
	return nil
}

// FlagVitals is the kind of flags that vital signs before a session raise.
const FlagVitals = "vitals"

// flagVitals raises a flag for the most urgent finding that somebody has to look
// at, and ends those of the rows before.
func (t *tx) flagVitals(ctx context.Context, client uuid.UUID, row Vitals, counts screening.Assessment) error {
	subject := "vitals/" + row.First.String()
	open, err := t.openFlags(ctx, client)
	if err != nil {
		return err
	}
	for _, f := range open {
		if f.Kind == FlagVitals && f.Subject == subject {
			if err := t.finish(ctx, f, "The reading was changed: "+row.Change+"."); err != nil {
				return err
			}
		}
	}
	e, top, ok := worklist.OfVitals(counts.Findings, t.today)
	if !ok {
		return nil
	}
	return t.raise(ctx, Flag{
		Client: client, Kind: FlagVitals, Subject: subject, Urgency: int(e.Urgency), Due: e.Due, Cause: top, Rule: top, Text: e.Text, Action: e.Action,
		Href: "/clients/" + client.String() + e.Place,
	})
}

// MarkVitalsError marks a reading as entered in error: of somebody else, or never
// taken. The holds that it opened end with it; so one that holds exercise needs a
// second reading of today, or the lead. It returns [domain.Problems] without that
// and without a reason, and [domain.ErrConflict] if the row counts no more.
func (s *Store) MarkVitalsError(ctx context.Context, actor Actor, client, id uuid.UUID, reason string) error {
	reason = strings.TrimSpace(reason)
	err := s.change(ctx, actor, func(t *tx) error {
		if _, err := t.lockClient(ctx, client, true); err != nil {
			return err
		}
		list, err := t.vitals(ctx, client)
		if err != nil {
			return err
		}
		row, err := replaceable(list, id, uuid.Nil)
		if err != nil {
			return err
		}
		var problems domain.Problems
		checkReason(&problems, reason)
		holds := row.Judgement.Hold != clearance.NoHold
		if why := row.Reading.Dismissible(holds, t.actor.Role == domain.RoleLead, t.laterToday(list, row)); why != "" {
			problems.Add("reason", why)
		}
		if problems != nil {
			return problems
		}
		row.ID, row.Change, row.Supersedes, row.Reason = newID(), "error", orNull(id), reason
		return t.storeVitals(ctx, client, row)
	})
	if err != nil {
		return fmt.Errorf("mark vital signs %s of client %s: %w", id, client, err)
	}
	return nil
}

// laterToday are the readings in force that were taken today, after another one.
func (t *tx) laterToday(list []Vitals, than Vitals) []screening.Reading {
	var later []screening.Reading
	for _, v := range list {
		if v.InForce() && v.First != than.First && v.TakenAt.After(than.TakenAt) && domain.DateOf(v.TakenAt, t.practice.Location) == t.today {
			later = append(later, v.Reading)
		}
	}
	return later
}

// vitalsItems are the readings of the clients that the actor may see which have
// to be taken again before they count.
func (t *tx) vitalsItems(ctx context.Context, clients map[uuid.UUID]listed) ([]WorklistItem, error) {
	rows, _ := t.Query(ctx, `
		SELECT v.client_id, v.taken_at FROM vitals v JOIN clients c ON c.id = v.client_id
		WHERE c.closed_at IS NULL AND `+seen+` AND v.change <> 'error' AND jsonb_path_exists(v.judgement, '$.waits[*]')
			AND NOT EXISTS (SELECT FROM vitals s WHERE s.supersedes = v.id)
		ORDER BY v.taken_at, v.id`, t.actor.args(nil))
	list, err := pgx.CollectRows(rows, pgx.RowToStructByPos[struct {
		Client  uuid.UUID
		TakenAt time.Time
	}])
	items := make([]WorklistItem, len(list))
	for i, v := range list {
		items[i] = clients[v.Client].item(worklist.OfRepeat(domain.DateOf(v.TakenAt, t.practice.Location)))
	}
	return items, err
}

package store

import (
	"cmp"
	"context"
	"fmt"
	"slices"
	"strings"
	"time"

	"github.com/google/uuid"
	"github.com/jackc/pgx/v5"

	"brae/domain"
	"brae/domain/clearance"
	"brae/domain/intensity"
	"brae/domain/screening"
	"brae/domain/volume"
)

// Client is a person in the practice's care.
type Client struct {
	ID               uuid.UUID
	PractitionerID   uuid.UUID
	AccountID        uuid.NullUUID // set once invited
	GivenName        string
	FamilyName       string
	BirthDate        domain.Date
	Sex              domain.Sex // empty is not said
	Phone            string
	EmergencyContact string
	CreatedAt        time.Time
	ClosedAt         *time.Time
}

// Name is the name as it stands on pages.
func (c Client) Name() string { return c.GivenName + " " + c.FamilyName }

const clientColumns = `c.id, c.practitioner_id, c.account_id, c.given_name, c.family_name, c.birth_date, c.sex,
	c.phone, c.emergency_contact, c.created_at, c.closed_at`

// Check reports what keeps a new client from being saved. A birth date in the
// future or before 110 years is a slip; under 18 the adult rules do not apply.
func (c Client) Check(today domain.Date) domain.Problems {
	var problems domain.Problems
	if c.GivenName == "" {
		problems.Add("given_name", "Type the first name.")
	}
	if c.FamilyName == "" {
		problems.Add("family_name", "Type the last name.")
	}
	for _, f := range []struct{ field, value string }{
		{"given_name", c.GivenName}, {"family_name", c.FamilyName}, {"phone", c.Phone}, {"emergency_contact", c.EmergencyContact},
	} {
		lengthProblem(&problems, f.field, f.value)
	}
	if !c.Sex.Valid() {
		problems.Add("sex", "Choose female, male or not said.")
	}
	if c.BirthDate.IsZero() {
		problems.Add("birth_date", "Type the date of birth as year-month-day, such as 1961-04-30.")
		return problems
	}
	switch age := c.BirthDate.AgeOn(today); {
	case age < 0:
		problems.Add("birth_date", "This date is in the future. Check the year.")
	case age < 18:
		problems.Add("birth_date", "Brae's rules are for adults. This person is under 18.")
	case age > 110:
		problems.Add("birth_date", "This makes the person older than 110. Check the year.")
	}
	return problems
}

// AddClient takes a person into the actor's own caseload and returns their id.
// A [domain.Problems] names what is missing.
func (s *Store) AddClient(ctx context.Context, actor Actor, c Client) (uuid.UUID, error) {
	if !actor.Role.Staff() {
		return uuid.Nil, domain.ErrForbidden
	}
	c.ID = newID()
	c.GivenName, c.FamilyName = strings.TrimSpace(c.GivenName), strings.TrimSpace(c.FamilyName)
	err := s.change(ctx, actor, func(t *tx) error {
		if err := c.Check(t.today).Err(); err != nil {
			return err
		}
		_, err := t.Exec(ctx, `
			INSERT INTO clients (id, practitioner_id, given_name, family_name, birth_date, sex, phone, emergency_contact, created_at)
			VALUES ($1, $2, $3, $4, $5, $6, $7, $8, $9)`,
			c.ID, actor.ID, c.GivenName, c.FamilyName, c.BirthDate, string(c.Sex), c.Phone, c.EmergencyContact, t.now)
		if err != nil {
			return err
		}
		return t.audit(ctx, "client.add", c.ID, "client/"+c.ID.String(), nil)
	})
	if err != nil {
		return uuid.Nil, fmt.Errorf("add client: %w", err)
	}
	return c.ID, nil
}

// InviteClient gives a client a sign-in, or a new link to the one they have, and
// returns the token of the link. A sign-in name is needed the first time.
func (s *Store) InviteClient(ctx context.Context, actor Actor, client uuid.UUID, signIn string) (token string, err error) {
	err = s.change(ctx, actor, func(t *tx) error {
		token, err = t.invite(ctx, client, signIn)
		return err
	})
	if err != nil {
		return "", fmt.Errorf("invite client %s: %w", client, err)
	}
	return token, nil
}

func (t *tx) invite(ctx context.Context, client uuid.UUID, signIn string) (token string, err error) {
	c, err := t.lockClient(ctx, client, true)
	if err != nil {
		return "", err
	}
	account := c.AccountID.UUID
	if !c.AccountID.Valid {
		if account, err = t.addAccount(ctx, domain.RoleClient, c.Name(), signIn); err != nil {
			return "", err
		}
		if _, err := t.Exec(ctx, `UPDATE clients SET account_id = $2 WHERE id = $1`, client, account); err != nil {
			return "", err
		}
	}
	if token, err = t.addLink(ctx, account); err != nil {
		return "", err
	}
	return token, t.audit(ctx, "client.invite", client, "account/"+account.String(), nil)
}

// OwnClient returns the id of the client whose account the actor is signed in
// with. It returns [domain.ErrNotFound] if the record is closed.
func (s *Store) OwnClient(ctx context.Context, actor Actor) (uuid.UUID, error) {
	rows, _ := s.pool.Query(ctx, `SELECT id FROM clients WHERE account_id = $1 AND closed_at IS NULL`, actor.ID)
	id, err := pgx.CollectExactlyOneRow(rows, pgx.RowTo[uuid.UUID])
	if err != nil {
		return uuid.Nil, fmt.Errorf("client of account %s: %w", actor.ID, domainError(err))
	}
	return id, nil
}

// CaseloadLine is one client in the caseload.
type CaseloadLine struct {
	ID           uuid.UUID
	GivenName    string
	FamilyName   string
	BirthDate    domain.Date
	Practitioner string
	Screened     bool            // has a decision
	Drafted      bool            // has an intake under way
	Ceiling      intensity.Class // of the newest screening; None if not screened
	Hold         clearance.Scope // the widest open hold
	Prescribed   bool
	Target       int  // minutes a week
	TargetLight  bool // light minutes count towards it
	Light        int  // minutes this week
	Moderate     int
	Vigorous     int
	LastDay      domain.Date
	Due          []screening.Due `db:"-"` // why the client has to be screened again
}

// Done returns the minutes of this week that count towards the target.
func (l CaseloadLine) Done() int {
	return volume.Target{Minutes: l.Target, Light: l.TargetLight}.Done(totals(l.Light, l.Moderate, l.Vigorous))
}

// Name is the name as it stands on pages.
func (l CaseloadLine) Name() string { return l.GivenName + " " + l.FamilyName }

// Caseload lists the open clients the actor may see, by last name. A search
// matches the beginning of either name.
func (s *Store) Caseload(ctx context.Context, actor Actor, search string) ([]CaseloadLine, error) {
	if !actor.Role.Staff() {
		return nil, domain.ErrForbidden
	}
	var list []CaseloadLine
	err := s.change(ctx, actor, func(t *tx) (err error) {
		if list, err = t.caseload(ctx, search); err != nil {
			return err
		}
		return t.audit(ctx, "caseload.view", uuid.Nil, "caseload", map[string]any{"clients": len(list)})
	})
	if err != nil {
		return nil, fmt.Errorf("caseload: %w", err)
	}
	return list, nil
}

func (t *tx) caseload(ctx context.Context, search string) ([]CaseloadLine, error) {
	rows, _ := t.Query(ctx, `
		SELECT c.id, c.revision, a.name AS practitioner, d.client_id IS NOT NULL AS drafted
		FROM clients c JOIN accounts a ON a.id = c.practitioner_id LEFT JOIN intake_drafts d ON d.client_id = c.id
		WHERE c.closed_at IS NULL AND `+seen+` AND (c.family_name ILIKE @search OR c.given_name ILIKE @search)
		ORDER BY c.id`,
		t.actor.args(pgx.NamedArgs{"search": likePrefix(search)}))
	type beside struct { // what is not worked out from the record
		ID, Revision uuid.UUID
		Practitioner string
		Drafted      bool
	}
	found, err := pgx.CollectRows(rows, pgx.RowToStructByPos[beside])
	if err != nil {
		return nil, err
	}
	clients := make([]stamped, len(found))
	for i, c := range found {
		clients[i] = stamped{ID: c.ID, Revision: c.Revision}
	}
	entries, err := recall(ctx, t, &t.memos.caseload, clients, func(ctx context.Context, missing []uuid.UUID) (map[uuid.UUID]*caseloadEntry, error) {
		return t.caseloadEntries(ctx, stampsOf(clients, missing))
	})
	if err != nil {
		return nil, err
	}
	order := make([]int, len(entries))
	for i := range order {
		order[i] = i
	}
	slices.SortFunc(order, func(a, b int) int { return cmp.Or(entries[a].name.compare(entries[b].name), a-b) })
	list := make([]CaseloadLine, len(order))
	for i, at := range order {
		list[i] = entries[at].line
		list[i].Practitioner, list[i].Drafted = found[at].Practitioner, found[at].Drafted
	}
	return list, nil
}

// caseloadEntry is what is remembered of a client's line in the caseload.
type caseloadEntry struct {
	line CaseloadLine // without the practitioner's name and the intake under way
	name nameKey
}

func (t *tx) caseloadEntries(ctx context.Context, clients []stamped) (map[uuid.UUID]*caseloadEntry, error) {
	ids := make([]uuid.UUID, len(clients))
	for i, c := range clients {
		ids[i] = c.ID
	}
	week := t.today.Week(t.practice.WeekStart)
	rows, _ := t.Query(ctx, `
		SELECT c.id, c.given_name, c.family_name, c.birth_date, '' AS practitioner, s.ceiling IS NOT NULL AS screened, false AS drafted,
			coalesce(s.ceiling, 'none') AS ceiling, coalesce(h.scope, 'none') AS hold,
			p.target IS NOT NULL AS prescribed, coalesce(p.target, @target)::int AS target, coalesce(p.target_light, false) AS target_light,
			coalesce(w.light, 0) AS light, coalesce(w.moderate, 0) AS moderate, coalesce(w.vigorous, 0) AS vigorous, l.day AS last_day
		FROM clients c
		LEFT JOIN LATERAL (SELECT ceiling FROM screenings WHERE client_id = c.id ORDER BY created_at DESC LIMIT 1) s ON true
		LEFT JOIN LATERAL (SELECT target, target_light FROM prescriptions WHERE client_id = c.id ORDER BY version DESC LIMIT 1) p ON true
		LEFT JOIN LATERAL (
			SELECT scope FROM holds WHERE client_id = c.id AND released_at IS NULL
			ORDER BY array_position(ARRAY['all', 'above_light', 'vigorous'], scope) LIMIT 1) h ON true
		LEFT JOIN LATERAL (SELECT day FROM sessions WHERE client_id = c.id AND deleted_at IS NULL ORDER BY day DESC LIMIT 1) l ON true
		LEFT JOIN week_totals w ON w.client_id = c.id AND w.week = @week
		WHERE c.id = ANY(@clients)`,
		pgx.NamedArgs{"clients": ids, "week": week, "target": volume.DefaultTarget(volume.PolicyFrom(t.settings)).Minutes})
	list, err := pgx.CollectRows(rows, pgx.RowToStructByName[CaseloadLine])
	if err != nil {
		return nil, err
	}
	// What doctors have decided stands beside the screening, not in it.
	words, err := t.doctorsWords(ctx, clients)
	if err != nil {
		return nil, err
	}
	due, err := t.rescreens(ctx, ids)
	if err != nil {
		return nil, err
	}
	planned, err := t.plannedWeeks(ctx, ids, week, week)
	if err != nil {
		return nil, err
	}
	key := nameKeys()
	entries := make(map[uuid.UUID]*caseloadEntry, len(list))
	for _, l := range list {
		if w, ok := words[l.ID]; ok {
			l.Ceiling, l.Hold = w.ceiling, w.hold
		}
		l.Due = due[l.ID]
		if w, ok := planned[plannedKey{l.ID, week}]; ok {
			w = w.Under(l.Hold.Ceiling())
			l.Target, l.TargetLight = w.Asked.Minutes, w.Asked.Light
		}
		entries[l.ID] = &caseloadEntry{l, key(l.FamilyName, l.GivenName)}
	}
	return entries, nil
}

// likePrefix makes a pattern that matches what begins with the text.
func likePrefix(text string) string {
	return strings.NewReplacer(`\`, `\\`, `%`, `\%`, `_`, `\_`).Replace(strings.TrimSpace(text)) + "%"
}

package store

import (
	"cmp"
	"context"
	"fmt"
	"slices"

	"github.com/google/uuid"
	"github.com/jackc/pgx/v5"

	"brae/domain"
	"brae/domain/clearance"
	"brae/domain/fitness"
	"brae/domain/worklist"
)

// WorklistItem is one line of the worklist: a flag that somebody is done with, or an
// entry that comes from the record and goes when its cause goes.
type WorklistItem struct {
	worklist.Entry
	Flag       uuid.UUID // nil of what comes from the record
	ClientID   uuid.UUID
	ClientName string
	Since      domain.Date // a flag: the day it was raised
	Before     int         // flags of the same cause that were raised before it and go with it
	Href       string
}

// DoneItem is a flag that somebody is done with.
type DoneItem struct {
	Flag       uuid.UUID
	ClientName string
	Text       string
	Reason     string
	By         string // name of the account
}

// WorklistFilter narrows the worklist.
type WorklistFilter struct {
	Practitioner uuid.UUID        // whose clients; the nil id is all that the actor may see
	Urgency      worklist.Urgency // 0 is any
}

// Workload is how much waits for one practitioner.
type Workload struct {
	ID      uuid.UUID
	Name    string
	Entries int
	Now     int // of these, emergencies
}

// Worklist is what waits for a practitioner, or in the whole practice.
type Worklist struct {
	Today    domain.Date
	Items    []WorklistItem           // that the filter lets through, the most urgent first
	Counts   map[worklist.Urgency]int // of the chosen practitioner, whatever the urgency
	Total    int                      // of the chosen practitioner
	Pressing int                      // of these, to be looked at today
	Workload []Workload               // of the whole list by practitioner; those without an entry, too
	Done     []DoneItem               // today, the newest first
}

// Worklist returns what waits for somebody to act on, of the clients that the actor
// may see: flags, and what the record asks for.
func (s *Store) Worklist(ctx context.Context, actor Actor, filter WorklistFilter) (Worklist, error) {
	if !actor.Role.Staff() {
		return Worklist{}, domain.ErrForbidden
	}
	var list Worklist
	err := s.change(ctx, actor, func(t *tx) (err error) {
		list, err = t.worklist(ctx, filter)
		if err != nil {
			return err
		}
		return t.audit(ctx, "today.view", uuid.Nil, "today", map[string]any{"entries": len(list.Items)})
	})
	if err != nil {
		return Worklist{}, fmt.Errorf("worklist: %w", err)
	}
	return list, nil
}

// listed is an open client as the worklist names them.
type listed struct {
	ID             uuid.UUID
	Name           string
	PractitionerID uuid.UUID
	Practitioner   string
}

func (t *tx) listedClients(ctx context.Context) (map[uuid.UUID]listed, error) {
	rows, _ := t.Query(ctx, `
		SELECT c.id, c.given_name || ' ' || c.family_name AS name, c.practitioner_id, a.name AS practitioner
		FROM clients c JOIN accounts a ON a.id = c.practitioner_id
		WHERE c.closed_at IS NULL AND `+seen, t.actor.args(nil))
	list, err := pgx.CollectRows(rows, pgx.RowToStructByName[listed])
	clients := make(map[uuid.UUID]listed, len(list))
	for _, c := range list {
		clients[c.ID] = c
	}
	return clients, err
}

func (t *tx) worklist(ctx context.Context, filter WorklistFilter) (Worklist, error) {
	list := Worklist{Today: t.today, Counts: map[worklist.Urgency]int{}}
	clients, err := t.listedClients(ctx)
	if err != nil {
		return list, err
	}
	var all []WorklistItem
	for _, source := range []func(context.Context, map[uuid.UUID]listed) ([]WorklistItem, error){
		t.flagItems, t.vitalsItems, t.doctorItems, t.rescreenItems, t.retestItems, t.noteItems, t.prescriptionItems, t.signOffItems, t.answerItems,
	} {
		items, err := source(ctx, clients)
		if err != nil {
			return list, err
		}
		all = append(all, items...)
	}
	slices.SortStableFunc(all, func(a, b WorklistItem) int {
		return cmp.Or(a.Compare(b.Entry), a.Since.Compare(b.Since), cmp.Compare(a.ClientName, b.ClientName))
	})
	loads := map[uuid.UUID]*Workload{}
	for _, c := range clients {
		if loads[c.PractitionerID] == nil {
			loads[c.PractitionerID] = &Workload{ID: c.PractitionerID, Name: c.Practitioner}
		}
	}
	for _, item := range all {
		c := clients[item.ClientID]
		load := loads[c.PractitionerID]
		load.Entries++
		if item.Urgency == worklist.Now {
			load.Now++
		}
		if filter.Practitioner != uuid.Nil && c.PractitionerID != filter.Practitioner {
			continue
		}
		list.Counts[item.Urgency]++
		list.Total++
		if item.Pressing(t.today) {
			list.Pressing++
		}
		if filter.Urgency == 0 || item.Urgency == filter.Urgency {
			list.Items = append(list.Items, item)
		}
	}
	for _, load := range loads {
		list.Workload = append(list.Workload, *load)
	}
	slices.SortFunc(list.Workload, func(a, b Workload) int {
		return cmp.Or(cmp.Compare(a.Name, b.Name), cmp.Compare(a.ID.String(), b.ID.String()))
	})
	list.Done, err = t.doneToday(ctx, filter)
	return list, err
}

// item is an entry about a client.
func (c listed) item(e worklist.Entry) WorklistItem {
	return WorklistItem{Entry: e, ClientID: c.ID, ClientName: c.Name, Href: "/clients/" + c.ID.String() + e.Place}
}

// flagItems are the flags that nobody is done with.
func (t *tx) flagItems(ctx context.Context, clients map[uuid.UUID]listed) ([]WorklistItem, error) {
	rows, _ := t.Query(ctx, `
		SELECT f.id, f.client_id AS client, f.kind, f.subject, f.urgency, f.due, f.cause, f.rule, f.text, f.action, f.href, f.opened_at
		FROM flags f JOIN clients c ON c.id = f.client_id
		WHERE f.done_at IS NULL AND c.closed_at IS NULL AND `+seen+`
		ORDER BY f.opened_at, f.id`, t.actor.args(nil))
	flags, err := pgx.CollectRows(rows, pgx.RowToStructByName[Flag])
	type cause struct {
		client      uuid.UUID
		kind, cause string
		urgency     int
	}
	var items []WorklistItem
	at := map[cause]int{} // where what stands once stands
	for _, f := range flags {
		item := clients[f.Client].item(worklist.Entry{
			Kind: worklist.Kind(f.Kind), Urgency: worklist.Urgency(f.Urgency), Due: f.Due, Text: f.Text, Action: f.Action,
		})
		item.Flag, item.Href, item.Since = f.ID, f.Href, domain.DateOf(f.OpenedAt, t.practice.Location)
		key := cause{f.Client, f.Kind, f.Cause, f.Urgency}
		i, stands := at[key]
		if !stands || !item.Urgency.StandsOnce() {
			at[key] = len(items)
			items = append(items, item)
			continue
		}
		item.Before = items[i].Before + 1
		if first := items[i].Due; item.Due.IsZero() || !first.IsZero() && first.Before(item.Due) {
			item.Due = first // what came first is due first
		}
		items[i] = item
	}
	return items, err
}

// doctorItems are the letters and decisions that somebody has to look at. They are
// worked out from the letters, the decisions and the day each time the list is
// shown, and stored nowhere: so none can stay behind when its cause has gone, or be
// missing because nothing ran at night. For the same reason nobody ticks them off;
// what they ask for is what ends them.
func (t *tx) doctorItems(ctx context.Context, clients map[uuid.UUID]listed) ([]WorklistItem, error) {
	q, err := t.doctorQueue(ctx)
	if err != nil {
		return nil, err
	}
	var items []WorklistItem
	for _, l := range q.Letters {
		if e, ok := worklist.OfLetter(l.Status, l.Waiting, l.Pending != nil, l.Days); ok {
			e.Place = "/letters/" + l.ID.String()
			items = append(items, clients[l.ClientID].item(e))
		}
	}
	for _, c := range q.Unasked {
		items = append(items, clients[c.ID].item(worklist.OfUnasked(c.Scope, c.Days)))
	}
	asked := map[uuid.UUID]domain.Date{} // the day of the newest letter that is under way
	for _, l := range q.Letters {
		if on := t.today.AddDays(-l.Days); on.After(asked[l.ClientID]) {
			asked[l.ClientID] = on
		}
	}
	told := map[uuid.UUID]bool{} // a decision stands on the list once
	for _, group := range [][]QueueDecision{q.Lapsed, q.Review, q.Confirm, q.Lapsing} {
		for _, d := range group {
			warned := clearance.Warned(d.Decision, t.today, q.Policy)
			e, ok := worklist.OfDecision(d.State, d.ConfirmBy, d.Lapses, warned, d.AskedBy(asked[d.ClientID], q.Policy), t.today)
			if !ok || told[d.ID] {
				continue
			}
			told[d.ID] = true
			e.Place = "/decisions/" + d.ID.String()
			items = append(items, clients[d.ClientID].item(e))
		}
	}
	return items, nil
}

// rescreenItems are the clients who have to be screened again.
func (t *tx) rescreenItems(ctx context.Context, clients map[uuid.UUID]listed) ([]WorklistItem, error) {
	stamps, _, err := t.stampedClients(ctx)
	if err != nil {
		return nil, err
	}
	due, err := recall(ctx, t, &t.memos.due, stamps, t.rescreens)
	var items []WorklistItem
	for i, reasons := range due {
		if len(reasons) > 0 {
			items = append(items, clients[stamps[i].ID].item(worklist.OfRescreen(reasons[0].On, reasons[0].Says)))
		}
	}
	return items, err
}

// retestItems are the fitness tests that are due again.
func (t *tx) retestItems(ctx context.Context, clients map[uuid.UUID]listed) ([]WorklistItem, error) {
	due, err := t.retestsDue(ctx)
	var items []WorklistItem
	for _, r := range due {
		name := string(r.Test)
		if test, err := fitness.FindTest(r.Test); err == nil {
			name = test.Name
		}
		items = append(items, clients[r.ClientID].item(worklist.OfRetest(name, r.LastOn, r.DueOn)))
	}
	return items, err
}

// doneToday are the flags that somebody was done with today, the newest first.
func (t *tx) doneToday(ctx context.Context, filter WorklistFilter) ([]DoneItem, error) {
	rows, _ := t.Query(ctx, `
		SELECT f.id AS flag, c.given_name || ' ' || c.family_name AS client_name, f.text, f.done_reason AS reason, a.name AS by
		FROM flags f JOIN clients c ON c.id = f.client_id JOIN accounts a ON a.id = f.done_by
		WHERE (f.done_at AT TIME ZONE @zone)::date = @today AND c.closed_at IS NULL AND `+seen+`
			AND (@practitioner::uuid IS NULL OR c.practitioner_id = @practitioner)
			AND NOT EXISTS (SELECT FROM flags o WHERE o.client_id = f.client_id AND o.kind = f.kind AND o.subject = f.subject AND o.done_at IS NULL)
		ORDER BY f.done_at DESC, f.id`,
		t.actor.args(pgx.NamedArgs{"zone": t.practice.Zone, "today": t.today, "practitioner": orNull(filter.Practitioner)}))
	return pgx.CollectRows(rows, pgx.RowToStructByName[DoneItem])
}

// FinishFlag takes a flag off the list, with what was done about it, and with it
// those of the same cause before it that stand as one with it. It returns
// [domain.Problems] without a reason, and [domain.ErrConflict] if somebody was
// faster.
func (s *Store) FinishFlag(ctx context.Context, actor Actor, flag uuid.UUID, reason string) error {
	err := s.change(ctx, actor, func(t *tx) error {
		f, err := t.lockFlag(ctx, flag)
		if err != nil {
			return err
		}
		var problems domain.Problems
		reasonProblem(&problems, "reason", reason)
		if err := problems.Err(); err != nil {
			return err
		}
		if err := t.finish(ctx, f, reason); err != nil {
			return err
		}
		return t.finishAlike(ctx, f, reason)
	})
	if err != nil {
		return fmt.Errorf("finish flag %s: %w", flag, err)
	}
	return nil
}

// PutBackFlag raises a flag again that somebody was done with. What was done stays
// in the record.
func (s *Store) PutBackFlag(ctx context.Context, actor Actor, flag uuid.UUID) error {
	err := s.change(ctx, actor, func(t *tx) error {
		f, err := t.lockFlag(ctx, flag)
		if err != nil {
			return err
		}
		open, err := t.openFlags(ctx, f.Client)
		if err != nil {
			return err
		}
		if slices.ContainsFunc(open, func(o Flag) bool { return o.Kind == f.Kind && o.Subject == f.Subject }) {
			return domain.ErrConflict
		}
		return t.raise(ctx, f)
	})
	if err != nil {
		return fmt.Errorf("put back flag %s: %w", flag, err)
	}
	return nil
}

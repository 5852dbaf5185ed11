package store

import (
	"context"
	"sync"
	"time"

	"github.com/google/uuid"
	"github.com/jackc/pgx/v5"

	"brae/domain"
	"brae/domain/screening"
)

// memos are what this program remembers of what follows from clients' records, for
// the pages about many of them.
type memos struct {
	lines    memo[*reviewEntry] // nil of who has no prescription
	stands   memo[reviewStand]
	caseload memo[*caseloadEntry]
	due      memo[[]screening.Due]
	word     memo[doctorsWord]
	stale    memo[StalePrescription] // without reasons of who has none
	signed   memo[signOff]
}

// memo remembers something about each client for as long as it rests on the same:
// the revision of the record, the day, the practice and its settings. It is no
// record: forgetting it changes nothing but how long the next page takes. What it
// holds is shared, and must not be written to.
type memo[T any] struct {
	mu    sync.Mutex
	basis basis
	known map[uuid.UUID]remembered[T]
}

type remembered[T any] struct {
	revision uuid.UUID
	value    T
}

// basis is what everything remembered rests on beside the records. The rules are
// those of the program.
type basis struct {
	today     domain.Date
	settings  int // version
	zone      string
	weekStart time.Weekday
}

func (t *tx) basis() basis {
	return basis{t.today, t.version, t.practice.Zone, t.practice.WeekStart}
}

// stamped is a client with the revision of the record.
type stamped struct {
	ID, Revision uuid.UUID
	Practitioner uuid.UUID
}

// stampedClients are the open clients that the actor may see, in the order of their
// ids, and the names of the staff.
//
// The stamps are read before anything that is worked out and remembered under
// them. A change that commits in between gives its client another revision, so what
// was read half before it and half after is never found again.
func (t *tx) stampedClients(ctx context.Context) (list []stamped, staff map[uuid.UUID]string, err error) {
	batch := &pgx.Batch{}
	batch.Queue(`
		SELECT c.id, c.revision, c.practitioner_id FROM clients c
		WHERE c.closed_at IS NULL AND `+seen+`
		ORDER BY c.id`, t.actor.args(nil)).Query(func(rows pgx.Rows) error {
		var c stamped
		_, err := pgx.ForEachRow(rows, []any{&c.ID, &c.Revision, &c.Practitioner}, func() error {
			list = append(list, c)
			return nil
		})
		return err
	})
	staff = map[uuid.UUID]string{}
	batch.Queue(`SELECT id, name FROM accounts WHERE role <> 'client'`).Query(func(rows pgx.Rows) error {
		var id uuid.UUID
		var name string
		_, err := pgx.ForEachRow(rows, []any{&id, &name}, func() error {
			staff[id] = name
			return nil
		})
		return err
	})
	return list, staff, t.SendBatch(ctx, batch).Close()
}

// stampsOf are the stamps of some of the clients.
func stampsOf(clients []stamped, ids []uuid.UUID) []stamped {
	at := make(map[uuid.UUID]stamped, len(clients))
	for _, c := range clients {
		at[c.ID] = c
	}
	some := make([]stamped, 0, len(ids))
	for _, id := range ids {
		if c, ok := at[id]; ok {
			some = append(some, c)
		}
	}
	return some
}

// recall returns what is remembered of the clients, in their order, and has the rest
// loaded: the zero value for whom load returns none. A transaction that changes a
// record, or looks at what would be if, neither finds nor keeps anything.
func recall[T any](ctx context.Context, t *tx, m *memo[T], clients []stamped, load func(context.Context, []uuid.UUID) (map[uuid.UUID]T, error)) ([]T, error) {
	values := make([]T, len(clients))
	if t.changing || t.firstPhaseOver != uuid.Nil {
		m = &memo[T]{}
	}
	missing := m.find(t.basis(), clients, values)
	if len(missing) == 0 {
		return values, nil
	}
	ids := make([]uuid.UUID, len(missing))
	for i, at := range missing {
		ids[i] = clients[at].ID
	}
	loaded, err := load(ctx, ids)
	if err != nil {
		return nil, err
	}
	for _, at := range missing {
		values[at] = loaded[clients[at].ID]
	}
	m.keep(t.basis(), clients, missing, values)
	return values, nil
}

// find fills in the values that are remembered and returns where the others are.
func (m *memo[T]) find(b basis, clients []stamped, values []T) (missing []int) {
	m.mu.Lock()
	defer m.mu.Unlock()
	if m.basis != b {
		m.basis, m.known = b, map[uuid.UUID]remembered[T]{}
	}
	for i, c := range clients {
		if r, ok := m.known[c.ID]; ok && r.revision == c.Revision {
			values[i] = r.value
		} else {
			missing = append(missing, i)
		}
	}
	return missing
}

// keep remembers the values at some places.
func (m *memo[T]) keep(b basis, clients []stamped, at []int, values []T) {
	m.mu.Lock()
	defer m.mu.Unlock()
	if m.basis != b { // it is another day by now
		return
	}
	for _, i := range at {
		m.known[clients[i].ID] = remembered[T]{clients[i].Revision, values[i]}
	}
}

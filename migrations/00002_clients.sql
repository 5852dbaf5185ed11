-- +goose Up
CREATE TABLE clients (
    id                uuid        PRIMARY KEY,
    practitioner_id   uuid        NOT NULL REFERENCES accounts ON DELETE RESTRICT, -- whose caseload
    account_id        uuid        UNIQUE REFERENCES accounts ON DELETE RESTRICT,   -- NULL until invited
    given_name        text        NOT NULL CHECK (given_name <> ''),
    family_name       text        NOT NULL CHECK (family_name <> ''),
    birth_date        date        NOT NULL,
    phone             text        NOT NULL,
    emergency_contact text        NOT NULL,  -- name and how to reach them
    created_at        timestamptz NOT NULL,
    closed_at         timestamptz
);
-- The caseload and the weekly review list the open clients of a practitioner.
CREATE INDEX clients_practitioner ON clients (practitioner_id, family_name, given_name) WHERE closed_at IS NULL;

-- The intake under way: what was typed so far, step by step. It becomes a
-- screening when the decision is taken.
CREATE TABLE intake_drafts (
    client_id  uuid        PRIMARY KEY REFERENCES clients ON DELETE CASCADE,
    answers    jsonb       NOT NULL,  -- as typed, by field
    version    integer     NOT NULL CHECK (version > 0),  -- raised by each save: two editors are told apart
    saved_at   timestamptz NOT NULL,
    saved_by   uuid        NOT NULL REFERENCES accounts
);

-- A screening: the dated answers with the decision that the rules took on them.
CREATE TABLE screenings (
    id          uuid        PRIMARY KEY,
    client_id   uuid        NOT NULL REFERENCES clients ON DELETE RESTRICT,
    decided_on  date        NOT NULL,
    answers     jsonb       NOT NULL,  -- as typed, so that the form can be shown again
    input       jsonb       NOT NULL,  -- what the rules were given
    decision    jsonb       NOT NULL,  -- what they answered, with reasons and sources
    rule        text        NOT NULL,
    rule_set    text        NOT NULL,
    ceiling     text        NOT NULL CHECK (ceiling IN ('none', 'very_light', 'light', 'moderate', 'vigorous', 'near_maximal')),
    hold        text        NOT NULL CHECK (hold IN ('none', 'vigorous', 'above_light', 'all')),
    created_at  timestamptz NOT NULL,
    created_by  uuid        NOT NULL REFERENCES accounts
);
-- The newest screening of a client governs.
CREATE INDEX screenings_client ON screenings (client_id, created_at DESC);
CREATE TRIGGER screenings_append_only BEFORE UPDATE OR DELETE OR TRUNCATE ON screenings
    FOR EACH STATEMENT EXECUTE FUNCTION refuse_change();

-- A hold is opened and released, never deleted.
CREATE TABLE holds (
    id             uuid        PRIMARY KEY,
    client_id      uuid        NOT NULL REFERENCES clients ON DELETE RESTRICT,
    scope          text        NOT NULL CHECK (scope IN ('vigorous', 'above_light', 'all')),
    kind           text        NOT NULL CHECK (kind IN ('screening', 'vitals', 'triage', 'practitioner')),
    cause          text        NOT NULL CHECK (cause <> ''),  -- code of the disease, symptom or finding
    rule           text        NOT NULL,                      -- that opened it
    reason         text        NOT NULL CHECK (reason <> ''), -- in words
    needs          text        NOT NULL CHECK (needs IN ('resolution', 'doctor', 'practitioner', 'statement')), -- to release it
    since          date,       -- when the cause began; NULL if nobody knows
    screening_id   uuid        REFERENCES screenings ON DELETE RESTRICT,
    opened_at      timestamptz NOT NULL,
    opened_by      uuid        NOT NULL REFERENCES accounts,
    released_at    timestamptz,
    released_by    uuid        REFERENCES accounts,
    release_reason text        NOT NULL DEFAULT '',
    CHECK ((released_at IS NULL) = (released_by IS NULL)),
    CHECK (released_at IS NULL OR release_reason <> '')
);
CREATE INDEX holds_open ON holds (client_id) WHERE released_at IS NULL;

-- A prescription is signed once and superseded by the next version, not changed.
CREATE TABLE prescriptions (
    id                  uuid        PRIMARY KEY,
    client_id           uuid        NOT NULL REFERENCES clients ON DELETE RESTRICT,
    version             integer     NOT NULL CHECK (version > 0),
    screening_id        uuid        NOT NULL REFERENCES screenings ON DELETE RESTRICT,
    class               text        NOT NULL CHECK (class IN ('very_light', 'light', 'moderate', 'vigorous')),
    sessions_per_week   smallint    NOT NULL CHECK (sessions_per_week BETWEEN 1 AND 14),
    minutes_per_session smallint    NOT NULL CHECK (minutes_per_session BETWEEN 1 AND 240),
    activities          text        NOT NULL,
    target              smallint    NOT NULL CHECK (target BETWEEN 0 AND 1500),  -- minutes a week that count
    target_light        boolean     NOT NULL,  -- light minutes count towards the target, each once
    note                text        NOT NULL,  -- for the client
    zones               jsonb       NOT NULL,  -- basis, inputs and ranges as they were on the day
    signed_at           timestamptz NOT NULL,
    signed_by           uuid        NOT NULL REFERENCES accounts,
    UNIQUE (client_id, version)
);
CREATE TRIGGER prescriptions_append_only BEFORE UPDATE OR DELETE OR TRUNCATE ON prescriptions
    FOR EACH STATEMENT EXECUTE FUNCTION refuse_change();

-- +goose Down
DROP TABLE prescriptions, holds, screenings, intake_drafts, clients;

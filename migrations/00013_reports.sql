-- +goose Up
-- A report about what a client has done, signed: the practitioner's own words with
-- the figures as they were. It is never changed; a later one stands beside it.
CREATE TABLE reports (
    id        uuid        PRIMARY KEY,
    client_id uuid        NOT NULL REFERENCES clients ON DELETE RESTRICT,
    version   integer     NOT NULL CHECK (version > 0),
    reader    text        NOT NULL CHECK (reader IN ('client', 'doctor')),
    language  text        NOT NULL CHECK (language <> ''),  -- BCP 47, of what is printed around the words
    since     date        NOT NULL,
    until     date        NOT NULL,
    text      text        NOT NULL CHECK (text <> ''),
    advice    text        NOT NULL,  -- of a final report, to go on with; '' otherwise
    final     boolean     NOT NULL,  -- signed with the discharge
    figures   jsonb       NOT NULL,
    rule_set  text        NOT NULL CHECK (rule_set <> ''),
    signed_at timestamptz NOT NULL,
    signed_by uuid        NOT NULL REFERENCES accounts,
    UNIQUE (client_id, version),
    CHECK (since <= until)
);
CREATE TRIGGER reports_append_only BEFORE UPDATE OR DELETE OR TRUNCATE ON reports
    FOR EACH STATEMENT EXECUTE FUNCTION refuse_change();

-- How the care of a client ended. clients.closed_at says whether the record is
-- closed now.
CREATE TABLE discharges (
    id        uuid        PRIMARY KEY,
    client_id uuid        NOT NULL REFERENCES clients ON DELETE RESTRICT,
    outcome   text        NOT NULL CHECK (outcome <> ''),
    words     text        NOT NULL,
    report_id uuid        NOT NULL REFERENCES reports ON DELETE RESTRICT,
    open      jsonb       NOT NULL,  -- what was named as still open
    closed_at timestamptz NOT NULL,
    closed_by uuid        NOT NULL REFERENCES accounts
);
CREATE INDEX discharges_client ON discharges (client_id, closed_at DESC);
CREATE TRIGGER discharges_append_only BEFORE UPDATE OR DELETE OR TRUNCATE ON discharges
    FOR EACH STATEMENT EXECUTE FUNCTION refuse_change();

-- A discharge that was taken back: the record is open again.
CREATE TABLE reopenings (
    discharge_id uuid        PRIMARY KEY REFERENCES discharges ON DELETE RESTRICT,
    reason       text        NOT NULL CHECK (reason <> ''),
    hold_id      uuid        REFERENCES holds ON DELETE RESTRICT,  -- until the client is screened again; NULL where the screening is new enough
    at           timestamptz NOT NULL,
    by           uuid        NOT NULL REFERENCES accounts
);
CREATE TRIGGER reopenings_append_only BEFORE UPDATE OR DELETE OR TRUNCATE ON reopenings
    FOR EACH STATEMENT EXECUTE FUNCTION refuse_change();

-- +goose Down
DROP TABLE reopenings, discharges, reports;

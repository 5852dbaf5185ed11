-- +goose Up
-- A letter to a doctor about a client. Where it stands is its newest event.
CREATE TABLE referrals (
    id          uuid        PRIMARY KEY,
    client_id   uuid        NOT NULL REFERENCES clients ON DELETE RESTRICT,
    created_at  timestamptz NOT NULL,
    created_by  uuid        NOT NULL REFERENCES accounts
);
CREATE INDEX referrals_client ON referrals (client_id, created_at DESC);
CREATE TRIGGER referrals_append_only BEFORE UPDATE OR DELETE OR TRUNCATE ON referrals
    FOR EACH STATEMENT EXECUTE FUNCTION refuse_change();

-- What a letter says, each time it was saved. The newest version is the letter.
CREATE TABLE referral_versions (
    referral_id uuid        NOT NULL REFERENCES referrals ON DELETE RESTRICT,
    version     integer     NOT NULL CHECK (version > 0),
    letter      jsonb       NOT NULL,
    saved_at    timestamptz NOT NULL,
    saved_by    uuid        NOT NULL REFERENCES accounts,
    PRIMARY KEY (referral_id, version)
);
CREATE TRIGGER referral_versions_append_only BEFORE UPDATE OR DELETE OR TRUNCATE ON referral_versions
    FOR EACH STATEMENT EXECUTE FUNCTION refuse_change();

CREATE TABLE referral_events (
    id          uuid        PRIMARY KEY,
    referral_id uuid        NOT NULL REFERENCES referrals ON DELETE RESTRICT,
    status      text        NOT NULL CHECK (status IN ('draft', 'sent', 'received', 'answered', 'no_answer', 'withdrawn')),
    day         date        NOT NULL,  -- on which it happened
    channel     text        NOT NULL DEFAULT '' CHECK (channel IN ('', 'post', 'by_hand', 'fax', 'secure_mail', 'link')),
    note        text        NOT NULL DEFAULT '',
    at          timestamptz NOT NULL,
    by          uuid        REFERENCES accounts,  -- NULL: the doctor, with the link
    CHECK ((status = 'sent') = (channel <> ''))
);
CREATE INDEX referral_events_referral ON referral_events (referral_id, id);
CREATE TRIGGER referral_events_append_only BEFORE UPDATE OR DELETE OR TRUNCATE ON referral_events
    FOR EACH STATEMENT EXECUTE FUNCTION refuse_change();

-- What doctors decided, as recorded. A decision is superseded by another one,
-- revoked or marked as entered in error, and never changed.
CREATE TABLE clearances (
    id              uuid        PRIMARY KEY,
    client_id       uuid        NOT NULL REFERENCES clients ON DELETE RESTRICT,
    referral_id     uuid        REFERENCES referrals ON DELETE RESTRICT,
    doctor_name     text        NOT NULL CHECK (doctor_name <> ''),
    profession      text        NOT NULL CHECK (profession IN ('physician', 'nurse_practitioner', 'physician_assistant')),
    specialist      boolean     NOT NULL,
    registration    text        NOT NULL CHECK (registration <> ''),
    organisation    text        NOT NULL CHECK (organisation <> ''),
    contact         text        NOT NULL CHECK (contact <> ''),
    treats_client   boolean     NOT NULL,  -- is the client's own practitioner here
    may_clear       boolean     NOT NULL,  -- and is flagged and licensed to clear them nevertheless
    decided_on      date        NOT NULL,  -- the day the doctor signed
    received_on     date        NOT NULL,
    channel         text        NOT NULL CHECK (channel IN ('letter', 'portal', 'phone')),
    outcome         text        NOT NULL CHECK (outcome IN ('cleared', 'cleared_with_limits', 'not_now', 'refer_on')),
    ceiling         text        NOT NULL CHECK (ceiling IN ('none', 'light', 'moderate', 'vigorous')),
    limits          jsonb       NOT NULL,  -- heart_rate in bpm, blood pressure in mmHg, glucose in mg/dL, oxygen in per cent, effort 6 to 20
    supervised_only boolean     NOT NULL,
    unsupervised    boolean     NOT NULL,  -- names exercise on one's own
    restrictions    jsonb       NOT NULL,
    expected        jsonb       NOT NULL,  -- symptoms that the doctor knows and allows up to a limit
    work            text        NOT NULL CHECK (work IN ('aerobic', 'resistance', 'both', 'named')),
    activity        text        NOT NULL,  -- for named work
    considered      text[]      NOT NULL,  -- codes of what it releases
    valid_from      date,
    valid_until     date,                  -- the first day on which it has lapsed; NULL is the default
    phase_ii        boolean     NOT NULL,
    supersedes      uuid        REFERENCES clearances ON DELETE RESTRICT,
    note            text        NOT NULL,
    recorded_at     timestamptz NOT NULL,
    recorded_by     uuid        NOT NULL REFERENCES accounts,
    CHECK (decided_on <= received_on),
    CHECK ((outcome IN ('cleared', 'cleared_with_limits')) = (ceiling <> 'none')),
    CHECK (supersedes IS DISTINCT FROM id),
    CHECK (NOT treats_client OR may_clear)
);
CREATE INDEX clearances_client ON clearances (client_id, decided_on);
CREATE TRIGGER clearances_append_only BEFORE UPDATE OR DELETE OR TRUNCATE ON clearances
    FOR EACH STATEMENT EXECUTE FUNCTION refuse_change();

-- What became of a decision: the written confirmation of a phone call, its
-- revocation, that it was entered in error. Each happens once.
CREATE TABLE clearance_events (
    id           uuid        PRIMARY KEY,
    clearance_id uuid        NOT NULL REFERENCES clearances ON DELETE RESTRICT,
    kind         text        NOT NULL CHECK (kind IN ('confirmed', 'revoked', 'entered_in_error')),
    day          date        NOT NULL,
    reason       text        NOT NULL CHECK (reason <> ''),
    at           timestamptz NOT NULL,
    by           uuid        NOT NULL REFERENCES accounts,
    UNIQUE (clearance_id, kind)
);
CREATE TRIGGER clearance_events_append_only BEFORE UPDATE OR DELETE OR TRUNCATE ON clearance_events
    FOR EACH STATEMENT EXECUTE FUNCTION refuse_change();

-- Scanned answers. They stay in the database, so that a backup has them.
CREATE TABLE clearance_documents (
    id           uuid        PRIMARY KEY,
    clearance_id uuid        NOT NULL REFERENCES clearances ON DELETE RESTRICT,
    name         text        NOT NULL CHECK (name <> ''),
    content_type text        NOT NULL CHECK (content_type IN ('application/pdf', 'image/png', 'image/jpeg')),
    size         integer     NOT NULL CHECK (size > 0),
    sha256       bytea       NOT NULL CHECK (length(sha256) = 32),
    body         bytea       NOT NULL CHECK (octet_length(body) = size),
    at           timestamptz NOT NULL,
    by           uuid        NOT NULL REFERENCES accounts
);
CREATE INDEX clearance_documents_clearance ON clearance_documents (clearance_id, id);
CREATE TRIGGER clearance_documents_append_only BEFORE UPDATE OR DELETE OR TRUNCATE ON clearance_documents
    FOR EACH STATEMENT EXECUTE FUNCTION refuse_change();

-- One-time links with which a doctor answers a letter. What came counts only
-- once a practitioner has confirmed it, and becomes a row of clearances then.
CREATE TABLE doctor_links (
    token_hash    text        PRIMARY KEY,
    referral_id   uuid        NOT NULL REFERENCES referrals ON DELETE RESTRICT,
    created_at    timestamptz NOT NULL,
    created_by    uuid        NOT NULL REFERENCES accounts,
    expires_at    timestamptz NOT NULL,
    tries         integer     NOT NULL DEFAULT 0 CHECK (tries >= 0),  -- with a wrong birth date
    voided_at     timestamptz,
    answered_at   timestamptz,
    answer        jsonb,
    settled_at    timestamptz,
    settled_by    uuid        REFERENCES accounts,
    settle_reason text        NOT NULL DEFAULT '',  -- why it was set aside
    clearance_id  uuid        REFERENCES clearances ON DELETE RESTRICT,
    CHECK ((answered_at IS NULL) = (answer IS NULL)),
    CHECK ((settled_at IS NULL) = (settled_by IS NULL)),
    CHECK (settled_at IS NULL OR answered_at IS NOT NULL),
    CHECK (settled_at IS NULL OR (clearance_id IS NULL) = (settle_reason <> ''))
);
CREATE INDEX doctor_links_referral ON doctor_links (referral_id);

-- Practitioners who are doctors themselves and may clear their own clients, as
-- the lead has seen from their licence. The newest row counts.
CREATE TABLE clearing_practitioners (
    id         uuid        PRIMARY KEY,
    account_id uuid        NOT NULL REFERENCES accounts ON DELETE RESTRICT,
    licence    text        NOT NULL,  -- '' takes it back
    at         timestamptz NOT NULL,
    by         uuid        NOT NULL REFERENCES accounts
);
CREATE INDEX clearing_practitioners_account ON clearing_practitioners (account_id, id DESC);
CREATE TRIGGER clearing_practitioners_append_only BEFORE UPDATE OR DELETE OR TRUNCATE ON clearing_practitioners
    FOR EACH STATEMENT EXECUTE FUNCTION refuse_change();

-- A hold is released by a decision, or by who may; a condition is resolved first.
ALTER TABLE holds
    ADD COLUMN released_decision uuid REFERENCES clearances ON DELETE RESTRICT,
    ADD COLUMN resolved_on       date,
    ADD COLUMN resolved_by       uuid REFERENCES accounts,
    ADD COLUMN resolved_reason   text NOT NULL DEFAULT '',
    ADD CONSTRAINT holds_decision_check CHECK (released_decision IS NULL OR released_at IS NOT NULL),
    ADD CONSTRAINT holds_resolved_check CHECK ((resolved_on IS NULL) = (resolved_by IS NULL) AND (resolved_on IS NULL OR resolved_reason <> ''));
CREATE INDEX holds_client ON holds (client_id, opened_at);

-- +goose Down
ALTER TABLE holds
    DROP COLUMN released_decision, DROP COLUMN resolved_on, DROP COLUMN resolved_by, DROP COLUMN resolved_reason;
DROP INDEX holds_client;
DROP TABLE clearing_practitioners, doctor_links, clearance_documents, clearance_events, clearances, referral_events, referral_versions, referrals;

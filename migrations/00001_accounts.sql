-- +goose Up
-- The practice is one row: Brae serves one practice.
CREATE TABLE practice (
    one              boolean     PRIMARY KEY DEFAULT true CHECK (one),
    name             text        NOT NULL CHECK (name <> ''),
    zone             text        NOT NULL CHECK (zone <> ''),                 -- IANA name, turns instants into days
    week_start       smallint    NOT NULL CHECK (week_start IN (0, 1)),       -- 0 Sunday, 1 Monday (ISO 8601)
    emergency_number text        NOT NULL CHECK (emergency_number <> ''),     -- differs by country: no default
    phone            text        NOT NULL,
    created_at       timestamptz NOT NULL
);

-- An account is a sign-in. A doctor has none.
CREATE TABLE accounts (
    id            uuid        PRIMARY KEY,
    role          text        NOT NULL CHECK (role IN ('client', 'practitioner', 'lead')),
    name          text        NOT NULL CHECK (name <> ''),
    sign_in_name  text        NOT NULL CHECK (sign_in_name = lower(sign_in_name) AND sign_in_name <> ''), -- e-mail address or a name
    password_hash text,       -- argon2id; NULL until the person has chosen a passphrase
    -- Raised when the passphrase changes or the account is closed: older sign-ins end.
    credentials   integer     NOT NULL DEFAULT 1 CHECK (credentials > 0),
    disabled_at   timestamptz,
    failed_tries  integer     NOT NULL DEFAULT 0 CHECK (failed_tries >= 0), -- in a row
    failed_at     timestamptz,
    created_at    timestamptz NOT NULL,
    CONSTRAINT accounts_sign_in_name_key UNIQUE (sign_in_name)
);

-- Signed-in browsers. The token is stored only as its hash: whoever reads this
-- table cannot sign in with it.
CREATE TABLE sign_ins (
    token_hash text        PRIMARY KEY,
    data       bytea       NOT NULL,
    expires_at timestamptz NOT NULL
);
-- The clean-up deletes what has expired.
CREATE INDEX sign_ins_expires_at ON sign_ins (expires_at);

-- One-time links: the lead's first set-up (no account yet) and invitations.
CREATE TABLE join_links (
    token_hash text        PRIMARY KEY,
    account_id uuid        REFERENCES accounts ON DELETE RESTRICT, -- NULL for the first set-up
    created_at timestamptz NOT NULL,
    expires_at timestamptz NOT NULL,
    used_at    timestamptz,
    CHECK (expires_at > created_at)
);
-- A newer link voids the older ones of the same account.
CREATE INDEX join_links_account_id ON join_links (account_id);

-- Who saw or changed what. Rows are written with the change they speak of.
CREATE TABLE audit (
    id        bigint      GENERATED ALWAYS AS IDENTITY PRIMARY KEY,
    at        timestamptz NOT NULL,
    actor_id  uuid        REFERENCES accounts ON DELETE RESTRICT, -- NULL before anybody has an account
    action    text        NOT NULL CHECK (action <> ''),          -- named like an event: session.log
    client_id uuid,       -- whose record, if it is about one
    subject   text        NOT NULL,                               -- what, as kind/id
    detail    jsonb       NOT NULL DEFAULT '{}'                   -- no names, no health values
);
-- The timeline of one client's record.
CREATE INDEX audit_client_id ON audit (client_id, id) WHERE client_id IS NOT NULL;

-- +goose StatementBegin
CREATE FUNCTION refuse_change() RETURNS trigger LANGUAGE plpgsql AS $$
BEGIN
    RAISE EXCEPTION '% rows are never changed or deleted', TG_TABLE_NAME
        USING ERRCODE = 'restrict_violation';
END $$;
-- +goose StatementEnd
CREATE TRIGGER audit_append_only BEFORE UPDATE OR DELETE OR TRUNCATE ON audit
    FOR EACH STATEMENT EXECUTE FUNCTION refuse_change();

-- +goose Down
DROP TABLE audit, join_links, sign_ins, accounts, practice;
DROP FUNCTION refuse_change();

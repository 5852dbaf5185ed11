-- +goose Up
-- The practice's settings, one row for each version: what differs from the
-- defaults. A decision stores the settings it was taken with, so a new version
-- changes no old decision.
CREATE TABLE settings (
    version integer     PRIMARY KEY CHECK (version > 0),
    changed jsonb       NOT NULL,  -- values by key of the setting
    reason  text        NOT NULL CHECK (reason <> ''),
    set_at  timestamptz NOT NULL,
    set_by  uuid        NOT NULL REFERENCES accounts ON DELETE RESTRICT
);
CREATE TRIGGER settings_append_only BEFORE UPDATE OR DELETE OR TRUNCATE ON settings
    FOR EACH STATEMENT EXECUTE FUNCTION refuse_change();

-- The lead's signature under the rules and settings in use.
CREATE TABLE signatures (
    id               uuid        PRIMARY KEY,
    rule_set         text        NOT NULL CHECK (rule_set <> ''), -- version of the rules of the program
    settings_version integer     NOT NULL CHECK (settings_version >= 0), -- 0 is all defaults
    name             text        NOT NULL CHECK (name <> ''),     -- as typed by who signs
    signed_at        timestamptz NOT NULL,
    signed_by        uuid        NOT NULL REFERENCES accounts ON DELETE RESTRICT,
    UNIQUE (rule_set, settings_version)
);
CREATE TRIGGER signatures_append_only BEFORE UPDATE OR DELETE OR TRUNCATE ON signatures
    FOR EACH STATEMENT EXECUTE FUNCTION refuse_change();

-- +goose Down
DROP TABLE signatures, settings;

-- +goose Up
-- The decision that stands for a kind of work about a client: the one recorded last,
-- beside that of a specialist. Who records the next one takes its place, so that of
-- two at the same time one is refused, whatever the program has locked.
ALTER TABLE clearances ADD CONSTRAINT clearances_work UNIQUE (id, client_id, work, activity, specialist);
CREATE TABLE standing_clearances (
    client_id    uuid    NOT NULL,
    work         text    NOT NULL,
    activity     text    NOT NULL,
    specialist   boolean NOT NULL,
    clearance_id uuid    NOT NULL,
    PRIMARY KEY (client_id, work, activity, specialist),
    FOREIGN KEY (clearance_id, client_id, work, activity, specialist) REFERENCES clearances (id, client_id, work, activity, specialist) ON DELETE RESTRICT
);
INSERT INTO standing_clearances (client_id, work, activity, specialist, clearance_id)
SELECT DISTINCT ON (client_id, work, activity, specialist) client_id, work, activity, specialist, id
FROM clearances ORDER BY client_id, work, activity, specialist, recorded_at DESC, id DESC;

-- +goose StatementBegin
CREATE FUNCTION clearance_stands() RETURNS trigger LANGUAGE plpgsql AS $$
BEGIN
    IF NOT EXISTS (SELECT FROM standing_clearances s WHERE s.clearance_id = NEW.id) THEN
        RAISE EXCEPTION 'decision % has not taken the place of the one that stands', NEW.id
            USING ERRCODE = 'unique_violation', CONSTRAINT = 'one_standing_clearance', TABLE = 'clearances';
    END IF;
    RETURN NULL;
END $$;
-- +goose StatementEnd
CREATE CONSTRAINT TRIGGER one_standing_clearance AFTER INSERT ON clearances
    DEFERRABLE INITIALLY DEFERRED FOR EACH ROW EXECUTE FUNCTION clearance_stands();

-- Reminders of a letter that has no answer. It stands where it stood.
CREATE TABLE referral_reminders (
    id          uuid        PRIMARY KEY,
    referral_id uuid        NOT NULL REFERENCES referrals ON DELETE RESTRICT,
    day         date        NOT NULL,
    note        text        NOT NULL,
    at          timestamptz NOT NULL,
    by          uuid        NOT NULL REFERENCES accounts
);
CREATE INDEX referral_reminders_referral ON referral_reminders (referral_id, at);
CREATE TRIGGER referral_reminders_append_only BEFORE UPDATE OR DELETE OR TRUNCATE ON referral_reminders
    FOR EACH STATEMENT EXECUTE FUNCTION refuse_change();

-- How a client agreed: signed, by word of mouth, or by a message. Earlier ones do
-- not say.
ALTER TABLE consents ADD COLUMN how text NOT NULL DEFAULT '' CHECK (how IN ('', 'signed', 'spoken', 'message'));

-- +goose Down
ALTER TABLE consents DROP COLUMN how;
DROP TABLE referral_reminders, standing_clearances;
DROP TRIGGER one_standing_clearance ON clearances;
DROP FUNCTION clearance_stands();
ALTER TABLE clearances DROP CONSTRAINT clearances_work;

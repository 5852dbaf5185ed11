-- +goose Up
-- A few vigorous minutes within moderate sessions are prescribed as what they are. The
-- class stays the hardest that is asked for: that is what has to be allowed.
ALTER TABLE prescriptions
    ADD COLUMN vigorous_minutes integer NOT NULL DEFAULT 0,
    ADD CONSTRAINT prescriptions_vigorous CHECK (vigorous_minutes >= 0 AND (vigorous_minutes = 0 OR class = 'vigorous'));

-- +goose Down
ALTER TABLE prescriptions DROP COLUMN vigorous_minutes;

-- +goose Up
-- The tests that a doctor names in an answer: done, or needed first. The other new
-- questions (where ischaemia begins, where a defibrillator acts) stand among the limits.
ALTER TABLE clearances ADD COLUMN tests text NOT NULL DEFAULT '';

-- +goose Down
ALTER TABLE clearances DROP COLUMN tests;

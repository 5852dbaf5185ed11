-- +goose Up
-- Another one with each change of a client's record: what was worked out from the
-- record counts for as long as its revision stands. Random, so that none comes twice,
-- not even after a restore from a backup.
ALTER TABLE clients ADD COLUMN revision uuid NOT NULL DEFAULT gen_random_uuid();

-- +goose Down
ALTER TABLE clients DROP COLUMN revision;

-- +goose Up
-- What fired in the last week is asked with each log. Nearly all logs come to nothing.
CREATE INDEX triages_fired ON triages (client_id, day) WHERE level <> 'fine';

-- +goose Down
DROP INDEX triages_fired;

-- +goose Up
-- For equations and norms that were made for one sex. Empty is not said. Records
-- from before take over what their tests were done with, where all say the same.
ALTER TABLE clients ADD COLUMN sex text NOT NULL DEFAULT '' CHECK (sex IN ('', 'female', 'male'));
UPDATE clients c SET sex = t.sex
FROM (
    SELECT f.client_id, min(f.input->>'sex') AS sex
    FROM fitness_tests f
    WHERE f.input->>'sex' IN ('female', 'male')
        AND NOT EXISTS (SELECT FROM fitness_tests s WHERE s.supersedes = f.id)
        AND NOT EXISTS (SELECT FROM fitness_test_errors e WHERE e.test_id = f.id)
    GROUP BY f.client_id HAVING count(DISTINCT f.input->>'sex') = 1
) t
WHERE t.client_id = c.id;

-- +goose Down
ALTER TABLE clients DROP COLUMN sex;

-- Rows for the tables of 00004. Invented.
INSERT INTO settings (version, changed, reason, set_at, set_by) VALUES
    (1, '{"weekly_target": "120"}', 'As the practice has always done.', '2026-02-01 08:00Z', '00000000-0000-7000-8000-000000000001'),
    (2, '{}', 'Back to the defaults.', '2026-02-02 08:00Z', '00000000-0000-7000-8000-000000000001');

INSERT INTO signatures (id, rule_set, settings_version, name, signed_at, signed_by)
VALUES ('00000000-0000-7000-8000-000000000061', '2026-01', 1, 'Una Invented', '2026-02-01 08:05Z', '00000000-0000-7000-8000-000000000001');

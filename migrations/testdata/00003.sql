-- Rows for the tables of 00003. Invented.
INSERT INTO sessions (id, client_id, day, week, note, body_hash, logged_at, logged_by)
VALUES ('00000000-0000-7000-8000-000000000051', '00000000-0000-7000-8000-000000000011', '2026-01-07', '2026-01-05', 'Windy – but fine.',
    decode(repeat('0f', 32), 'hex'), '2026-01-07 17:00Z', '00000000-0000-7000-8000-000000000003');

INSERT INTO session_parts (session_id, n, activity, minutes, class, safety, talk, effort, heart_rate) VALUES
    ('00000000-0000-7000-8000-000000000051', 1, 'walking', 25, 'moderate', 'moderate', 'sentences', 12, 112),
    ('00000000-0000-7000-8000-000000000051', 2, 'stairs', 5, 'moderate', 'vigorous', NULL, NULL, NULL);

INSERT INTO week_totals (week, client_id, light, moderate, vigorous, sessions)
VALUES ('2026-01-05', '00000000-0000-7000-8000-000000000011', 0, 30, 0, 1);

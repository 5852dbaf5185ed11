-- Rows for the tables of 00012. Invented.
INSERT INTO vitals (id, client_id, first, change, taken_at, reading, judgement, rule_set, settings_version, supersedes, reason, entered_at, entered_by) VALUES
    ('00000000-0000-7000-8000-000000001201', '00000000-0000-7000-8000-000000000011', '00000000-0000-7000-8000-000000001201', 'new', '2026-01-09 08:00Z',
     '{"SBP": 204, "DBP": 100}', '{"hold": "none", "findings": [], "waits": [{"rule": "V1", "minutes": 5}]}', '2026-11', 0, NULL, '', '2026-01-09 08:00Z', '00000000-0000-7000-8000-000000000001'),
    ('00000000-0000-7000-8000-000000001202', '00000000-0000-7000-8000-000000000011', '00000000-0000-7000-8000-000000001201', 'again', '2026-01-09 08:00Z',
     '{"SBP": 204, "DBP": 100, "SBPAgain": 206}', '{"hold": "all", "findings": [], "waits": []}', '2026-11', 0, '00000000-0000-7000-8000-000000001201', '', '2026-01-09 08:06Z',
     '00000000-0000-7000-8000-000000000001');

UPDATE holds SET vitals_id = '00000000-0000-7000-8000-000000001201' WHERE released_at IS NULL;

INSERT INTO notes (id, client_id, kind, event_on, body, version, author, entered_at, saved_at, signed_at, signed_name) VALUES
    ('00000000-0000-7000-8000-000000001204', '00000000-0000-7000-8000-000000000011', 'visit', '2026-01-09', 'Walked the long corridor – no pain.', 3,
     '00000000-0000-7000-8000-000000000001', '2026-01-09 09:00Z', '2026-01-09 09:10Z', '2026-01-09 09:11Z', 'Invented Author'),
    ('00000000-0000-7000-8000-000000001205', '00000000-0000-7000-8000-000000000011', 'call', '2026-01-10', '', 1,
     '00000000-0000-7000-8000-000000000001', '2026-01-10 09:00Z', '2026-01-10 09:00Z', NULL, '');

INSERT INTO note_addenda (id, note_id, body, reason, entered_at, entered_by, name)
VALUES ('00000000-0000-7000-8000-000000001206', '00000000-0000-7000-8000-000000001204', 'The left corridor.', 'It was not said which.', '2026-01-11 09:00Z',
    '00000000-0000-7000-8000-000000000001', 'Invented Author');

-- Rows for the tables of 00011. Invented.
INSERT INTO fitness_tests (id, client_id, test, done_on, input, conditions, result, rule_set, settings_version, supersedes, reason, created_at, created_by) VALUES
    ('00000000-0000-7000-8000-000000001101', '00000000-0000-7000-8000-000000000011', 'six_minute_walk', '2026-01-12',
        '{"test": "six_minute_walk", "distance_m": 402, "sex": "male"}', '{"course_m": 30}', '{"test": "six_minute_walk", "vo2max": 14.2}', '2026-01', 0,
        NULL, '', '2026-01-12 10:00Z', '00000000-0000-7000-8000-000000000002'),
    ('00000000-0000-7000-8000-000000001102', '00000000-0000-7000-8000-000000000011', 'six_minute_walk', '2026-01-12',
        '{"test": "six_minute_walk", "distance_m": 420, "sex": "female"}', '{"course_m": 30}', '{"test": "six_minute_walk", "vo2max": 14.6}', '2026-01', 0,
        '00000000-0000-7000-8000-000000001101', 'A lap was missing.', '2026-01-12 10:05Z', '00000000-0000-7000-8000-000000000002'),
    ('00000000-0000-7000-8000-000000001103', '00000000-0000-7000-8000-000000000011', 'chair_stand_30_s', '2026-01-12',
        '{"test": "chair_stand_30_s", "stands": 12, "sex": "male"}', '{}', '{"test": "chair_stand_30_s", "band": "average"}', '2026-01', 0,
        NULL, '', '2026-01-12 10:20Z', '00000000-0000-7000-8000-000000000002');

INSERT INTO fitness_test_errors (test_id, reason, marked_at, marked_by)
VALUES ('00000000-0000-7000-8000-000000001103', 'It was somebody else.', '2026-01-12 10:30Z', '00000000-0000-7000-8000-000000000002');

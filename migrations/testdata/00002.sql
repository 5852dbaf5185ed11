-- Rows for the tables of 00002. Invented.
INSERT INTO clients (id, practitioner_id, account_id, given_name, family_name, birth_date, phone, emergency_contact, created_at, closed_at) VALUES
    ('00000000-0000-7000-8000-000000000011', '00000000-0000-7000-8000-000000000002', '00000000-0000-7000-8000-000000000003',
        'Åse', 'O''Invented', '1964-02-29', '', 'Bo, neighbour, +00 0000 0101', '2026-01-05 10:00Z', NULL),
    ('00000000-0000-7000-8000-000000000012', '00000000-0000-7000-8000-000000000002', NULL,
        'Cy', 'Invented', '1990-12-31', '+00 0000 0102', '', '2026-01-05 11:00Z', '2026-02-01 00:00Z');

INSERT INTO intake_drafts (client_id, answers, version, saved_at, saved_by)
VALUES ('00000000-0000-7000-8000-000000000012', '{"resting_hr": "7"}', 3, '2026-01-05 11:05Z', '00000000-0000-7000-8000-000000000002');

INSERT INTO screenings (id, client_id, decided_on, answers, input, decision, rule, rule_set, ceiling, hold, created_at, created_by)
VALUES ('00000000-0000-7000-8000-000000000021', '00000000-0000-7000-8000-000000000011', '2026-01-05',
    '{"diabetes_type_2": "yes"}', '{"age": 61}', '{"reasons": ["one", "two"]}', 'R1', '2026-01', 'moderate', 'vigorous',
    '2026-01-05 10:20Z', '00000000-0000-7000-8000-000000000002');

INSERT INTO holds (id, client_id, scope, kind, cause, rule, reason, needs, since, screening_id, opened_at, opened_by, released_at, released_by, release_reason) VALUES
    ('00000000-0000-7000-8000-000000000031', '00000000-0000-7000-8000-000000000011', 'vigorous', 'screening', 'diabetes_type_2', 'R1',
        'A doctor has not answered.', 'doctor', NULL, '00000000-0000-7000-8000-000000000021', '2026-01-05 10:20Z',
        '00000000-0000-7000-8000-000000000002', NULL, NULL, ''),
    ('00000000-0000-7000-8000-000000000032', '00000000-0000-7000-8000-000000000011', 'all', 'triage', 'chest_pressure', 'T1',
        'Chest pressure on a walk.', 'practitioner', '2026-01-20', NULL, '2026-01-20 18:00Z',
        '00000000-0000-7000-8000-000000000003', '2026-01-21 09:00Z', '00000000-0000-7000-8000-000000000002', 'Seen and cleared.');

INSERT INTO prescriptions (id, client_id, version, screening_id, class, sessions_per_week, minutes_per_session, activities, target, target_light, note, zones, signed_at, signed_by)
VALUES ('00000000-0000-7000-8000-000000000041', '00000000-0000-7000-8000-000000000011', 1, '00000000-0000-7000-8000-000000000021',
    'moderate', 5, 30, 'walking', 150, false, 'As far as the bridge.', '{"basis": "predicted"}', '2026-01-05 10:30Z',
    '00000000-0000-7000-8000-000000000002');

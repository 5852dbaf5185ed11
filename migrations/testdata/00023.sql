-- Rows for the column of 00023. Invented.
INSERT INTO prescriptions (id, client_id, version, screening_id, class, sessions_per_week, minutes_per_session, vigorous_minutes, activities, target,
    target_light, note, zones, signed_at, signed_by)
SELECT '00000000-0000-7000-8000-000000002301', client_id, (SELECT max(version) + 1 FROM prescriptions q WHERE q.client_id = p.client_id), screening_id,
    'vigorous', 5, 30, 8, activities, target, target_light, note, zones, signed_at, signed_by
FROM prescriptions p WHERE id = '00000000-0000-7000-8000-000000000041';

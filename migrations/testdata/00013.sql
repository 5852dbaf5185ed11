-- Rows for the tables of 00013. Invented.
INSERT INTO reports (id, client_id, version, reader, language, since, until, text, advice, final, figures, rule_set, signed_at, signed_by) VALUES
    ('00000000-0000-7000-8000-000000001301', '00000000-0000-7000-8000-000000000011', 1, 'doctor', 'en', '2026-01-05', '2026-02-01', 'Walks half an hour now.', '', false, '{"weeks": []}', '2026-01', '2026-02-01 08:00Z', '00000000-0000-7000-8000-000000000001'),
    ('00000000-0000-7000-8000-000000001302', '00000000-0000-7000-8000-000000000011', 2, 'client', 'es', '2026-01-05', '2026-02-15', 'Ahora camina una hora.', 'Siga así.', true, '{"weeks": []}', '2026-01', '2026-02-15 08:00Z', '00000000-0000-7000-8000-000000000001');

INSERT INTO discharges (id, client_id, outcome, words, report_id, open, closed_at, closed_by) VALUES
    ('00000000-0000-7000-8000-000000001311', '00000000-0000-7000-8000-000000000011', 'moved', 'To the coast', '00000000-0000-7000-8000-000000001302', '["A hold"]', '2026-02-15 08:00Z', '00000000-0000-7000-8000-000000000001');

INSERT INTO reopenings (discharge_id, reason, hold_id, at, by) VALUES
    ('00000000-0000-7000-8000-000000001311', 'Moved back', '00000000-0000-7000-8000-000000000032', '2026-03-01 08:00Z', '00000000-0000-7000-8000-000000000001');

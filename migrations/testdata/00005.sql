-- A client who reads Spanish and walks miles.
UPDATE accounts SET language = 'es', units = 'miles' WHERE id = '00000000-0000-7000-8000-000000000003';

-- +goose Up
-- A step within the class changes the prescription and leaves the plan as it is.
ALTER TABLE progress_steps
    DROP CONSTRAINT progress_steps_check1,
    ADD CONSTRAINT progress_steps_signed CHECK ((answer = 'declined') = (new_plan_id IS NULL AND prescription_id IS NULL));

-- +goose Down
-- Refused while there is such a step: it is part of the record.
ALTER TABLE progress_steps
    DROP CONSTRAINT progress_steps_signed,
    ADD CONSTRAINT progress_steps_check1 CHECK ((answer = 'declined') = (new_plan_id IS NULL));

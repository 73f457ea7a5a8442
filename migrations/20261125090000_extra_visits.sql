-- +goose Up

-- The day of an extra visit that a judgement asks the owner for.
ALTER TABLE evaluation ADD COLUMN extra_on date;

-- +goose Down
SELECT 'forward only';

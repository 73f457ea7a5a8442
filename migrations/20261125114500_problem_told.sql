-- +goose Up

-- What the customer is told of a problem while it is open, in the shop's words;
-- empty: nothing. What is believed stays inside.
ALTER TABLE problem ADD COLUMN told text NOT NULL DEFAULT '';

-- +goose Down
SELECT 'forward only';

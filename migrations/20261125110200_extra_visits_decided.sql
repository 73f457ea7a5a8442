-- +goose Up

-- What the owner decided about an extra visit that a judgement asked for.
CREATE TABLE extra_visit (
    id              uuid PRIMARY KEY,
    tank            uuid NOT NULL REFERENCES tank,
    visit           uuid NOT NULL REFERENCES visit,      -- whose judgement asked
    decided         text NOT NULL CONSTRAINT extra_visit_decided CHECK (decided IN ('agreed', 'declined', 'not_needed')),
    on_day          date,                                -- of one that is agreed
    agreed_with     text NOT NULL DEFAULT '',
    pays            text NOT NULL DEFAULT '' CONSTRAINT extra_visit_pays CHECK (pays IN ('', 'included', 'to_bill', 'warranty', 'customers_own')),
    words           text NOT NULL DEFAULT '',
    staff           uuid REFERENCES staff,
    at              timestamptz NOT NULL,
    withdrawn_at    timestamptz,                         -- the decision was taken back
    CONSTRAINT extra_visit_day CHECK ((decided = 'agreed') = (on_day IS NOT NULL))
);
CREATE INDEX extra_visit_by_visit ON extra_visit (visit, at DESC) WHERE withdrawn_at IS NULL;
CREATE INDEX extra_visit_by_tank ON extra_visit (tank, at DESC) WHERE withdrawn_at IS NULL;

-- A kit that stayed at a tank may be taken away again: from then on the row says none.
ALTER TABLE tank_kit ALTER COLUMN kit DROP NOT NULL;

-- +goose Down
SELECT 'forward only';

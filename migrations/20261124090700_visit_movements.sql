-- +goose Up

-- What a visit moved or did to the gear follows the visit's revisions: rows of
-- an older revision stay and no longer count.
ALTER TABLE movement ADD COLUMN revision uuid REFERENCES visit_revision, ADD COLUMN superseded_at timestamptz;
ALTER TABLE gear_event ADD COLUMN revision uuid REFERENCES visit_revision, ADD COLUMN superseded_at timestamptz;
CREATE INDEX movement_by_visit ON movement (visit) WHERE visit IS NOT NULL;
CREATE INDEX gear_event_by_visit ON gear_event (visit) WHERE visit IS NOT NULL;
CREATE INDEX evaluation_newest ON evaluation (tank, performed_at DESC, at DESC);

-- +goose Down
SELECT 'forward only';

-- +goose Up

-- A tank's state is dated like the rest of what it is; tank.state is the newest
-- of these, kept beside the name for lists.
CREATE TABLE tank_state (
    tank            uuid NOT NULL REFERENCES tank,
    since           timestamptz NOT NULL,
    recorded_at     timestamptz NOT NULL,
    author          uuid REFERENCES staff,
    state           text NOT NULL CONSTRAINT tank_state_known CHECK (state IN ('starting', 'running', 'resting', 'ended')),
    PRIMARY KEY (tank, since)
);

-- +goose Down
SELECT 'forward only';

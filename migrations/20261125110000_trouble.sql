-- +goose Up

-- A call for help, taken before anybody was at the tank.
CREATE TABLE trouble_call (
    id              uuid PRIMARY KEY,
    tank            uuid NOT NULL REFERENCES tank,
    at              timestamptz NOT NULL,
    staff           uuid REFERENCES staff,
    guide           text NOT NULL,                       -- id of the guide that was read from
    replies         text[] NOT NULL DEFAULT '{}',        -- question=reply
    words           text NOT NULL DEFAULT '',
    read_aloud      smallint[] NOT NULL DEFAULT '{}',    -- which of the actions, from 0
    advised         text NOT NULL,
    going           text NOT NULL CONSTRAINT trouble_call_going CHECK (going IN ('now', 'today', 'tomorrow', 'next_visit', 'nobody')),
    goes            uuid REFERENCES staff,               -- null: not settled who
    contact_note    uuid REFERENCES contact_note,
    problem         uuid REFERENCES problem,
    settled_at      timestamptz,
    settled_by      uuid REFERENCES staff
);
CREATE INDEX trouble_call_by_tank ON trouble_call (tank, at DESC);
CREATE INDEX trouble_call_waiting ON trouble_call (at) WHERE settled_at IS NULL;

-- A filter that stood still, alone or in a power cut.
CREATE TABLE filter_stop (
    id              uuid PRIMARY KEY,
    tank            uuid NOT NULL REFERENCES tank,
    at              timestamptz NOT NULL,
    staff           uuid REFERENCES staff,
    power_cut       boolean NOT NULL,
    stood           text NOT NULL CONSTRAINT filter_stop_stood CHECK (stood IN ('under_2h', '2_to_4h', 'over_4h', 'not_known')),
    timers          boolean NOT NULL,
    words           text NOT NULL DEFAULT ''
);
CREATE INDEX filter_stop_by_tank ON filter_stop (tank, at DESC);

-- What was seen of animals that died; inside only.
CREATE TABLE death_record (
    id              uuid PRIMARY KEY,
    tank            uuid NOT NULL REFERENCES tank,
    seen_at         timestamptz NOT NULL,
    recorded_at     timestamptz NOT NULL,
    staff           uuid REFERENCES staff,
    grp             text NOT NULL,
    species         text NOT NULL DEFAULT '',
    n               integer NOT NULL CONSTRAINT death_record_n CHECK (n > 0),
    gills           text NOT NULL DEFAULT '',
    skin            text NOT NULL DEFAULT '',
    posture         text NOT NULL DEFAULT '',
    before          text[] NOT NULL DEFAULT '{}',        -- what happened in the last 72 hours
    words           text NOT NULL DEFAULT '',
    water_kept      boolean NOT NULL DEFAULT false,
    body            text NOT NULL DEFAULT '',
    cause           text NOT NULL DEFAULT '',            -- empty: not known
    movement        uuid REFERENCES movement             -- that took them out of the stock; null: they were not in it
);
CREATE INDEX death_record_by_tank ON death_record (tank, seen_at DESC);

ALTER TABLE incident ADD COLUMN kind text NOT NULL DEFAULT 'other';

-- +goose Down
SELECT 'forward only';

-- +goose Up

CREATE TABLE profile (
    id              uuid PRIMARY KEY,
    name            text NOT NULL CONSTRAINT profile_name_taken UNIQUE,
    about           text NOT NULL DEFAULT '',
    archived_at     timestamptz,
    created_at      timestamptz NOT NULL
);

CREATE TABLE profile_version (
    id              uuid PRIMARY KEY,
    profile         uuid NOT NULL REFERENCES profile,
    since           timestamptz NOT NULL,
    recorded_at     timestamptz NOT NULL,
    author          uuid REFERENCES staff,
    light_need_umol double precision,                    -- PPFD below which this planting goes short
    CONSTRAINT profile_version_once UNIQUE (profile, since)
);

CREATE TABLE profile_band (
    version         uuid NOT NULL REFERENCES profile_version,
    kind            text NOT NULL,
    lo              double precision,
    hi              double precision,
    hard_lo         double precision,                    -- beyond this it is not a matter of taste any more
    hard_hi         double precision,
    PRIMARY KEY (version, kind),
    CONSTRAINT profile_band_order CHECK (lo IS NULL OR hi IS NULL OR lo <= hi)
);

-- A type of kit or meter; immutable, a corrected one is a new row.
CREATE TABLE kit (
    id              uuid PRIMARY KEY,
    name            text NOT NULL,                       -- the shop's own word for it
    measures        text NOT NULL,                       -- quantity kind
    type            text NOT NULL CONSTRAINT kit_type CHECK (type IN ('drops', 'classes', 'meter', 'bucket', 'scale')),
    unit            text NOT NULL,                       -- symbol in which it reads
    step            double precision,                    -- per drop, or the meter's last digit
    sd              double precision,                    -- standard deviation of a reading, in the unit
    floor           double precision,                    -- the smallest that it can tell from nothing
    sample_ml       double precision,
    archived_at     timestamptz,
    created_at      timestamptz NOT NULL
);

CREATE TABLE kit_class (
    kit             uuid NOT NULL REFERENCES kit,
    ord             smallint NOT NULL,
    label           double precision NOT NULL,           -- what is printed beside the colour
    lo              double precision NOT NULL,
    hi              double precision,                    -- null: open end
    PRIMARY KEY (kit, ord)
);

CREATE TABLE kit_lot (
    id              uuid PRIMARY KEY,
    kit             uuid NOT NULL REFERENCES kit,
    lot             text NOT NULL,
    opened_on       date,
    expires_on      date,
    keeper          uuid REFERENCES staff,               -- whose bag it is in
    retired_at      timestamptz,
    created_at      timestamptz NOT NULL
);
CREATE INDEX kit_lot_by_kit ON kit_lot (kit);

CREATE TABLE meter_check (
    id              uuid PRIMARY KEY,
    lot             uuid NOT NULL REFERENCES kit_lot,
    at              timestamptz NOT NULL,
    against         double precision NOT NULL,           -- known value, in the kit's unit
    read            double precision NOT NULL,
    calibrated      boolean NOT NULL,
    staff           uuid REFERENCES staff
);
CREATE INDEX meter_check_by_lot ON meter_check (lot, at DESC);

-- +goose Down
SELECT 'forward only';

-- +goose Up

-- How a tank is fed while its people are away, for the sheet of whoever stands in.
CREATE TABLE away_packet (
    away            uuid NOT NULL REFERENCES site_away,
    tank            uuid NOT NULL REFERENCES tank,
    every_days      smallint NOT NULL CONSTRAINT away_packet_every CHECK (every_days BETWEEN 0 AND 14),
    grams           double precision,
    feeder          boolean NOT NULL DEFAULT false,
    feeder_tried_on date,
    note            text NOT NULL DEFAULT '',
    updated_at      timestamptz NOT NULL,
    PRIMARY KEY (away, tank)
);

-- +goose Down
SELECT 'forward only';

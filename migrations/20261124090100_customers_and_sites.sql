-- +goose Up

CREATE TABLE customer (
    id              uuid PRIMARY KEY,
    name            text NOT NULL,
    kind            text NOT NULL DEFAULT 'home' CONSTRAINT customer_kind CHECK (kind IN ('home', 'restaurant', 'office', 'other')),
    language        text NOT NULL DEFAULT 'en',
    phones          text[] NOT NULL DEFAULT '{}',
    email           text NOT NULL DEFAULT '',
    notes           text NOT NULL DEFAULT '',
    search          text NOT NULL,                       -- folded by the program: name, nickname, digits of the phones
    sort_key        text NOT NULL,
    archived_at     timestamptz,
    erased_at       timestamptz,
    row_version     integer NOT NULL DEFAULT 1,
    created_at      timestamptz NOT NULL,
    updated_at      timestamptz NOT NULL
);
CREATE INDEX customer_sorted ON customer (sort_key, id);

CREATE TABLE site (
    id              uuid PRIMARY KEY,
    customer        uuid NOT NULL REFERENCES customer,
    name            text NOT NULL,                       -- "the cafe with the big wood"
    address         text NOT NULL DEFAULT '',
    town            text NOT NULL DEFAULT '',
    lat             double precision CONSTRAINT site_lat CHECK (lat BETWEEN -90 AND 90),
    lon             double precision CONSTRAINT site_lon CHECK (lon BETWEEN -180 AND 180),
    altitude_m      double precision,
    parking_minutes integer CONSTRAINT site_parking CHECK (parking_minutes BETWEEN 0 AND 240),
    stairs          text NOT NULL DEFAULT '',
    stopcock        text NOT NULL DEFAULT '',
    breaker         text NOT NULL DEFAULT '',
    rcd_tested_on   date,                                -- last test of the residual-current device
    hose_m          double precision,
    drain           text NOT NULL DEFAULT '',
    room_m3         double precision,
    co2_alarm       boolean,                             -- null: not known
    spending_limit  double precision,                    -- shop's currency, per visit, without asking
    search          text NOT NULL,
    sort_key        text NOT NULL,
    archived_at     timestamptz,
    row_version     integer NOT NULL DEFAULT 1,
    created_at      timestamptz NOT NULL,
    updated_at      timestamptz NOT NULL,
    CONSTRAINT site_position CHECK ((lat IS NULL) = (lon IS NULL))
);
CREATE INDEX site_by_customer ON site (customer);
CREATE INDEX site_sorted ON site (sort_key, id);

CREATE TABLE site_window (
    id              uuid PRIMARY KEY,
    site            uuid NOT NULL REFERENCES site,
    weekday         smallint NOT NULL CONSTRAINT site_window_weekday CHECK (weekday BETWEEN 1 AND 7),  -- 1 is Monday
    from_minute     smallint NOT NULL,
    to_minute       smallint NOT NULL,
    CONSTRAINT site_window_order CHECK (0 <= from_minute AND from_minute < to_minute AND to_minute <= 1440)
);
CREATE INDEX site_window_by_site ON site_window (site, weekday);

CREATE TABLE site_away (
    id              uuid PRIMARY KEY,
    site            uuid NOT NULL REFERENCES site,
    from_day        date NOT NULL,
    to_day          date NOT NULL,
    why             text NOT NULL DEFAULT '',
    stand_in        text NOT NULL DEFAULT '',
    CONSTRAINT site_away_order CHECK (from_day <= to_day)
);
CREATE INDEX site_away_by_site ON site_away (site, from_day);

-- Apart from site, so that no sheet, export or feed joins it by accident.
CREATE TABLE access_note (
    site            uuid PRIMARY KEY REFERENCES site,
    note            text NOT NULL DEFAULT '',
    alarm_code      text NOT NULL DEFAULT '',
    row_version     integer NOT NULL DEFAULT 1,
    updated_at      timestamptz NOT NULL,
    updated_by      uuid REFERENCES staff
);

CREATE TABLE site_key (
    id              uuid PRIMARY KEY,
    site            uuid NOT NULL REFERENCES site,
    number          text NOT NULL,
    holder          uuid REFERENCES staff,               -- null: hangs in the shop
    out_at          timestamptz,
    in_at           timestamptz,
    retired_at      timestamptz,
    CONSTRAINT site_key_number_taken UNIQUE (number)
);
CREATE INDEX site_key_by_site ON site_key (site);

CREATE TABLE contact_note (
    id              uuid PRIMARY KEY,
    customer        uuid NOT NULL REFERENCES customer,
    at              timestamptz NOT NULL,
    staff           uuid NOT NULL REFERENCES staff,
    they_said       text NOT NULL DEFAULT '',
    we_said         text NOT NULL DEFAULT ''
);
CREATE INDEX contact_note_by_customer ON contact_note (customer, at DESC);

-- +goose Down
SELECT 'forward only';

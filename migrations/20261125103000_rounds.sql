-- +goose Up

-- Rounds: who works when and carries what, what was promised, the weeks as they were planned.

-- What the round is reckoned with: where the shop stands, how long a road is
-- beside the straight line, and how long a way takes by the hour of the day.
CREATE TABLE round_shop (
    only_one        boolean PRIMARY KEY DEFAULT true CONSTRAINT round_shop_only_one CHECK (only_one),
    lat             double precision CONSTRAINT round_shop_lat CHECK (lat BETWEEN -90 AND 90),
    lon             double precision CONSTRAINT round_shop_lon CHECK (lon BETWEEN -180 AND 180),
    road_factor     double precision NOT NULL DEFAULT 1.35 CONSTRAINT round_shop_factor CHECK (road_factor BETWEEN 1 AND 5),
    pace            integer[] NOT NULL DEFAULT '{}',     -- percent of a quiet hour, 24 from midnight on; none: the usual ones
    row_version     integer NOT NULL DEFAULT 1,
    updated_at      timestamptz NOT NULL,
    CONSTRAINT round_shop_position CHECK ((lat IS NULL) = (lon IS NULL))
);

CREATE TABLE van (
    id              uuid PRIMARY KEY,
    name            text NOT NULL CONSTRAINT van_name_taken UNIQUE,
    water_l         double precision,                    -- null: not known, taken as no limit
    cylinders       integer,
    note            text NOT NULL DEFAULT '',
    archived_at     timestamptz,
    row_version     integer NOT NULL DEFAULT 1,
    created_at      timestamptz NOT NULL,
    CONSTRAINT van_carries CHECK (water_l >= 0 AND cylinders >= 0)
);

-- How a member of the staff goes on rounds; who has no row does not.
CREATE TABLE staff_round (
    staff           uuid PRIMARY KEY REFERENCES staff,
    break_minutes   smallint NOT NULL DEFAULT 0 CONSTRAINT staff_round_break CHECK (break_minutes BETWEEN 0 AND 180),
    break_from      smallint,
    break_to        smallint,
    start_lat       double precision,                    -- null: from the shop
    start_lon       double precision,
    end_lat         double precision,
    end_lon         double precision,
    skills          text[] NOT NULL DEFAULT '{}',
    van             uuid REFERENCES van,
    row_version     integer NOT NULL DEFAULT 1,
    updated_at      timestamptz NOT NULL,
    CONSTRAINT staff_round_start CHECK ((start_lat IS NULL) = (start_lon IS NULL)),
    CONSTRAINT staff_round_end CHECK ((end_lat IS NULL) = (end_lon IS NULL)),
    CONSTRAINT staff_round_break_fits CHECK (break_minutes = 0 OR break_to - break_from >= break_minutes)
);

CREATE TABLE staff_hours (
    staff           uuid NOT NULL REFERENCES staff_round,
    weekday         smallint NOT NULL CONSTRAINT staff_hours_weekday CHECK (weekday BETWEEN 1 AND 7),  -- 1 is Monday
    from_minute     smallint NOT NULL,
    to_minute       smallint NOT NULL,
    PRIMARY KEY (staff, weekday),
    CONSTRAINT staff_hours_order CHECK (0 <= from_minute AND from_minute < to_minute AND to_minute <= 1440)
);

CREATE TABLE staff_leave (
    id              uuid PRIMARY KEY,
    staff           uuid NOT NULL REFERENCES staff,
    from_day        date NOT NULL,
    to_day          date NOT NULL,
    why             text NOT NULL DEFAULT '',
    made_by         uuid REFERENCES staff,
    made_at         timestamptz NOT NULL,
    withdrawn_at    timestamptz,
    CONSTRAINT staff_leave_order CHECK (from_day <= to_day)
);
CREATE INDEX staff_leave_by_staff ON staff_leave (staff, from_day);

-- A time that was promised to a customer: moved only with a call.
CREATE TABLE site_promise (
    id              uuid PRIMARY KEY,
    site            uuid NOT NULL REFERENCES site,
    day             date NOT NULL,
    from_minute     smallint NOT NULL,
    to_minute       smallint NOT NULL,
    to_whom         text NOT NULL DEFAULT '',
    made_by         uuid REFERENCES staff,
    made_at         timestamptz NOT NULL,
    withdrawn_at    timestamptz,
    CONSTRAINT site_promise_order CHECK (0 <= from_minute AND from_minute < to_minute AND to_minute <= 1440)
);
CREATE INDEX site_promise_by_day ON site_promise (day, site);

ALTER TABLE agreement ADD COLUMN weekdays smallint NOT NULL DEFAULT 0
    CONSTRAINT agreement_weekdays CHECK (weekdays BETWEEN 0 AND 127);      -- bit 0 is Monday; 0: any day

-- What the owner decided about an extra visit that the judgement asked for.
CREATE TABLE extra_decision (
    visit           uuid PRIMARY KEY REFERENCES visit,
    tank            uuid NOT NULL REFERENCES tank,
    wanted_on       date NOT NULL,
    taken           boolean NOT NULL,
    staff           uuid NOT NULL REFERENCES staff,
    at              timestamptz NOT NULL
);
CREATE INDEX extra_decision_by_tank ON extra_decision (tank, at DESC);

-- A week's plan as it stood after one change; never altered afterwards.
CREATE TABLE round_plan (
    id              uuid PRIMARY KEY,
    monday          date NOT NULL CONSTRAINT round_plan_monday CHECK (extract(isodow FROM monday) = 1),
    base            uuid REFERENCES round_plan,          -- what it was made from; undo goes back there
    what            text NOT NULL,                       -- in words: what was changed
    how             text NOT NULL DEFAULT '',            -- in words: how roads were reckoned
    gave_up         text[] NOT NULL DEFAULT '{}',        -- in words
    made_by         uuid REFERENCES staff,
    made_at         timestamptz NOT NULL
);
CREATE INDEX round_plan_by_week ON round_plan (monday, made_at DESC);

CREATE TABLE round_stop (
    plan            uuid NOT NULL REFERENCES round_plan,
    job             text NOT NULL,                       -- the site's key and which of its stops of the week
    site            uuid NOT NULL REFERENCES site,
    tanks           uuid[] NOT NULL,
    staff           uuid NOT NULL REFERENCES staff,
    second          uuid REFERENCES staff,               -- the other one, where two are needed
    day             date NOT NULL,
    ord             smallint NOT NULL,                   -- within the person's day
    drive_seconds   integer NOT NULL,                    -- from the stop before
    arrive_second   integer NOT NULL,                    -- of the day
    begin_second    integer NOT NULL,
    end_second      integer NOT NULL,
    kept            boolean NOT NULL DEFAULT false,
    PRIMARY KEY (plan, job)
);

-- What found no place in a plan, and why.
CREATE TABLE round_left (
    plan            uuid NOT NULL REFERENCES round_plan,
    job             text NOT NULL,
    site            uuid NOT NULL REFERENCES site,
    tanks           uuid[] NOT NULL,
    reason          text NOT NULL,
    lets_in         text NOT NULL DEFAULT '',            -- the cheapest thing that would let it in
    set_aside       boolean NOT NULL DEFAULT false,      -- by hand
    PRIMARY KEY (plan, job)
);

-- A week: the plan being worked on, and the one that was handed out.
CREATE TABLE round_week (
    monday          date PRIMARY KEY CONSTRAINT round_week_monday CHECK (extract(isodow FROM monday) = 1),
    draft           uuid NOT NULL REFERENCES round_plan,
    handed          uuid REFERENCES round_plan,
    handed_by       uuid REFERENCES staff,
    handed_at       timestamptz
);

-- The one run of the planner that may be under way in the shop.
CREATE TABLE round_run (
    only_one        boolean PRIMARY KEY DEFAULT true CONSTRAINT round_run_only_one CHECK (only_one),
    id              uuid NOT NULL,
    monday          date NOT NULL,
    state           text NOT NULL CONSTRAINT round_run_state CHECK (state IN ('running', 'done', 'failed')),
    stop_asked      boolean NOT NULL DEFAULT false,
    tries           bigint NOT NULL DEFAULT 0,           -- ways to deal the week out that were weighed
    placed          integer NOT NULL DEFAULT 0,
    wanted          integer NOT NULL DEFAULT 0,
    says            text NOT NULL DEFAULT '',            -- what went wrong, for a person
    staff           uuid REFERENCES staff,
    begun_at        timestamptz NOT NULL,
    beat_at         timestamptz NOT NULL                 -- last sign of life
);

-- The revocable address under which a person's calendar reads their round.
CREATE TABLE calendar_link (
    id              uuid PRIMARY KEY,
    staff           uuid NOT NULL REFERENCES staff,
    generation      integer NOT NULL DEFAULT 1,
    made_at         timestamptz NOT NULL,
    revoked_at      timestamptz
);
CREATE UNIQUE INDEX calendar_link_one ON calendar_link (staff) WHERE revoked_at IS NULL;

-- +goose Down
SELECT 'forward only';

-- +goose Up

CREATE TABLE tank (
    id              uuid PRIMARY KEY,
    name            text NOT NULL,
    set_up_on       date,
    ended_on        date,
    state           text NOT NULL CONSTRAINT tank_state CHECK (state IN ('starting', 'running', 'resting', 'ended')),
    pinned          text NOT NULL DEFAULT '',            -- a line each: the valve weeps; never touch the left outlet
    keep_apart_since date,
    keep_apart_until date,
    search          text NOT NULL,
    sort_key        text NOT NULL,
    row_version     integer NOT NULL DEFAULT 1,
    created_at      timestamptz NOT NULL,
    updated_at      timestamptz NOT NULL
);
CREATE INDEX tank_sorted ON tank (sort_key, id);

CREATE TABLE tank_site (
    tank            uuid NOT NULL REFERENCES tank,
    site            uuid NOT NULL REFERENCES site,
    since           timestamptz NOT NULL,
    PRIMARY KEY (tank, since)
);
CREATE INDEX tank_site_by_site ON tank_site (site);

CREATE TABLE agreement (
    id              uuid PRIMARY KEY,
    tank            uuid NOT NULL REFERENCES tank,
    since           timestamptz NOT NULL,
    recorded_at     timestamptz NOT NULL,
    author          uuid REFERENCES staff,
    every_days      integer NOT NULL CONSTRAINT agreement_every CHECK (every_days BETWEEN 1 AND 366),
    tolerance_days  integer NOT NULL DEFAULT 2 CONSTRAINT agreement_tolerance CHECK (tolerance_days BETWEEN 0 AND 60),
    minutes         integer NOT NULL CONSTRAINT agreement_minutes CHECK (minutes BETWEEN 1 AND 1440),
    skill           text NOT NULL DEFAULT '',
    two_people      boolean NOT NULL DEFAULT false,
    preferred       uuid REFERENCES staff,
    CONSTRAINT agreement_once UNIQUE (tank, since)
);

-- What the tank is, whole in each row. A change is a new row.
CREATE TABLE tank_setup (
    id              uuid PRIMARY KEY,
    tank            uuid NOT NULL REFERENCES tank,
    since           timestamptz NOT NULL,
    recorded_at     timestamptz NOT NULL,
    author          uuid REFERENCES staff,
    length_cm       double precision,                    -- inner sizes
    width_cm        double precision,
    height_cm       double precision,
    level_cm        double precision,                    -- water over the bottom pane
    metered_l       double precision,                    -- a metered first fill beats the sum
    substrate       text NOT NULL DEFAULT 'unknown' CONSTRAINT tank_setup_substrate CHECK (substrate IN ('rich_soil', 'sand_gravel', 'unknown')),
    substrate_cm    double precision,
    porosity        double precision CONSTRAINT tank_setup_porosity CHECK (porosity BETWEEN 0 AND 0.9),
    stone_kg        double precision,
    wood_kg         double precision,
    light           text NOT NULL DEFAULT '',
    light_on_minute smallint CONSTRAINT tank_setup_light_on CHECK (light_on_minute BETWEEN 0 AND 1439),
    light_hours     double precision CONSTRAINT tank_setup_light_hours CHECK (light_hours BETWEEN 0 AND 24),
    light_percent   double precision,
    filter          text NOT NULL DEFAULT '',
    filter_clean_lh double precision,                    -- its own flow when clean, by bucket
    filter_l        double precision,
    heater          text NOT NULL DEFAULT '',
    heater_w        double precision,
    target_c        double precision,
    co2_injected    boolean NOT NULL DEFAULT false,
    co2_on_minute   smallint,
    co2_hours       double precision,
    cylinder_kg     double precision,                    -- CO2 in a full one
    cylinder_tare_kg double precision,
    topoff          text NOT NULL DEFAULT 'none' CONSTRAINT tank_setup_topoff CHECK (topoff IN ('none', 'tap', 'ro')),
    planting        text NOT NULL DEFAULT 'medium' CONSTRAINT tank_setup_planting CHECK (planting IN ('new', 'sparse', 'medium', 'dense')),
    drain_line      text NOT NULL DEFAULT '',            -- "to the third screw"
    drain_line_l    double precision,
    can_l           double precision,                    -- the customer's can
    note            text NOT NULL DEFAULT '',
    CONSTRAINT tank_setup_once UNIQUE (tank, since)
);

CREATE TABLE gear_event (
    id              uuid PRIMARY KEY,
    tank            uuid NOT NULL REFERENCES tank,
    visit           uuid,
    at              timestamptz NOT NULL,
    gear            text NOT NULL CONSTRAINT gear_event_gear CHECK (gear IN ('filter', 'light', 'heater', 'co2', 'cylinder', 'doser', 'timer', 'other')),
    what            text NOT NULL CONSTRAINT gear_event_what CHECK (what IN ('cleaned', 'swapped', 'refilled', 'calibrated', 'repaired', 'set')),
    gross_kg        double precision,                    -- cylinder weighed full, with the regulator on
    cylinder_number text NOT NULL DEFAULT '',
    tested_on       date,
    note            text NOT NULL DEFAULT '',
    staff           uuid REFERENCES staff
);
CREATE INDEX gear_event_by_tank ON gear_event (tank, gear, at DESC);

-- Plants and animals come and go as movements; what is there is their sum.
CREATE TABLE movement (
    id              uuid PRIMARY KEY,
    tank            uuid NOT NULL REFERENCES tank,
    visit           uuid,
    day             date NOT NULL,
    living          text NOT NULL CONSTRAINT movement_living CHECK (living IN ('plant', 'animal')),
    grp             text NOT NULL,                       -- plant or animal group id
    species         text NOT NULL DEFAULT '',
    n               integer NOT NULL CONSTRAINT movement_n CHECK (n <> 0),
    reason          text NOT NULL CONSTRAINT movement_reason CHECK (reason IN ('we_added', 'customer_added', 'died', 'missing', 'given', 'moved_from', 'moved_to', 'born', 'removed', 'counted')),
    other_tank      uuid REFERENCES tank,
    batch           text NOT NULL DEFAULT '',
    pays            text NOT NULL DEFAULT '' CONSTRAINT movement_pays CHECK (pays IN ('', 'included', 'to_bill', 'warranty', 'customers_own')),
    note            text NOT NULL DEFAULT '',
    staff           uuid REFERENCES staff,
    recorded_at     timestamptz NOT NULL
);
CREATE INDEX movement_by_tank ON movement (tank, day);

CREATE TABLE dosing_line (
    id              uuid PRIMARY KEY,
    tank            uuid NOT NULL REFERENCES tank,
    since           timestamptz NOT NULL,
    until           timestamptz,
    recorded_at     timestamptz NOT NULL,
    author          uuid REFERENCES staff,
    solute          text NOT NULL,                       -- quantity kind of the ion that counts, or a salt id
    mg_per_dose     double precision NOT NULL CONSTRAINT dosing_line_mg CHECK (mg_per_dose >= 0),
    weekdays        smallint NOT NULL DEFAULT 127 CONSTRAINT dosing_line_weekdays CHECK (weekdays BETWEEN 1 AND 127), -- bit 0 is Monday
    minute          smallint,
    how             text NOT NULL CONSTRAINT dosing_line_how CHECK (how IN ('doser', 'pump', 'spoon', 'hand')),
    by_whom         text NOT NULL DEFAULT 'shop' CONSTRAINT dosing_line_by CHECK (by_whom IN ('shop', 'customer', 'device')),
    ml_per_dose     double precision,
    ml_per_stroke   double precision,
    note            text NOT NULL DEFAULT ''
);
CREATE INDEX dosing_line_by_tank ON dosing_line (tank, since);

CREATE TABLE care_share (
    tank            uuid NOT NULL REFERENCES tank,
    since           timestamptz NOT NULL,
    recorded_at     timestamptz NOT NULL,
    author          uuid REFERENCES staff,
    feeds           boolean NOT NULL DEFAULT false,
    tops_up         boolean NOT NULL DEFAULT false,
    doses           boolean NOT NULL DEFAULT false,
    changes_water   boolean NOT NULL DEFAULT false,
    pinch_g         double precision,                    -- one of this customer's pinches, weighed
    feed_g_day      double precision,
    PRIMARY KEY (tank, since)
);

CREATE TABLE source_water (
    id              uuid PRIMARY KEY,
    site            uuid REFERENCES site,                -- null: the shop's own
    name            text NOT NULL,
    kind            text NOT NULL CONSTRAINT source_water_kind CHECK (kind IN ('tap', 'softened_tap', 'well', 'ro')),
    created_at      timestamptz NOT NULL
);

CREATE TABLE source_version (
    id              uuid PRIMARY KEY,
    source          uuid NOT NULL REFERENCES source_water,
    since           timestamptz NOT NULL,
    recorded_at     timestamptz NOT NULL,
    author          uuid REFERENCES staff,
    ph              double precision,
    kh_d            double precision,
    gh_d            double precision,
    ca_mg_l         double precision,
    mg_mg_l         double precision,
    na_mg_l         double precision,
    k_mg_l          double precision,
    no3_mg_l        double precision,
    po4_mg_l        double precision,
    cl_mg_l         double precision,
    so4_mg_l        double precision,
    fe_mg_l         double precision,
    ec_us_cm        double precision,
    winter_min_c    double precision,
    disinfectant    text NOT NULL DEFAULT 'not_known' CONSTRAINT source_version_disinfectant CHECK (disinfectant IN ('none', 'chlorine', 'chloramine', 'not_known')),
    disinfectant_mg_l double precision,
    softener        boolean NOT NULL DEFAULT false,
    note            text NOT NULL DEFAULT '',
    CONSTRAINT source_version_once UNIQUE (source, since)
);

CREATE TABLE tank_source (
    tank            uuid NOT NULL REFERENCES tank,
    since           timestamptz NOT NULL,
    recorded_at     timestamptz NOT NULL,
    author          uuid REFERENCES staff,
    source          uuid NOT NULL REFERENCES source_water,
    ro_share        double precision NOT NULL DEFAULT 0 CONSTRAINT tank_source_share CHECK (ro_share BETWEEN 0 AND 1),
    PRIMARY KEY (tank, since)
);

CREATE TABLE tank_profile (
    tank            uuid NOT NULL REFERENCES tank,
    since           timestamptz NOT NULL,
    recorded_at     timestamptz NOT NULL,
    author          uuid REFERENCES staff,
    profile         uuid NOT NULL REFERENCES profile,
    PRIMARY KEY (tank, since)
);

-- Which kit is used at this tank by default, where it is not the technician's bag.
CREATE TABLE tank_kit (
    tank            uuid NOT NULL REFERENCES tank,
    kind            text NOT NULL,
    kit             uuid NOT NULL REFERENCES kit,
    since           timestamptz NOT NULL,
    PRIMARY KEY (tank, kind, since)
);

-- +goose Down
SELECT 'forward only';

-- +goose Up

CREATE TABLE stop (
    id              uuid PRIMARY KEY,
    site            uuid NOT NULL REFERENCES site,
    arrived_at      timestamptz,
    left_at         timestamptz,
    outcome         text NOT NULL DEFAULT 'under_way' CONSTRAINT stop_outcome CHECK (outcome IN ('under_way', 'done', 'partly', 'could_not_get_in')),
    why             text NOT NULL DEFAULT '',
    customer_present boolean,
    made_by         uuid NOT NULL REFERENCES staff,
    created_at      timestamptz NOT NULL
);
CREATE INDEX stop_by_site ON stop (site, arrived_at DESC);

CREATE TABLE stop_staff (
    stop            uuid NOT NULL REFERENCES stop,
    staff           uuid NOT NULL REFERENCES staff,
    PRIMARY KEY (stop, staff)
);

CREATE TABLE visit (
    id              uuid PRIMARY KEY,
    tank            uuid NOT NULL REFERENCES tank,
    stop            uuid REFERENCES stop,
    kind            text NOT NULL CONSTRAINT visit_kind CHECK (kind IN ('routine', 'call_out', 'build', 'start_up', 'move', 'gear_only', 'by_phone')),
    performer       uuid NOT NULL REFERENCES staff,
    performed_at    timestamptz NOT NULL,
    head            uuid NOT NULL,
    moved_from      uuid REFERENCES tank,                -- entered on the wrong tank
    withdrawn_at    timestamptz,
    created_at      timestamptz NOT NULL
);
CREATE INDEX visit_by_tank ON visit (tank, performed_at DESC);

CREATE TABLE visit_revision (
    id              uuid PRIMARY KEY,
    visit           uuid NOT NULL REFERENCES visit DEFERRABLE INITIALLY DEFERRED,
    no              integer NOT NULL,
    base            uuid REFERENCES visit_revision,
    raw             bytea NOT NULL,                      -- the body as posted
    sha256          bytea NOT NULL,                      -- of the sorted pairs
    wire            text NOT NULL,
    performed_at    timestamptz NOT NULL,
    sent_at         timestamptz,                         -- by the device's clock
    received_at     timestamptz NOT NULL,
    skew_seconds    integer NOT NULL DEFAULT 0,
    staff           uuid NOT NULL REFERENCES staff,
    reason          text NOT NULL DEFAULT '',
    note_customer   text NOT NULL DEFAULT '',
    note_inside     text NOT NULL DEFAULT '',
    flags           text[] NOT NULL DEFAULT '{}',        -- unlikely:…, task-withdrawn:…, tank-changed
    acted_hash      text NOT NULL DEFAULT '',            -- of the assessment that the technician saw
    acted_rules     text NOT NULL DEFAULT '',
    CONSTRAINT visit_revision_base_taken UNIQUE NULLS NOT DISTINCT (visit, base),
    CONSTRAINT visit_revision_no_taken UNIQUE (visit, no)
);
ALTER TABLE visit ADD CONSTRAINT visit_head FOREIGN KEY (head) REFERENCES visit_revision DEFERRABLE INITIALLY DEFERRED;

CREATE TABLE reading (
    id              uuid PRIMARY KEY,
    revision        uuid NOT NULL REFERENCES visit_revision,
    tank            uuid NOT NULL REFERENCES tank,
    performed_at    timestamptz NOT NULL,
    drawn_at        timestamptz NOT NULL,
    current         boolean NOT NULL DEFAULT true,
    kind            text NOT NULL,
    phase           text NOT NULL,
    value           double precision NOT NULL,           -- canonical unit of the kind
    lo              double precision,                    -- null: open end
    hi              double precision,
    kit_lot         uuid REFERENCES kit_lot,
    typed           text NOT NULL,
    typed_unit      text NOT NULL,
    confirmed       boolean NOT NULL DEFAULT false,
    CONSTRAINT reading_once UNIQUE (revision, kind, phase)
);
CREATE INDEX reading_curve ON reading (tank, kind, performed_at) WHERE current;

CREATE TABLE ppfd_point (
    revision        uuid NOT NULL REFERENCES visit_revision,
    ord             smallint NOT NULL,
    x_cm            double precision,
    y_cm            double precision,
    depth_cm        double precision,
    umol            double precision NOT NULL,           -- µmol/m²/s
    PRIMARY KEY (revision, ord)
);

CREATE TABLE bucket_run (
    revision        uuid NOT NULL REFERENCES visit_revision,
    phase           text NOT NULL CONSTRAINT bucket_run_phase CHECK (phase IN ('before', 'after')),
    ord             smallint NOT NULL,
    litres          double precision NOT NULL,
    seconds         double precision NOT NULL,
    PRIMARY KEY (revision, phase, ord)
);

CREATE TABLE observation (
    revision        uuid NOT NULL REFERENCES visit_revision,
    sign            text NOT NULL,                       -- a sign id, or look:animals and so on
    answer          text NOT NULL CONSTRAINT observation_answer CHECK (answer IN ('seen', 'looked_fine', 'not_looked')),
    place           text NOT NULL DEFAULT '',
    extent          text NOT NULL DEFAULT '',
    PRIMARY KEY (revision, sign)
);

CREATE TABLE since_last (
    revision        uuid NOT NULL REFERENCES visit_revision,
    what            text NOT NULL CONSTRAINT since_last_what CHECK (what IN ('nothing_new', 'died', 'new_animals', 'fed_by_others', 'dosed_something', 'altered', 'power_cut', 'spraying', 'other')),
    note            text NOT NULL DEFAULT '',
    PRIMARY KEY (revision, what)
);

CREATE TABLE work (
    revision        uuid NOT NULL REFERENCES visit_revision,
    ord             smallint NOT NULL,
    kind            text NOT NULL,                       -- water_change, dose, filter_clean, trim, …
    solute          text NOT NULL DEFAULT '',
    g               double precision,
    ml              double precision,
    l               double precision,
    minutes         double precision,
    part            text NOT NULL DEFAULT '',
    pays            text NOT NULL DEFAULT '' CONSTRAINT work_pays CHECK (pays IN ('', 'included', 'to_bill', 'warranty', 'customers_own')),
    note            text NOT NULL DEFAULT '',
    PRIMARY KEY (revision, ord)
);

-- What was really dosed since the visit before.
CREATE TABLE between_visits (
    revision        uuid PRIMARY KEY REFERENCES visit_revision,
    doses           text NOT NULL CONSTRAINT between_doses CHECK (doses IN ('as_planned', 'some_missed', 'altered', 'not_known')),
    missed          integer,
    bottle_ml       double precision,
    note            text NOT NULL DEFAULT ''
);

CREATE TABLE leave_check (
    revision        uuid NOT NULL REFERENCES visit_revision,
    item            text NOT NULL,
    state           text NOT NULL CONSTRAINT leave_check_state CHECK (state IN ('checked', 'not_here', 'left_open')),
    at              timestamptz NOT NULL,
    note            text NOT NULL DEFAULT '',
    PRIMARY KEY (revision, item)
);

CREATE TABLE photo (
    id              uuid PRIMARY KEY,                    -- made by the tablet
    tank            uuid NOT NULL REFERENCES tank,
    visit           uuid,                                -- may arrive before or after its visit
    ord             integer NOT NULL DEFAULT 0,
    purpose         text NOT NULL DEFAULT 'visit' CONSTRAINT photo_purpose CHECK (purpose IN ('visit', 'cabinet', 'death', 'sheet')),
    taken_at        timestamptz NOT NULL,
    received_at     timestamptz NOT NULL,
    sha256          bytea NOT NULL,
    media_type      text NOT NULL CONSTRAINT photo_media CHECK (media_type IN ('image/jpeg', 'image/png', 'image/webp')),
    width           integer NOT NULL,
    height          integer NOT NULL,
    bytes           bytea NOT NULL,
    staff           uuid REFERENCES staff
);
CREATE INDEX photo_by_tank ON photo (tank, taken_at DESC);

-- +goose Down
SELECT 'forward only';

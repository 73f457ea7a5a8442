-- +goose Up

CREATE TABLE evaluation (
    id              uuid PRIMARY KEY,
    revision        uuid NOT NULL REFERENCES visit_revision,
    tank            uuid NOT NULL REFERENCES tank,
    performed_at    timestamptz NOT NULL,
    at              timestamptz NOT NULL,
    cause           text NOT NULL CONSTRAINT evaluation_cause CHECK (cause IN ('first', 'late', 'rules', 'profile')),
    rules           text NOT NULL,                       -- version of the rules
    profile_version uuid REFERENCES profile_version,
    input_sha256    bytea NOT NULL,
    status          text NOT NULL,
    urgency         text NOT NULL CONSTRAINT evaluation_urgency CHECK (urgency IN ('now', 'today', 'this_visit', 'routine')),
    next_on         date,
    memory          bytea,                               -- state of the forecast
    document        text NOT NULL,                       -- the whole assessment
    current         boolean NOT NULL DEFAULT true
);
CREATE INDEX evaluation_by_revision ON evaluation (revision, at DESC);
CREATE INDEX evaluation_by_tank ON evaluation (tank, performed_at DESC) WHERE current;
CREATE UNIQUE INDEX evaluation_one_current ON evaluation (revision) WHERE current;

CREATE TABLE finding (
    evaluation      uuid NOT NULL REFERENCES evaluation,
    ord             smallint NOT NULL,
    rule            text NOT NULL,
    subject         text NOT NULL DEFAULT '',
    system          text NOT NULL,
    state           text NOT NULL,
    urgency         text NOT NULL,
    audience        text NOT NULL CONSTRAINT finding_audience CHECK (audience IN ('customer', 'shop')),
    PRIMARY KEY (evaluation, ord)
);
CREATE INDEX finding_by_rule ON finding (rule);

CREATE TABLE task (
    id              uuid PRIMARY KEY,
    tank            uuid NOT NULL REFERENCES tank,
    action          text NOT NULL,
    subject         text NOT NULL DEFAULT '',
    who             text NOT NULL CONSTRAINT task_who CHECK (who IN ('technician', 'customer', 'owner')),
    due             text NOT NULL DEFAULT 'next_visit' CONSTRAINT task_due CHECK (due IN ('now', 'today', 'this_visit', 'next_visit', 'on_day')),
    opened_by       uuid REFERENCES evaluation,
    opened_at       timestamptz NOT NULL,
    renewed_by      uuid REFERENCES evaluation,
    document        text NOT NULL,                       -- the task as the evaluation worded it
    expectation     text NOT NULL DEFAULT '',
    look_on         date,
    state           text NOT NULL DEFAULT 'open' CONSTRAINT task_state CHECK (state IN ('open', 'done', 'not_needed', 'declined', 'withdrawn')),
    closed_by       uuid REFERENCES visit_revision,
    closed_at       timestamptz,
    closed_staff    uuid REFERENCES staff,
    reason          text NOT NULL DEFAULT '',
    declined_who    text NOT NULL DEFAULT '',
    declined_words  text NOT NULL DEFAULT '',
    skips           integer NOT NULL DEFAULT 0,
    skip_reason     text NOT NULL DEFAULT '' CONSTRAINT task_skip_reason CHECK (skip_reason IN ('', 'no_time', 'no_part', 'customer_said_no', 'could_not_reach', 'not_needed'))
);
CREATE UNIQUE INDEX task_one_open ON task (tank, action, subject) WHERE state = 'open';
CREATE INDEX task_by_tank ON task (tank, state, opened_at DESC);

CREATE TABLE problem (
    id              uuid PRIMARY KEY,
    tank            uuid NOT NULL REFERENCES tank,
    title           text NOT NULL,
    belief          text NOT NULL DEFAULT '',
    next            text NOT NULL DEFAULT '',
    opened_at       timestamptz NOT NULL,
    opened_by       uuid REFERENCES staff,
    closed_at       timestamptz,
    row_version     integer NOT NULL DEFAULT 1
);
CREATE INDEX problem_by_tank ON problem (tank, opened_at DESC);

CREATE TABLE problem_try (
    id              uuid PRIMARY KEY,
    problem         uuid NOT NULL REFERENCES problem,
    at              timestamptz NOT NULL,
    staff           uuid REFERENCES staff,
    tried           text NOT NULL,
    result          text NOT NULL DEFAULT ''
);

CREATE TABLE incident (
    id              uuid PRIMARY KEY,
    tank            uuid REFERENCES tank,
    site            uuid NOT NULL REFERENCES site,
    noticed_at      timestamptz NOT NULL,
    what            text NOT NULL,
    done            text NOT NULL DEFAULT '',
    told            text NOT NULL DEFAULT '',
    staff           uuid REFERENCES staff,
    recorded_at     timestamptz NOT NULL
);

-- +goose Down
SELECT 'forward only';

-- +goose Up

-- A job for two stands in the days of both people; a day keeps when its person
-- leaves, rests and is back.
ALTER TABLE round_stop DROP CONSTRAINT round_stop_pkey;
ALTER TABLE round_stop DROP COLUMN ord;
ALTER TABLE round_stop RENAME COLUMN second TO with_staff;
ALTER TABLE round_stop ADD PRIMARY KEY (plan, job, staff);

CREATE TABLE round_route (
    plan            uuid NOT NULL REFERENCES round_plan,
    staff           uuid NOT NULL REFERENCES staff,
    day             date NOT NULL,
    leave_second    integer NOT NULL,                    -- of the day
    back_second     integer NOT NULL,
    home_seconds    integer NOT NULL,                    -- the way from the last stop
    break_second    integer,                             -- when the break begins; null: none
    PRIMARY KEY (plan, staff, day)
);

-- A run may also deal one person's day out anew.
ALTER TABLE round_run ADD COLUMN ill uuid REFERENCES staff, ADD COLUMN ill_day date;

-- Extra visits are decided in extra_visit; nothing ever wrote here.
DROP TABLE extra_decision;

-- +goose Down
SELECT 'forward only';

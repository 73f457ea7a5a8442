-- +goose Up

-- One shop per database: the row's key can only be true.
CREATE TABLE shop (
    only_one        boolean PRIMARY KEY DEFAULT true CONSTRAINT shop_only_one CHECK (only_one),
    name            text NOT NULL,
    zone            text NOT NULL,                       -- IANA name, such as Europe/Dublin
    locale          text NOT NULL,                       -- BCP 47, such as en-IE
    decimal_mark    text NOT NULL CONSTRAINT shop_decimal_mark CHECK (decimal_mark IN ('.', ',')),
    units           text NOT NULL CONSTRAINT shop_units CHECK (units IN ('metric', 'us')),
    phone           text NOT NULL DEFAULT '',
    paper           text NOT NULL DEFAULT 'A4' CONSTRAINT shop_paper CHECK (paper IN ('A4', 'Letter')),
    show_figures    boolean NOT NULL DEFAULT true,       -- strips and figures on the care sheet
    row_version     integer NOT NULL DEFAULT 1,
    updated_at      timestamptz NOT NULL
);

CREATE TABLE staff (
    id              uuid PRIMARY KEY,
    name            text NOT NULL,
    email           text NOT NULL,
    email_folded    text NOT NULL CONSTRAINT staff_email_taken UNIQUE,
    role            text NOT NULL CONSTRAINT staff_role CHECK (role IN ('owner', 'technician')),
    password_hash   text NOT NULL,
    phone           text NOT NULL DEFAULT '',
    units           text CONSTRAINT staff_units CHECK (units IN ('metric', 'us')),
    epoch           integer NOT NULL DEFAULT 1,          -- raised by password, role or deactivation: older sessions end
    deactivated_at  timestamptz,
    row_version     integer NOT NULL DEFAULT 1,
    created_at      timestamptz NOT NULL,
    updated_at      timestamptz NOT NULL
);

CREATE TABLE sign_in (
    id              uuid PRIMARY KEY,
    staff           uuid NOT NULL REFERENCES staff,
    at              timestamptz NOT NULL,
    seen_at         timestamptz NOT NULL,
    agent           text NOT NULL DEFAULT '',
    ended_at        timestamptz
);
CREATE INDEX sign_in_by_staff ON sign_in (staff, at DESC);

-- A one-time address: for the first owner (role owner, made by nobody), for a new person, or for a new password
-- of somebody who is there.
CREATE TABLE invite (
    id              uuid PRIMARY KEY,
    token_sha256    bytea NOT NULL CONSTRAINT invite_token_taken UNIQUE,
    role            text NOT NULL CONSTRAINT invite_role CHECK (role IN ('owner', 'technician')),
    name            text NOT NULL DEFAULT '',
    for_staff       uuid REFERENCES staff,
    made_by         uuid REFERENCES staff,
    made_at         timestamptz NOT NULL,
    expires_at      timestamptz NOT NULL,
    used_at         timestamptz,
    used_by         uuid REFERENCES staff
);

-- The table that the session library reads and writes; its columns are the library's.
CREATE TABLE sessions (
    token           text PRIMARY KEY,
    data            bytea NOT NULL,
    expiry          timestamptz NOT NULL
);
CREATE INDEX sessions_expiry ON sessions (expiry);

CREATE TABLE audit (
    id              bigint GENERATED ALWAYS AS IDENTITY PRIMARY KEY,
    at              timestamptz NOT NULL,
    staff           uuid REFERENCES staff,
    verb            text NOT NULL,
    noun            text NOT NULL,
    noun_id         text NOT NULL,
    before          jsonb,
    after           jsonb
);
CREATE INDEX audit_by_noun ON audit (noun, noun_id, at DESC);

-- +goose StatementBegin
CREATE FUNCTION refuse_change() RETURNS trigger LANGUAGE plpgsql AS $$
BEGIN
    RAISE EXCEPTION '% is append-only', TG_TABLE_NAME USING ERRCODE = 'restrict_violation';
END $$;
-- +goose StatementEnd

CREATE TRIGGER audit_append_only BEFORE UPDATE OR DELETE ON audit FOR EACH ROW EXECUTE FUNCTION refuse_change();

-- +goose Down
SELECT 'forward only';

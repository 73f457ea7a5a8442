-- +goose Up

-- A care sheet is a draft until somebody releases it; from then on it is frozen.
CREATE TABLE sheet (
    id              uuid PRIMARY KEY,
    evaluation      uuid NOT NULL REFERENCES evaluation,
    tank            uuid NOT NULL REFERENCES tank,
    visit           uuid NOT NULL REFERENCES visit,
    document        text NOT NULL,
    sha256          bytea NOT NULL,
    wire            text NOT NULL,
    released_by     uuid NOT NULL REFERENCES staff,
    given_at        timestamptz NOT NULL,
    replaces        uuid REFERENCES sheet
);
CREATE INDEX sheet_by_tank ON sheet (tank, given_at DESC);
CREATE TRIGGER sheet_immutable BEFORE UPDATE OR DELETE ON sheet FOR EACH ROW EXECUTE FUNCTION refuse_change();

-- Held back until the owner lets it go, with the reason.
CREATE TABLE sheet_hold (
    evaluation      uuid PRIMARY KEY REFERENCES evaluation,
    tank            uuid NOT NULL REFERENCES tank,
    reason          text NOT NULL,
    since           timestamptz NOT NULL,
    settled_at      timestamptz
);
CREATE INDEX sheet_hold_open ON sheet_hold (since) WHERE settled_at IS NULL;

CREATE TABLE link (
    id              uuid PRIMARY KEY,
    tank            uuid REFERENCES tank,
    site            uuid REFERENCES site,
    generation      integer NOT NULL DEFAULT 1,
    expires_at      timestamptz,
    revoked_at      timestamptz,
    made_by         uuid REFERENCES staff,
    made_at         timestamptz NOT NULL,
    CONSTRAINT link_of_one CHECK ((tank IS NULL) <> (site IS NULL))
);
CREATE UNIQUE INDEX link_one_per_tank ON link (tank) WHERE revoked_at IS NULL AND tank IS NOT NULL;
CREATE UNIQUE INDEX link_one_per_site ON link (site) WHERE revoked_at IS NULL AND site IS NOT NULL;

CREATE TABLE link_open (
    link            uuid NOT NULL REFERENCES link,
    sheet           uuid REFERENCES sheet,
    at              timestamptz NOT NULL
);
CREATE INDEX link_open_by_link ON link_open (link, at DESC);

-- +goose Down
SELECT 'forward only';

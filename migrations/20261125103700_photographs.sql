-- +goose Up

-- A photograph is kept as two prints that the server made itself; sha256 is that of the large one, sent_sha256 that of
-- the file as it was sent, by which the same post again is known. Taking one back leaves it for an undo; erasing its
-- customer empties both prints.
ALTER TABLE photo
    ADD COLUMN small         bytea NOT NULL DEFAULT '',
    ADD COLUMN sent_sha256   bytea NOT NULL DEFAULT '',
    ADD COLUMN withdrawn_at  timestamptz,
    ADD COLUMN withdrawn_by  uuid REFERENCES staff,
    ADD COLUMN erased_at     timestamptz;
UPDATE photo SET sent_sha256 = sha256;
UPDATE photo SET purpose = 'visit' WHERE purpose = 'sheet';
ALTER TABLE photo DROP CONSTRAINT photo_purpose;
ALTER TABLE photo ADD CONSTRAINT photo_purpose CHECK (purpose IN ('visit', 'before', 'after', 'cabinet', 'death'));
-- A JPEG does not get smaller: packing it again only costs time.
ALTER TABLE photo ALTER COLUMN bytes SET STORAGE EXTERNAL;
ALTER TABLE photo ALTER COLUMN small SET STORAGE EXTERNAL;
CREATE INDEX photo_by_visit ON photo (visit) WHERE visit IS NOT NULL;

-- The prints on a sheet that was given: part of it, and as frozen.
CREATE TABLE sheet_photo (
    sheet           uuid NOT NULL REFERENCES sheet,
    ord             smallint NOT NULL,
    photo           uuid NOT NULL REFERENCES photo,
    sha256          bytea NOT NULL,
    taken_at        timestamptz NOT NULL,
    PRIMARY KEY (sheet, ord)
);
CREATE INDEX sheet_photo_by_photo ON sheet_photo (photo);
CREATE TRIGGER sheet_photo_immutable BEFORE UPDATE OR DELETE ON sheet_photo FOR EACH ROW EXECUTE FUNCTION refuse_change();

-- +goose Down
SELECT 'forward only';

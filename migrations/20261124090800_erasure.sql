-- +goose Up

-- An absence that was called off stays, so that calling it off can be undone.
ALTER TABLE site_away ADD COLUMN withdrawn_at timestamptz, ADD COLUMN row_version integer NOT NULL DEFAULT 1;

-- Written by the program like sort_key: the order of the towns is the same in every locale of the database.
ALTER TABLE site ADD COLUMN town_key text NOT NULL DEFAULT '';

-- Erasing a person must reach what was noted of their changes. Who did what and when stays; only the values go,
-- and only in a transaction that says so.
-- +goose StatementBegin
CREATE FUNCTION audit_refuse_change() RETURNS trigger LANGUAGE plpgsql AS $$
BEGIN
    IF TG_OP = 'UPDATE' AND current_setting('scaperound.erasing', true) = 'on'
       AND NEW.before IS NULL AND NEW.after IS NULL
       AND (NEW.id, NEW.at, NEW.staff, NEW.verb, NEW.noun, NEW.noun_id) IS NOT DISTINCT FROM (OLD.id, OLD.at, OLD.staff, OLD.verb, OLD.noun, OLD.noun_id) THEN
        RETURN NEW;
    END IF;
    RAISE EXCEPTION '% is append-only', TG_TABLE_NAME USING ERRCODE = 'restrict_violation';
END $$;
-- +goose StatementEnd
DROP TRIGGER audit_append_only ON audit;
CREATE TRIGGER audit_append_only BEFORE UPDATE OR DELETE ON audit FOR EACH ROW EXECUTE FUNCTION audit_refuse_change();

-- +goose Down
SELECT 'forward only';

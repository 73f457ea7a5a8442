-- +goose Up

-- A form that makes something is answered once, however often it is sent: its
-- number and the hash of what it says are noted in the transaction that makes it.
CREATE TABLE form_once (
    id              uuid NOT NULL,
    sha256          bytea NOT NULL,
    at              timestamptz NOT NULL,
    noun            text NOT NULL DEFAULT '',
    noun_id         text NOT NULL DEFAULT '',
    PRIMARY KEY (id, sha256)
);
CREATE INDEX form_once_by_age ON form_once (at);

-- +goose Down
SELECT 'forward only';

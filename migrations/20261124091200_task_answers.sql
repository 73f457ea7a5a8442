-- +goose Up

-- What a visit said of an open task, a skip among it; what became of the task
-- itself stands in task.
CREATE TABLE task_answer (
    revision        uuid NOT NULL REFERENCES visit_revision,
    task            uuid NOT NULL REFERENCES task,
    state           text NOT NULL CONSTRAINT task_answer_state CHECK (state IN ('done', 'not_needed', 'declined', 'skipped')),
    reason          text NOT NULL DEFAULT '',
    who             text NOT NULL DEFAULT '',
    words           text NOT NULL DEFAULT '',
    PRIMARY KEY (revision, task)
);

-- +goose Down
SELECT 'forward only';

-- Books of wells, entry by entry. Rows of entries, files, contents and commits
-- are added and never changed: triggers refuse it to any program.

-- +goose Up
PRAGMA application_id = 1466718020; -- "WlWD", as open.go has it

-- The list of wells, worked out from their entries; the only rows that change.
CREATE TABLE wells (
    well    INTEGER PRIMARY KEY, -- 1, 2, 3 ... without a gap
    name    TEXT    NOT NULL,
    place   TEXT    NOT NULL,
    head    TEXT    NOT NULL,    -- hash of the last entry, as the book counts it
    entries INTEGER NOT NULL,
    latest  TEXT    NOT NULL,    -- date of the latest entry, UTC, RFC 3339
    seal    TEXT    NOT NULL     -- over this row and the seal of the last entry
) STRICT;
CREATE INDEX wells_by_head ON wells (head);

-- A book is the text of its entries, one after the other, byte for byte.
CREATE TABLE entries (
    id    INTEGER PRIMARY KEY,
    well  INTEGER NOT NULL REFERENCES wells (well),
    place INTEGER NOT NULL, -- 0: what stands before the first entry
    name  TEXT    NOT NULL,
    hash  TEXT    NOT NULL, -- as the book counts it
    text  BLOB    NOT NULL,
    seal  TEXT    NOT NULL, -- over the seal before, this row, and the files of the entry
    UNIQUE (well, place)
) STRICT;
CREATE INDEX entries_by_hash ON entries (hash);

-- Files as they were received, each content once.
CREATE TABLE contents (
    hash    TEXT PRIMARY KEY, -- SHA-256 of the content
    content BLOB NOT NULL
) STRICT;

CREATE TABLE files (
    well   INTEGER NOT NULL,
    place  INTEGER NOT NULL,
    number INTEGER NOT NULL, -- 1, 2, 3 ... within the entry
    name   TEXT    NOT NULL,
    type   TEXT    NOT NULL, -- media type
    size   INTEGER NOT NULL, -- bytes
    hash   TEXT    NOT NULL REFERENCES contents (hash),
    PRIMARY KEY (well, place, number),
    FOREIGN KEY (well, place) REFERENCES entries (well, place)
) STRICT;
CREATE INDEX files_by_hash ON files (hash, well);

-- What was acknowledged, in order. The last row stands in the head file too.
CREATE TABLE commits (
    number INTEGER PRIMARY KEY, -- 1, 2, 3 ... without a gap
    well   INTEGER NOT NULL,
    place  INTEGER NOT NULL,    -- the last entry then
    wells  INTEGER NOT NULL,    -- how many there were then
    seal   TEXT    NOT NULL     -- over the seal before, this row, and the seal of the entry
) STRICT;

-- Words to search by, folded as the program folds what is asked for.
CREATE VIRTUAL TABLE words USING fts5 (shelf, entry, said UNINDEXED, tokenize = "unicode61 remove_diacritics 0");

-- +goose StatementBegin
CREATE TRIGGER entries_stand BEFORE UPDATE ON entries BEGIN SELECT RAISE(ABORT, 'entries are never changed'); END;
-- +goose StatementEnd
-- +goose StatementBegin
CREATE TRIGGER entries_stay BEFORE DELETE ON entries BEGIN SELECT RAISE(ABORT, 'entries are never erased'); END;
-- +goose StatementEnd
-- +goose StatementBegin
CREATE TRIGGER files_stand BEFORE UPDATE ON files BEGIN SELECT RAISE(ABORT, 'files are never changed'); END;
-- +goose StatementEnd
-- +goose StatementBegin
CREATE TRIGGER files_stay BEFORE DELETE ON files BEGIN SELECT RAISE(ABORT, 'files are never erased'); END;
-- +goose StatementEnd
-- +goose StatementBegin
CREATE TRIGGER contents_stand BEFORE UPDATE ON contents BEGIN SELECT RAISE(ABORT, 'files are never changed'); END;
-- +goose StatementEnd
-- +goose StatementBegin
CREATE TRIGGER contents_stay BEFORE DELETE ON contents BEGIN SELECT RAISE(ABORT, 'files are never erased'); END;
-- +goose StatementEnd
-- +goose StatementBegin
CREATE TRIGGER commits_stand BEFORE UPDATE ON commits BEGIN SELECT RAISE(ABORT, 'commits are never changed'); END;
-- +goose StatementEnd
-- +goose StatementBegin
CREATE TRIGGER commits_stay BEFORE DELETE ON commits BEGIN SELECT RAISE(ABORT, 'commits are never erased'); END;
-- +goose StatementEnd
-- +goose StatementBegin
CREATE TRIGGER wells_stay BEFORE DELETE ON wells BEGIN SELECT RAISE(ABORT, 'wells are never erased'); END;
-- +goose StatementEnd

-- What may still change. Nothing here is a fact and nothing here is hashed.

-- A form being filled in, kept as JSON so that a power cut loses none of it.
CREATE TABLE draft (
    id BLOB NOT NULL PRIMARY KEY CHECK (length(id) = 16),
    kind TEXT NOT NULL CHECK (length(kind) > 0),
    job BLOB CHECK (length(job) = 16),
    person BLOB NOT NULL CHECK (length(person) = 16),
    changed_at TEXT NOT NULL,
    body TEXT NOT NULL CHECK (json_valid(body))
) STRICT, WITHOUT ROWID;

-- How the columns of a kind of import were matched the last time, by the header they came with.
CREATE TABLE import_mapping (
    kind TEXT NOT NULL,
    header TEXT NOT NULL,
    mapping TEXT NOT NULL CHECK (json_valid(mapping)),
    used_at TEXT NOT NULL,
    PRIMARY KEY (kind, header)
) STRICT, WITHOUT ROWID;

-- Settings of this copy of the file on this machine: which device it is, where back-ups go.
CREATE TABLE setting (
    name TEXT NOT NULL PRIMARY KEY,
    value TEXT NOT NULL
) STRICT, WITHOUT ROWID;

-- The newest head of each device's chain as it signed it: what its entries here are vouched for by.
CREATE TABLE signed_head (
    device TEXT NOT NULL PRIMARY KEY,
    device_seq INTEGER NOT NULL,
    hash BLOB NOT NULL CHECK (length(hash) = 32),
    signature BLOB NOT NULL CHECK (length(signature) = 64)
) STRICT, WITHOUT ROWID;

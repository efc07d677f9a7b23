-- The book. Times are milliseconds since 1970-01-01T00:00Z; chain is described in store/chain.hpp.
CREATE TABLE event (
  number      INTEGER PRIMARY KEY CHECK (number >= 1),
  recorded_ms INTEGER NOT NULL,
  happened_ms INTEGER NOT NULL,
  author      TEXT NOT NULL CHECK (length(CAST(author AS BLOB)) BETWEEN 1 AND 64),
  kind        TEXT NOT NULL CHECK (length(kind) BETWEEN 1 AND 64 AND kind NOT GLOB '*[^a-z_]*'),
  subject     TEXT NOT NULL CHECK (length(CAST(subject AS BLOB)) BETWEEN 1 AND 64),
  body        TEXT NOT NULL CHECK (length(CAST(body AS BLOB)) <= 65536
                AND CASE WHEN json_valid(body) THEN json_type(body) = 'object' ELSE 0 END),
  corrects    INTEGER CHECK (corrects < number),
  chain       BLOB NOT NULL CHECK (length(chain) = 32),
  -- Also the way to all events of a subject.
  UNIQUE (subject, number),
  -- Only an event of the same subject is corrected.
  FOREIGN KEY (subject, corrects) REFERENCES event (subject, number)
) STRICT;

CREATE TRIGGER event_is_never_changed BEFORE UPDATE ON event
BEGIN
  SELECT RAISE(ABORT, 'an event is never changed');
END;

CREATE TRIGGER event_is_never_removed BEFORE DELETE ON event
BEGIN
  SELECT RAISE(ABORT, 'an event is never removed');
END;

-- Also against INSERT OR REPLACE, which removes a row without asking the trigger above.
CREATE TRIGGER event_follows_the_last BEFORE INSERT ON event
WHEN NEW.number IS NOT (SELECT ifnull(max(number), 0) + 1 FROM event)
BEGIN
  SELECT RAISE(ABORT, 'an event has the number after the last');
END;

-- Whoever an author id stands for. Nothing refers to it, so that a person can be forgotten.
CREATE TABLE person (
  id      TEXT PRIMARY KEY NOT NULL CHECK (length(CAST(id AS BLOB)) BETWEEN 1 AND 64),
  name    TEXT NOT NULL,
  contact TEXT NOT NULL
) STRICT, WITHOUT ROWID;

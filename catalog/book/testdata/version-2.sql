PRAGMA application_id=1279674946;
PRAGMA user_version=2;

CREATE TABLE job (
  id       INTEGER PRIMARY KEY AUTOINCREMENT,
  name     TEXT NOT NULL,            -- of the brief
  customer TEXT NOT NULL,
  file     TEXT NOT NULL,            -- the name that the brief had
  brief    TEXT NOT NULL,            -- its text as given
  note     TEXT NOT NULL,
  added    TEXT NOT NULL
) STRICT;

-- Files that the brief needs: the vehicles, a measured curve.
CREATE TABLE attachment (
  job     INTEGER NOT NULL REFERENCES job ON DELETE CASCADE,
  name    TEXT NOT NULL,
  content BLOB NOT NULL,             -- compressed
  PRIMARY KEY (job, name)
) STRICT, WITHOUT ROWID;

-- A state of the catalogue; the hash is that of the text before compression.
CREATE TABLE catalogue (
  hash    TEXT NOT NULL PRIMARY KEY,
  parts   INTEGER NOT NULL,
  content BLOB NOT NULL,             -- the file of parts, compressed
  added   TEXT NOT NULL
) STRICT;

CREATE TABLE quote (
  id        INTEGER PRIMARY KEY AUTOINCREMENT,
  job       INTEGER NOT NULL REFERENCES job ON DELETE CASCADE,
  catalogue TEXT NOT NULL REFERENCES catalogue,
  objective TEXT NOT NULL,           -- reading or music
  level     REAL NOT NULL,           -- dB, of the objective
  price     INTEGER NOT NULL,
  currency  TEXT NOT NULL,
  form      TEXT NOT NULL,           -- which form of JSON the answer has
  answer    BLOB NOT NULL,           -- JSON as given to the customer, compressed
  printed   BLOB NOT NULL,           -- text as given to the customer, compressed
  quoted    TEXT NOT NULL
) STRICT;
CREATE INDEX quote_job ON quote (job, id);
CREATE INDEX quote_catalogue ON quote (catalogue);

CREATE TABLE quote_line (
  quote    INTEGER NOT NULL REFERENCES quote ON DELETE CASCADE,
  position INTEGER NOT NULL,
  sku      TEXT NOT NULL,
  count    INTEGER NOT NULL,
  owned    INTEGER NOT NULL,
  PRIMARY KEY (quote, position)
) STRICT, WITHOUT ROWID;
CREATE INDEX quote_line_sku ON quote_line (sku);

CREATE TABLE price (
  sku      TEXT NOT NULL,
  store    TEXT NOT NULL COLLATE NOCASE, -- empty: not stated
  day      TEXT NOT NULL,
  price    INTEGER,                      -- NULL: not stated
  currency TEXT,
  stock    INTEGER,                      -- NULL: not stated
  source   TEXT NOT NULL,                -- the list and the row
  added    TEXT NOT NULL,
  PRIMARY KEY (sku, store, day),
  CHECK ((price IS NULL) = (currency IS NULL)),
  CHECK (price IS NOT NULL OR stock IS NOT NULL)
) STRICT, WITHOUT ROWID;

CREATE TABLE reading (
  id           INTEGER PRIMARY KEY AUTOINCREMENT,
  taken        TEXT NOT NULL,
  vehicle      TEXT NOT NULL,
  quote        INTEGER REFERENCES quote ON DELETE SET NULL,
  build        TEXT NOT NULL,        -- parts in words where there is no quote
  place        TEXT NOT NULL,
  openings     TEXT NOT NULL,
  frequency    REAL NOT NULL,        -- Hz
  level        REAL NOT NULL,        -- dB
  tolerance    REAL,                 -- dB, of the meter
  clamp_volts  REAL,
  amps         REAL,
  supply_volts REAL,
  note         TEXT NOT NULL
) STRICT;
CREATE INDEX reading_vehicle ON reading (vehicle, taken);


ALTER TABLE job ADD COLUMN removed TEXT NOT NULL DEFAULT '';        -- when; empty: it was not
ALTER TABLE quote ADD COLUMN page BLOB NOT NULL DEFAULT (x'');      -- HTML as given to the customer, compressed; empty: none was

-- What became of a quote, one row for each step.
CREATE TABLE mark (
  id     INTEGER PRIMARY KEY AUTOINCREMENT,
  quote  INTEGER NOT NULL REFERENCES quote ON DELETE CASCADE,
  state  TEXT NOT NULL,              -- accepted, ordered, installed; offered: taken back
  marked TEXT NOT NULL
) STRICT;
CREATE INDEX mark_quote ON mark (quote, id);

-- How things were before an upload, so that it can be taken back.
CREATE TABLE upload (
  id     INTEGER PRIMARY KEY AUTOINCREMENT,
  name   TEXT NOT NULL,              -- of what was uploaded
  target TEXT NOT NULL,              -- the file of parts; empty: the prices of the book
  before BLOB,                       -- its content, or the rows as JSON, compressed; NULL: there was no file
  after  TEXT NOT NULL,              -- SHA-256 of the file afterwards; empty for prices
  taken  TEXT NOT NULL
) STRICT;

INSERT INTO job VALUES (1, 'Rosa''s sedan', 'Rosa', 'brief.yaml', '# for Rosa
name: Rosa''s sedan
cap: 250 USD
vehicle: small sedan
goal: reading
', '', '2025-05-09T12:00:00.000Z', '');
INSERT INTO attachment VALUES (1, 'vehicles.yaml', X'1F8B08000000000004FF000D00F2FF76656869636C65733A205B5D0A010000FFFFF3B669100D000000');
INSERT INTO catalogue VALUES ('6466101adc51b6d5a8a99b232eff98fb7b06239249e3bbb7ae9222b3dfbc0145', 1, X'1F8B08000000000004FF04C0C10D80200C40D17BA7F80B78D0636F8E42B08904520CADCEEF7BCACA50818DE8AF720A406F7E29A3B951A77FB6D2960044CEDA955D00EA5DDC6D8472C81F0000FFFF146C787048000000', '2025-05-09T12:00:00.000Z');
INSERT INTO quote VALUES (1, 1, '6466101adc51b6d5a8a99b232eff98fb7b06239249e3bbb7ae9222b3dfbc0145', 'reading', 131.25, 24995, 'USD', 'answer 1', X'1F8B08000000000004FF002F00D0FF7B226C6576656C223A203133312E3235302C0A09226F6464223A20202273706163696E67206973206B657074227D0A010000FFFF2431DB6D2F000000', X'1F8B08000000000004FF002700D8FF3133312064420A202068616C662061207061676509E280A6201B5B316D626F6C641B5B306D0D0A010000FFFFDF74908927000000', '2025-05-09T12:00:00.000Z', X'');
INSERT INTO quote_line VALUES (1, 0, 'TM-12V', 2, 0);
INSERT INTO quote_line VALUES (1, 1, 'HU-STOCK', 1, 1);
INSERT INTO price VALUES ('A', 'Dock Street', '2025-05-09', 3900, 'USD', 0, 'may.csv:2:1', '2025-05-09T12:00:00.000Z');
INSERT INTO reading VALUES (1, '2025-05-09T12:00:00.000Z', 'small sedan', 1, '', 'dash', 'shut', 46.0, 131.5, NULL, NULL, NULL, NULL, '');
INSERT INTO mark VALUES (1, 1, 'accepted', '2025-05-09T12:00:00.000Z');
INSERT INTO upload VALUES (1, 'may.csv', 'parts/may.yaml', X'1F8B08000000000004FF000A00F5FF70617274733A205B5D0A010000FFFFFC61B5E10A000000', 'x', '2025-05-09T12:00:00.000Z');

"""The tables of entries, as each migration adds them: keys by which all in a log is the same in every copy."""

ENTRIES = """
CREATE TABLE entry (
    entry INTEGER PRIMARY KEY,
    device INTEGER NOT NULL REFERENCES device,
    sequence INTEGER NOT NULL,
    at_us INTEGER NOT NULL,
    zone_minutes INTEGER NOT NULL,
    player INTEGER NOT NULL REFERENCES player,
    kind TEXT NOT NULL,
    row INTEGER NOT NULL,
    moment_us INTEGER NOT NULL,
    UNIQUE (device, sequence, at_us)
);
CREATE UNIQUE INDEX entry_of ON entry (kind, row);
CREATE INDEX entry_in_order ON entry (player, moment_us);
CREATE TABLE fact (
    fact INTEGER PRIMARY KEY,
    about TEXT NOT NULL,
    content TEXT NOT NULL
);
CREATE INDEX fact_by_about ON fact (about);
CREATE TABLE unread (
    unread INTEGER PRIMARY KEY,
    content TEXT NOT NULL
);
CREATE TABLE taken_in (
    name TEXT PRIMARY KEY,
    holds TEXT NOT NULL
) WITHOUT ROWID;
"""
"""What stands behind each row that is a thing of its own, the same in every copy of the log: by its device, the
device's own count and the time of its clock it is told from all others, wherever it lies. `kind` and `row` say what it
is: a take, a judgement, what the coach heard, a fact (something the player said, chose or met, as JSON), or `unread`, a
document that a newer program wrote or whose other part is not there yet; it becomes what it is once that is known.
`taken_in` names the files that were gathered, and how much of which device they hold.

Where it stands in time is its `moment_us`: the time of its clock, unless that clock was put right
(`practice_log.database.clock_order`). Everything is ordered by the moment, the device and its count, never by the
numbers of rows. Its day is the date that its moment has `zone_minutes` east of Greenwich.
"""

OLD_ENTRIES = """
CREATE TEMP TABLE old_entry AS
SELECT device, -1099511627776 + ROW_NUMBER() OVER (PARTITION BY device ORDER BY coach_event) AS sequence,
    at_utc AS at, player, 'coach' AS kind, coach_event AS row, take,
    CASE
        WHEN day > told THEN 60 * ((1440 * (day - told) - minute + 59) / 60)
        WHEN day < told THEN -60 * ((1440 * (told - day - 1) + minute + 60) / 60)
        ELSE 0
    END AS zone_minutes
FROM (
    SELECT *, CAST(julianday(substr(at_utc, 1, 10)) - 1721424.5 AS INTEGER) AS told,
        60 * CAST(substr(at_utc, 12, 2) AS INTEGER) + CAST(substr(at_utc, 15, 2) AS INTEGER) AS minute
    FROM coach_event
);
CREATE INDEX temp.old_entry_by_take ON old_entry (take);
CREATE INDEX temp.old_entry_by_time ON old_entry (device, at);
INSERT INTO old_entry
SELECT device, -2199023255552 + 64 * number, started_utc, player, 'take', take, NULL, COALESCE(
    (SELECT zone_minutes FROM old_entry AS heard WHERE heard.take = take.take),
    (
        SELECT zone_minutes FROM old_entry AS heard WHERE heard.device = take.device AND heard.at <= take.started_utc
        ORDER BY heard.at DESC LIMIT 1
    ),
    0
)
FROM take;
INSERT INTO old_entry
SELECT take.device, took.sequence + ROW_NUMBER() OVER (PARTITION BY judgement.take ORDER BY judgement),
    ended_utc, take.player, 'judgement', judgement, NULL, took.zone_minutes
FROM judgement JOIN take USING (take) JOIN old_entry AS took ON took.kind = 'take' AND took.row = take.take;
INSERT INTO entry (device, sequence, at_us, zone_minutes, player, kind, row, moment_us)
SELECT device, sequence, us, zone_minutes, player, kind, row, us FROM (
    SELECT *, CAST(strftime('%s', substr(at, 1, 19)) AS INTEGER) * 1000000 + CAST(substr(at, 21, 6) AS INTEGER) AS us
    FROM old_entry
) ORDER BY us, sequence;
DROP TABLE old_entry;
"""
"""The keys of what was in a log before: made of nothing but the log itself, so that every copy gives the same. Their
counts are negative, those of takes and their judgements before those of what the coach heard; their zone is the
nearest to Greenwich in which the day was the one that the coach was told.
"""


TUNES = """
CREATE TABLE take_tune (
    take INTEGER PRIMARY KEY REFERENCES take,
    tune TEXT NOT NULL
);
"""
"""Which tune the bars of a take are from, as facts about tunes known by ear call it; none in a take of an old log."""

BY_DEVICE = """
CREATE INDEX entry_by_device ON entry (player, device, moment_us, sequence, kind);
"""
"""So that it is told in moments how far each device goes (`queries.log_cut`)."""

"""The tables, as each migration adds them; those of entries stand in `entry_schema`.

Words are those of the program ("clean", "places"), fractions are text ("7/2"), times on the wall are UTC text of one
width, times within a take are microseconds (`_us`, as they came) or milliseconds (`_ms`, as they were judged).
What many takes share (the map, the bars, the notes asked) stands once. Triggers refuse every change of a fact.
"""

from game.practice_log.database.entry_schema import BY_DEVICE, ENTRIES, OLD_ENTRIES, TUNES

TAKES = """
CREATE TABLE device (
    device INTEGER PRIMARY KEY,
    uuid TEXT NOT NULL UNIQUE,
    name TEXT NOT NULL
);
CREATE TABLE player (
    player INTEGER PRIMARY KEY,
    uuid TEXT NOT NULL UNIQUE,
    name TEXT NOT NULL
);
CREATE TABLE bars (
    bars INTEGER PRIMARY KEY,
    passage_key TEXT NOT NULL,
    title TEXT NOT NULL,
    first TEXT NOT NULL,
    last TEXT NOT NULL,
    start INTEGER NOT NULL,
    stop INTEGER NOT NULL,
    UNIQUE (passage_key, title, first, last, start, stop)
);
CREATE TABLE neck_map (
    neck_map INTEGER PRIMARY KEY,
    position INTEGER NOT NULL,
    tuning TEXT NOT NULL,
    open_strings TEXT NOT NULL,
    frets INTEGER NOT NULL,
    reading TEXT NOT NULL,
    choices TEXT NOT NULL,
    UNIQUE (position, tuning, open_strings, frets, reading, choices)
);
CREATE TABLE asked (
    asked INTEGER PRIMARY KEY,
    digest TEXT NOT NULL UNIQUE,
    spans TEXT NOT NULL
);
CREATE TABLE asked_note (
    asked INTEGER NOT NULL REFERENCES asked,
    n INTEGER NOT NULL,
    bar TEXT NOT NULL,
    onset TEXT NOT NULL,
    length TEXT NOT NULL,
    written TEXT NOT NULL,
    sounding INTEGER NOT NULL,
    string INTEGER,
    fret INTEGER,
    reach TEXT,
    sign INTEGER,
    courtesy INTEGER NOT NULL,
    altered_by TEXT NOT NULL,
    signature INTEGER NOT NULL,
    heads TEXT NOT NULL,
    graces TEXT NOT NULL,
    PRIMARY KEY (asked, n)
) WITHOUT ROWID;
CREATE TABLE instrument (
    instrument INTEGER PRIMARY KEY,
    name TEXT NOT NULL,
    kind TEXT NOT NULL,
    UNIQUE (name, kind)
);
CREATE TABLE take (
    take INTEGER PRIMARY KEY,
    device INTEGER NOT NULL REFERENCES device,
    number INTEGER NOT NULL,
    player INTEGER NOT NULL REFERENCES player,
    started_utc TEXT NOT NULL,
    bars INTEGER NOT NULL REFERENCES bars,
    asked INTEGER NOT NULL REFERENCES asked,
    neck_map INTEGER NOT NULL REFERENCES neck_map,
    instrument INTEGER NOT NULL REFERENCES instrument,
    stage TEXT NOT NULL,
    pulse TEXT NOT NULL,
    tempo_bpm REAL,
    beat_length TEXT NOT NULL,
    swing REAL NOT NULL,
    waits INTEGER NOT NULL,
    wants_home INTEGER NOT NULL,
    pitch_counts INTEGER NOT NULL,
    window_ms REAL,
    settling INTEGER NOT NULL,
    sighting INTEGER NOT NULL,
    heard INTEGER NOT NULL,
    known_by_ear INTEGER,
    self_marked INTEGER NOT NULL,
    UNIQUE (device, number)
);
CREATE INDEX take_by_day ON take (player, started_utc);
CREATE INDEX take_by_bars ON take (bars, player);
CREATE TABLE source (
    source INTEGER PRIMARY KEY,
    name TEXT NOT NULL UNIQUE
);
CREATE TABLE played (
    take INTEGER NOT NULL REFERENCES take,
    i INTEGER NOT NULL,
    at_us INTEGER NOT NULL,
    sounding INTEGER NOT NULL,
    string INTEGER,
    fret INTEGER,
    velocity INTEGER NOT NULL,
    source INTEGER NOT NULL REFERENCES source,
    PRIMARY KEY (take, i)
) WITHOUT ROWID;
CREATE TABLE help (
    help INTEGER PRIMARY KEY,
    take INTEGER NOT NULL REFERENCES take,
    n INTEGER NOT NULL,
    step TEXT NOT NULL,
    at_us INTEGER NOT NULL
);
CREATE INDEX help_by_take ON help (take);
CREATE TABLE judgement (
    judgement INTEGER PRIMARY KEY,
    take INTEGER NOT NULL REFERENCES take,
    judge INTEGER NOT NULL,
    ended_utc TEXT NOT NULL,
    outcome TEXT NOT NULL
);
CREATE INDEX judgement_by_take ON judgement (take);
CREATE TABLE verdict (
    judgement INTEGER NOT NULL REFERENCES judgement,
    n INTEGER NOT NULL,
    verdict TEXT NOT NULL,
    cause TEXT,
    octave_off INTEGER NOT NULL,
    offset_ms REAL,
    time_to_find_ms REAL,
    PRIMARY KEY (judgement, n)
) WITHOUT ROWID;
CREATE TABLE answer (
    judgement INTEGER NOT NULL REFERENCES judgement,
    n INTEGER NOT NULL,
    k INTEGER NOT NULL,
    i INTEGER NOT NULL,
    sounding INTEGER NOT NULL,
    PRIMARY KEY (judgement, n, k)
) WITHOUT ROWID;
CREATE TABLE event (
    judgement INTEGER NOT NULL REFERENCES judgement,
    k INTEGER NOT NULL,
    kind TEXT NOT NULL,
    n INTEGER,
    time_ms REAL NOT NULL,
    PRIMARY KEY (judgement, k)
) WITHOUT ROWID;
"""

NAMES = """
CREATE TABLE name_given (
    name_given INTEGER PRIMARY KEY,
    take INTEGER NOT NULL REFERENCES take,
    n INTEGER NOT NULL,
    step TEXT,
    alter_by INTEGER,
    said_right INTEGER,
    at_us INTEGER NOT NULL
);
CREATE INDEX name_given_by_take ON name_given (take);
CREATE TABLE named (
    judgement INTEGER NOT NULL REFERENCES judgement,
    n INTEGER NOT NULL,
    verdict TEXT NOT NULL,
    cause TEXT,
    time_to_find_ms REAL,
    self_marked INTEGER NOT NULL,
    PRIMARY KEY (judgement, n)
) WITHOUT ROWID;
"""

COACH = """
CREATE TABLE coach_event (
    coach_event INTEGER PRIMARY KEY,
    player INTEGER NOT NULL REFERENCES player,
    device INTEGER NOT NULL REFERENCES device,
    at_utc TEXT NOT NULL,
    kind TEXT NOT NULL,
    passage TEXT NOT NULL,
    notes_per_beat REAL NOT NULL,
    usual_note_beats REAL NOT NULL,
    target_bpm INTEGER,
    day INTEGER NOT NULL,
    begin_at TEXT,
    wish TEXT,
    wish_bpm INTEGER,
    take INTEGER REFERENCES take
);
CREATE INDEX coach_event_by_player ON coach_event (player);
CREATE TABLE decision (
    coach_event INTEGER PRIMARY KEY REFERENCES coach_event,
    passage TEXT NOT NULL,
    offer TEXT NOT NULL,
    stage TEXT NOT NULL,
    pulse TEXT NOT NULL,
    tempo_bpm INTEGER,
    reason TEXT NOT NULL,
    settling INTEGER NOT NULL,
    earned TEXT NOT NULL,
    to_review TEXT NOT NULL
);
"""


REVISED = """
CREATE TABLE revised (
    revised INTEGER PRIMARY KEY,
    take INTEGER NOT NULL REFERENCES take,
    i INTEGER NOT NULL,
    at_us INTEGER,
    arrived_us INTEGER,
    sounding INTEGER,
    string INTEGER,
    fret INTEGER
);
CREATE INDEX revised_by_take ON revised (take);
"""
"""What a played note turned out to be: a slide arrived, a first guess was put right, or, all NULL, nobody played it."""

UNSURE = """
ALTER TABLE played ADD COLUMN sure INTEGER NOT NULL DEFAULT 1;
ALTER TABLE revised ADD COLUMN sure INTEGER NOT NULL DEFAULT 1;
"""
"""Whether a played note was heard surely, as it came and as it turned out: 0 only where a guitar was heard by its sound
and the note could have been something else. All notes of before are sure.
"""

STEPS = (
    ("takes", TAKES),
    ("names given", NAMES),
    ("coach", COACH),
    ("revised", REVISED),
    ("entries", ENTRIES + OLD_ENTRIES),
    ("tunes of takes", TUNES),
    ("entries by device", BY_DEVICE),
    ("notes heard unsurely", UNSURE),
)
"""Each migration by its name. The list is only ever added to: a new column is a step of its own, and the field of its
name in `rows.log_records`.
"""


def append_only_triggers(tables: str) -> str:
    """The triggers that refuse to change or delete a row of the tables a script creates."""
    names = [line.split()[2] for line in tables.splitlines() if line.startswith("CREATE TABLE ")]
    return "\n".join(
        f"CREATE TRIGGER {name}_no_{verb.split()[0].lower()} BEFORE {verb} ON {name}{_WHEN.get(name, '')}\n"
        f"BEGIN SELECT RAISE(ABORT, 'the practice log is only added to'); END;"
        for name in names
        if name not in _MAY_CHANGE
        for verb in (_UPDATES.get(name, "UPDATE"), "DELETE")
    )


_MAY_CHANGE = ("unread", "taken_in")
# Whose entry it is, and its moment, are found out anew when more is known.
_UPDATES = {"entry": "UPDATE OF device, sequence, at_us, zone_minutes, kind, row"}
_WHEN = {"entry": " WHEN OLD.kind <> 'unread'"}

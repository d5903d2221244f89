"""The tables of a gathered class: what the logs of its students come to, and which files that was made of.

The student comes first in every key, so that tables can be divided by student, and rows guarded by student, where a
database does that. Types and statements are those that SQLite and PostgreSQL have in common; `{id}` is an id of 16
bytes, by whatever name a database has it. Days are text such as "2026-03-14", the student's own; yes is 1, no is 0.
Numbers of takes, bars, passages and items mean something for one student only, and stay as they are once given.
"""

from game.judging.verdicts import COUNTS_AS_CLEAN, NOT_ASKED, Cause, Verdict

CLASS_VERSION = 2
"""Raised with every change of what is kept, or of how it is made: a file of before is made anew."""

VERDICTS = {
    Verdict.CLEAN: 1,
    Verdict.EARLY: 2,
    Verdict.LATE: 3,
    Verdict.WRONG_PITCH: 4,
    Verdict.OTHER_PLACE: 5,
    Verdict.MISSED: 6,
    Verdict.HINTED: 7,
    Verdict.UNREAD: 8,
    Verdict.UNSURE: 9,
}
CAUSES = {
    Cause.SIGNATURE: 1,
    Cause.ACCIDENTAL: 2,
    Cause.NEIGHBOUR: 3,
    Cause.LEDGER: 4,
    Cause.OCTAVE: 5,
    Cause.THIRD: 6,
    Cause.SLIP: 7,
    Cause.UNKNOWN: 8,
}
"""By which numbers they stand in `note`."""

RIGHT = ", ".join(str(VERDICTS[verdict]) for verdict in sorted(COUNTS_AS_CLEAN, key=VERDICTS.__getitem__))
NO_SHARE = ", ".join(str(VERDICTS[verdict]) for verdict in sorted(NOT_ASKED, key=VERDICTS.__getitem__))
"""The numbers of what counts as right, and of what is in no share, for statements."""

TABLES: dict[str, tuple[tuple[str, str], ...]] = {
    "student": (
        ("name", "TEXT NOT NULL"),
        ("named", "TEXT NOT NULL"),
    ),
    "same_player": (("player", "{id} NOT NULL"),),
    "delivery": (
        ("path", "TEXT NOT NULL"),
        ("size_bytes", "BIGINT NOT NULL"),
        ("changed_ns", "BIGINT NOT NULL"),
        ("digest", "TEXT NOT NULL"),
        ("players", "TEXT NOT NULL"),
        ("exported_utc", "TEXT NOT NULL"),
        ("entries", "INTEGER NOT NULL"),
        ("adds", "INTEGER NOT NULL"),
        ("said", "TEXT NOT NULL"),
    ),
    "bars": (
        ("bars", "INTEGER NOT NULL"),
        ("passage", "INTEGER NOT NULL"),
        ("title", "TEXT NOT NULL"),
        ("first", "TEXT NOT NULL"),
        ("last", "TEXT NOT NULL"),
        ("start_bar", "INTEGER NOT NULL"),
        ("stop_bar", "INTEGER NOT NULL"),
    ),
    "passage": (
        ("passage", "INTEGER NOT NULL"),
        ("passage_key", "TEXT NOT NULL"),
        ("title", "TEXT NOT NULL"),
        ("first", "TEXT NOT NULL"),
        ("last", "TEXT NOT NULL"),
        ("takes", "INTEGER NOT NULL"),
        ("first_day", "TEXT NOT NULL"),
        ("last_day", "TEXT NOT NULL"),
        ("newest_bpm", "DOUBLE PRECISION"),
        ("clean_bpm", "DOUBLE PRECISION"),
        ("target_bpm", "INTEGER"),
        ("read_day", "TEXT"),
    ),
    "mark": (
        ("passage", "INTEGER NOT NULL"),
        ("mark", "TEXT NOT NULL"),
        ("nth", "INTEGER NOT NULL"),
        ("day", "TEXT NOT NULL"),
    ),
    "take": (
        ("take", "INTEGER NOT NULL"),
        ("entry_key", "BIGINT NOT NULL"),
        ("judged_key", "BIGINT NOT NULL"),
        ("place", "INTEGER NOT NULL"),
        ("moment_us", "BIGINT NOT NULL"),
        ("day", "TEXT NOT NULL"),
        ("bars", "INTEGER NOT NULL"),
        ("passage", "INTEGER NOT NULL"),
        ("stage", "TEXT NOT NULL"),
        ("pulse", "TEXT NOT NULL"),
        ("tempo_bpm", "DOUBLE PRECISION"),
        ("minutes", "DOUBLE PRECISION NOT NULL"),
        ("reading", "SMALLINT NOT NULL"),
        ("sighting", "INTEGER NOT NULL"),
        ("heard", "SMALLINT NOT NULL"),
        ("known_by_ear", "SMALLINT NOT NULL"),
        ("self_marked", "SMALLINT NOT NULL"),
        ("outcome", "TEXT NOT NULL"),
        ("notes", "INTEGER NOT NULL"),
        ("clean", "INTEGER NOT NULL"),
        ("in_time", "INTEGER NOT NULL"),
        ("unsure", "INTEGER NOT NULL"),
        ("found", "INTEGER NOT NULL"),
        ("found_s", "DOUBLE PRECISION NOT NULL"),
        ("found_s2", "DOUBLE PRECISION NOT NULL"),
        ("clean_in_time", "SMALLINT NOT NULL"),
        ("octaves_down", "SMALLINT NOT NULL"),
    ),
    "item": (
        ("item", "INTEGER NOT NULL"),
        ("written", "TEXT NOT NULL"),
        ("sounding", "SMALLINT NOT NULL"),
        ("string", "SMALLINT"),
        ("fret", "SMALLINT"),
    ),
    "note": (
        ("take", "INTEGER NOT NULL"),
        ("n", "INTEGER NOT NULL"),
        ("item", "INTEGER NOT NULL"),
        ("verdict", "SMALLINT NOT NULL"),
        ("cause", "SMALLINT"),
        ("played", "SMALLINT"),
        ("offset_us", "INTEGER"),
        ("find_us", "INTEGER"),
        ("bar", "TEXT"),
    ),
    "day": (
        ("day", "TEXT NOT NULL"),
        ("minutes", "DOUBLE PRECISION NOT NULL"),
        ("takes", "INTEGER NOT NULL"),
        ("read", "INTEGER NOT NULL"),
        ("clean", "INTEGER NOT NULL"),
        ("found", "INTEGER NOT NULL"),
        ("found_s", "DOUBLE PRECISION NOT NULL"),
        ("found_s2", "DOUBLE PRECISION NOT NULL"),
        ("read_timed", "INTEGER NOT NULL"),
        ("clean_timed", "INTEGER NOT NULL"),
    ),
    "slow_note": (
        ("map", "INTEGER NOT NULL"),
        ("place", "INTEGER NOT NULL"),
        ("written", "TEXT NOT NULL"),
        ("sounding", "SMALLINT NOT NULL"),
        ("string", "SMALLINT NOT NULL"),
        ("fret", "SMALLINT NOT NULL"),
        ("find_s", "DOUBLE PRECISION NOT NULL"),
        ("cost_s", "DOUBLE PRECISION NOT NULL"),
        ("unsure", "SMALLINT NOT NULL"),
        ("shown", "TEXT NOT NULL"),
    ),
    "neck_map": (
        ("map", "INTEGER NOT NULL"),
        ("position", "INTEGER NOT NULL"),
        ("tuning", "TEXT NOT NULL"),
        ("open_strings", "TEXT NOT NULL"),
        ("frets", "INTEGER NOT NULL"),
        ("reading", "TEXT NOT NULL"),
        ("choices", "TEXT NOT NULL"),
    ),
    "held": (
        ("left_handed", "SMALLINT NOT NULL"),
        ("capo", "SMALLINT NOT NULL"),
    ),
    "marked_take": (
        ("nth", "INTEGER NOT NULL"),
        ("day", "TEXT NOT NULL"),
        ("content", "TEXT NOT NULL"),
    ),
    "assignment": (
        ("digest", "TEXT NOT NULL"),
        ("opened_us", "BIGINT NOT NULL"),
        ("title", "TEXT NOT NULL"),
        ("due", "TEXT NOT NULL"),
        ("words", "TEXT NOT NULL"),
    ),
    "set_part": (
        ("digest", "TEXT NOT NULL"),
        ("part", "INTEGER NOT NULL"),
        ("stage", "TEXT NOT NULL"),
        ("title", "TEXT NOT NULL"),
        ("due", "TEXT NOT NULL"),
        ("done_day", "TEXT"),
        ("set_in", "TEXT NOT NULL"),
        ("opened_day", "TEXT NOT NULL"),
        ("withdrawn", "SMALLINT NOT NULL"),
        ("first_bar", "INTEGER"),
        ("last_bar", "INTEGER"),
        ("level", "SMALLINT"),
        ("a_day", "SMALLINT"),
        ("target_bpm", "INTEGER"),
        ("steps", "INTEGER NOT NULL"),
        ("step_days", "TEXT NOT NULL"),
    ),
}
"""The columns of each table after the student's id. In `student`, `name` is what the student told, `named` what a list
of the class says (empty where none does). `delivery` is a file that was read: by which ids its player is known there,
how many entries are in it, how many of these in no file that was read before it, and what is to be said of it (messages
as JSON). `place` is where a take stands in the order of everything, `entry_key` tells it from all others, and
`judged_key` the judgement that stands. `found` and the like are as in the sums of the log; `clean_in_time` says whether
it was a clean take against the click. Of a note, `played` is the pitch that came first where it was wrong, `find_us`
how long it took to find, where that tells something. The first map of `slow_note` is the one played last. `set_part` is
a stage of a part of an assignment: see `class_writing.SetPart`.
"""

KEYS = {
    "student": (),
    "same_player": ("player",),
    "delivery": ("path",),
    "bars": ("bars",),
    "passage": ("passage",),
    "mark": ("passage", "mark"),
    "take": ("take",),
    "item": ("item",),
    "note": ("take", "n"),
    "day": ("day",),
    "slow_note": ("map", "place"),
    "neck_map": ("map",),
    "held": (),
    "marked_take": ("nth",),
    "assignment": ("digest",),
    "set_part": ("digest", "part", "stage"),
}
"""What tells a row of each table from others of the same student."""

REFUSED = "refused_file"
REFUSED_COLUMNS = (
    ("path", "TEXT NOT NULL PRIMARY KEY"),
    ("size_bytes", "BIGINT NOT NULL"),
    ("changed_ns", "BIGINT NOT NULL"),
    ("digest", "TEXT NOT NULL"),
    ("said", "TEXT NOT NULL"),
)
"""Files of which nobody knows whose they are, or that could not be read, and what is said of each."""

INDEXES = (
    "CREATE INDEX take_by_day ON take (student, day)",
    "CREATE UNIQUE INDEX take_by_entry ON take (student, entry_key)",
    "CREATE INDEX take_by_passage ON take (student, passage, place)",
    "CREATE INDEX same_player_by_player ON same_player (player)",
)


def table_statements(*, id_type: str, ending: str) -> tuple[str, ...]:
    """The statements that make the tables, empty. `id_type` is how the database calls an id of 16 bytes, `ending` what
    stands behind each table that is divided by student.
    """
    refused = f"CREATE TABLE {REFUSED} ({', '.join(f'{name} {kind}' for name, kind in REFUSED_COLUMNS)})"
    return (*student_tables(id_type=id_type, ending=ending), refused, *INDEXES)


def student_tables(*, id_type: str, ending: str) -> tuple[str, ...]:
    """Of these, those that make the tables that are divided by student, without what only finds rows sooner."""
    return tuple(
        f"CREATE TABLE {table} (student {id_type} NOT NULL, "
        + "".join(f"{name} {kind.format(id=id_type)}, " for name, kind in columns)
        + f"PRIMARY KEY ({', '.join(('student', *KEYS[table]))})){ending}"
        for table, columns in TABLES.items()
    )


def insert_statement(table: str, *, within: str = "") -> str:
    """The statement that adds a row, its values in the order of the columns, the student's id first; `within` an
    attached database.
    """
    names = ["student", *(name for name, _ in TABLES[table])]
    into = f"{within}.{table}" if within else table
    return f"INSERT INTO {into} ({', '.join(names)}) VALUES ({', '.join('?' * len(names))})"

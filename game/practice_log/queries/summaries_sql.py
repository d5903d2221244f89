"""The statements behind `game.practice_log.queries.summaries`."""

COUNTS_AS_CLEAN = "('clean', 'early', 'late')"
"""The right pitch at its home, as in the clean share (`game.judging.verdicts.COUNTS_AS_CLEAN`)."""

NOT_ASKED = "('unread', 'unsure')"
"""What is in no share (`game.judging.verdicts.NOT_ASKED`)."""

IS_RIGHT = f"(verdict.verdict = 'clean' OR verdict.verdict IN {COUNTS_AS_CLEAN})"
"""Whether a verdict counts as clean. Most are: to look for each in the list takes several times as long."""

EMPTY = (
    "DROP TABLE IF EXISTS summaries.take_sums",
    "DROP TABLE IF EXISTS summaries.day_sums",
    """
CREATE TABLE summaries.take_sums (
    position INTEGER PRIMARY KEY,
    take INTEGER NOT NULL,
    judgement INTEGER NOT NULL,
    bars INTEGER NOT NULL,
    asked INTEGER NOT NULL,
    stage TEXT NOT NULL,
    pulse TEXT NOT NULL,
    tempo_bpm REAL,
    day TEXT NOT NULL,
    minutes REAL NOT NULL,
    reading INTEGER NOT NULL,
    notes INTEGER NOT NULL,
    clean INTEGER NOT NULL,
    in_time INTEGER NOT NULL,
    unsure INTEGER NOT NULL,
    found INTEGER NOT NULL DEFAULT 0,
    found_s REAL NOT NULL DEFAULT 0,
    found_s2 REAL NOT NULL DEFAULT 0
)
""",
    "CREATE INDEX summaries.take_sums_by_day ON take_sums (day)",
    """
CREATE TABLE summaries.day_sums (
    day TEXT PRIMARY KEY,
    minutes REAL NOT NULL,
    takes INTEGER NOT NULL,
    read INTEGER NOT NULL,
    clean INTEGER NOT NULL,
    found INTEGER NOT NULL,
    found_s REAL NOT NULL,
    found_s2 REAL NOT NULL,
    read_timed INTEGER NOT NULL,
    clean_timed INTEGER NOT NULL
) WITHOUT ROWID
""",
)
"""Tables without a row, of takes (by their position in the order of everything) and of days. `reading` takes were met
at first sight; of their `notes`, `clean` were right, `in_time` of these in time, and `found` took `found_s` seconds to
find at the player's own pace, `found_s2` being the sum of their squares. `unsure` ones could not be told, and are none
of the notes. Of a day's `read` and `clean`, `read_timed` and `clean_timed` were against the click.
"""

_KEPT = """(
    SELECT COALESCE(MAX(position), 0) FROM summaries.sighting
    WHERE (moment_us, device, sequence, at_us) <= (:after_us, :after_device, :after_sequence, :after_at)
)"""
_UPTO = "(sighting.moment_us, sighting.device, sequence, at_us) <= (:upto_us, :upto_device, :upto_sequence, :upto_at)"

FORGET = (
    f"DELETE FROM summaries.day_sums WHERE day IN (SELECT day FROM summaries.take_sums WHERE position > {_KEPT})",
    f"DELETE FROM summaries.take_sums WHERE position > {_KEPT}",
)
"""What was made of takes after a position, and the days that lose some: they are made again of what is left."""

# A take that was judged again later has its end in its first judgement.
_ENDED = "(SELECT MIN(ended_utc) FROM judgement AS judged WHERE judged.take = take.take)"

# Notes without a home are few: it is quicker to look them up than every note's home.
_TAKES = f"""
WITH homeless AS MATERIALIZED (SELECT asked, n FROM asked_note WHERE string IS NULL)
INSERT INTO summaries.take_sums (
    position, take, judgement, bars, asked, stage, pulse, tempo_bpm, day, minutes, reading, notes, clean, in_time,
    unsure
)
SELECT sighting.position, take.take, judgement.judgement, take.bars, take.asked, take.stage, take.pulse, take.tempo_bpm,
    sighting.day,
    MIN(:most_minutes, MAX(0, (julianday({_ENDED}) - julianday(take.started_utc)) * 1440)),
    sighting.nth <= :sightings AND NOT sighting.heard AND NOT sighting.known
        AND take.stage NOT IN ('rhythm', 'letters'),
    COUNT(*) FILTER (WHERE verdict.verdict NOT IN {NOT_ASKED}),
    COUNT(*) FILTER (WHERE {IS_RIGHT}),
    COUNT(*) FILTER (WHERE verdict.verdict = 'clean'),
    COUNT(*) FILTER (WHERE verdict.verdict = 'unsure')
FROM summaries.sighting
CROSS JOIN take ON take.take = sighting.take
CROSS JOIN judgement ON judgement.judgement = sighting.judgement
LEFT JOIN verdict ON verdict.judgement = judgement.judgement AND (take.asked, verdict.n) NOT IN homeless
WHERE sighting.position > {_KEPT} AND {_UPTO}
GROUP BY sighting.position
"""

TELLS = """
note.string IS NOT NULL AND note.sounding <> (
    SELECT sounding FROM asked_note AS before WHERE before.asked = note.asked AND before.n = note.n - 1
)
"""
"""Notes asked whose time to find can tell something: the first note and repeated ones tell nothing."""

FOUND_SOON = f"verdict.time_to_find_ms <= :pause_ms AND {IS_RIGHT}"
FOUND = f"{FOUND_SOON} AND {TELLS}"
"""Times to find that tell something, as for the notes the coach knows (`coach.notes.note_reads`): of clean answers; the
first note, repeated notes and pauses left out. To be asked of `places` alone: elsewhere rhythm takes its time too."""

_PACE = f"""
UPDATE summaries.take_sums SET (found, found_s, found_s2) = (
    SELECT COUNT(*), COALESCE(SUM(verdict.time_to_find_ms) / 1e3, 0),
        COALESCE(SUM(verdict.time_to_find_ms * verdict.time_to_find_ms) / 1e6, 0)
    FROM verdict JOIN asked_note AS note ON note.asked = take_sums.asked AND note.n = verdict.n
    WHERE verdict.judgement = take_sums.judgement AND {FOUND}
)
WHERE reading AND stage = 'places' AND position > {_KEPT}
"""

_DAYS = f"""
INSERT OR REPLACE INTO summaries.day_sums
SELECT day, SUM(minutes), COUNT(*), SUM(CASE WHEN reading THEN notes ELSE 0 END),
    SUM(CASE WHEN reading THEN clean ELSE 0 END), SUM(found), SUM(found_s), SUM(found_s2),
    SUM(CASE WHEN reading AND tempo_bpm IS NOT NULL THEN notes ELSE 0 END),
    SUM(CASE WHEN reading AND tempo_bpm IS NOT NULL THEN clean ELSE 0 END)
FROM summaries.take_sums
WHERE day IN (SELECT day FROM summaries.take_sums WHERE position > {_KEPT}) OR day IN (
    SELECT day FROM summaries.take_sums EXCEPT SELECT day FROM summaries.day_sums
)
GROUP BY day
"""

ADD = (_TAKES, _PACE, _DAYS)
"""The takes after one position and up to another, and their days."""

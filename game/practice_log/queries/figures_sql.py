"""The statements behind `game.practice_log.queries.figures`.

All ask the sums of one player's takes (`summaries`), and go back to single verdicts
only for the weeks in question.
"""

from game.practice_log.queries.summaries_sql import COUNTS_AS_CLEAN, NOT_ASKED
from game.practice_log.queries.summaries_sql import FOUND as TELLS_SOMETHING

KEYS = ("passage_key", "passage")
CLEAN_TAKE = """
notes > 0 AND notes >= :heard_share * (notes + unsure) AND MIN(clean, in_time) >= :clean_share * notes
"""
"""Whether a row of the sums was a clean take, of which enough was heard."""

READ_ANEW = "COALESCE((SELECT value FROM json_each(:renamed) WHERE json_each.key = {key}), {key})"
"""The key of a passage as it is now, where its file was read anew since (`:renamed`, a JSON object of keys); it stands
for `{key_now[...]}` below.
"""

DAYS = """
SELECT day, minutes, takes, read, clean, found, found_s, found_s2, read_timed, clean_timed
FROM summaries.day_sums ORDER BY day
"""

NOTES_OF = """
SELECT written, string, fret, COUNT(*), SUM(is_right), sounding FROM ({notes}) AS seen
GROUP BY sounding, written, string, fret ORDER BY sounding, written, string, fret
"""
CAUSES_OF = """
SELECT written, string, fret, cause, COUNT(*) AS times FROM ({causes}) AS seen
GROUP BY written, string, fret, cause ORDER BY times DESC, cause
"""
MEDIANS_OF = """
SELECT written, string, fret, times, AVG(find_ms) / 1000
FROM (
    SELECT written, string, fret, find_ms,
        ROW_NUMBER() OVER (PARTITION BY written, string, fret ORDER BY find_ms) AS place,
        COUNT(*) OVER (PARTITION BY written, string, fret) AS times
    FROM ({found}) AS seen
) AS ranked
WHERE place IN ((times + 1) / 2, (times + 2) / 2)
GROUP BY written, string, fret, times
"""
WRONG_OF = """
WITH told AS MATERIALIZED ({wrong}),
faults AS (
    SELECT passage_key, bar, n, verdict, sounding, cause, COUNT(*) AS times, MAX(day) AS day, MAX(position) AS position
    FROM told GROUP BY passage_key, bar, n, verdict, sounding, cause
),
ranked AS (
    SELECT faults.*, SUM(times) OVER same AS in_all, MAX(day) OVER same AS last_day, MAX(position) OVER same AS newest,
        ROW_NUMBER() OVER (
            PARTITION BY passage_key, bar, n, verdict, sounding ORDER BY times DESC, position DESC
        ) AS nth
    FROM faults WINDOW same AS (PARTITION BY passage_key, bar, n, verdict, sounding)
)
SELECT ranked.last_day, told.title, told.bar, told.written, told.string, told.fret, told.verdict, told.sounding,
    told.cause, told.reading, ranked.in_all
FROM ranked JOIN told ON told.position = ranked.position AND told.n = ranked.n
WHERE ranked.nth = 1 ORDER BY ranked.in_all DESC, ranked.newest DESC, ranked.n LIMIT :most
"""
"""The same pitch in the place of the same note is one fault, of the cause that it had most often, and last where some
were as frequent: over whole takes the same fault may have been a slip here and misread there. It stands as it was last.

What is counted, and how, is the same for a log and for a gathered class: they differ in where single notes stand.
`{notes}` are `sounding, written, string, fret, is_right`, `{causes}` the home and the cause, `{found}` the home and
`find_ms`, `{wrong}` the columns asked for.
"""

_READ = """
FROM summaries.take_sums AS take_figures
JOIN verdict USING (judgement)
JOIN asked_note AS note ON note.asked = take_figures.asked AND note.n = verdict.n
WHERE take_figures.reading AND take_figures.day > :after AND take_figures.day <= :until
"""
NOTES = NOTES_OF.format(
    notes=f"""
SELECT note.sounding, note.written, note.string, note.fret,
    CASE WHEN verdict.verdict IN {COUNTS_AS_CLEAN} THEN 1 ELSE 0 END AS is_right
{_READ} AND note.string IS NOT NULL AND verdict.verdict NOT IN {NOT_ASKED}
"""
)
CAUSES = CAUSES_OF.format(
    causes=f"""
SELECT note.written, note.string, note.fret, verdict.cause {_READ}
    AND note.string IS NOT NULL AND verdict.cause IS NOT NULL
"""
)
MEDIANS = MEDIANS_OF.format(
    found=f"""
SELECT note.written, note.string, note.fret, verdict.time_to_find_ms AS find_ms {_READ}
    AND take_figures.stage = 'places' AND {TELLS_SOMETHING}
"""
)
"""Times to find are of what was truly read without a click."""

FIRST_SIGHTS = """
SELECT take_figures.day, bars.title, take_figures.stage, take_figures.notes, take_figures.clean
FROM summaries.take_sums AS take_figures
JOIN summaries.sighting USING (position)
JOIN bars ON bars.bars = take_figures.bars
WHERE take_figures.reading AND sighting.nth = 1 AND take_figures.notes > 0
    AND take_figures.notes >= :heard_share * (take_figures.notes + take_figures.unsure)
ORDER BY position DESC LIMIT :most
"""
"""Takes of bars that were met for the first time, the newest first."""

SIGNED = """
SELECT mark.day, bars.title, bars.first, bars.last, take_figures.tempo_bpm, heard.notes_per_beat
FROM summaries.mark
JOIN coach_event AS heard ON heard.passage = mark.passage
JOIN summaries.take_sums AS take_figures ON take_figures.take = heard.take
JOIN bars ON bars.bars = take_figures.bars
WHERE mark.mark = 'signed off' AND take_figures.day = mark.day AND take_figures.stage = 'time'
    AND take_figures.tempo_bpm IS NOT NULL AND take_figures.notes > 0
    AND take_figures.notes >= :heard_share * (take_figures.notes + take_figures.unsure)
    AND MIN(take_figures.clean, take_figures.in_time) >= :clean_share * take_figures.notes
ORDER BY mark.number
"""
"""The clean takes of the days on which passages were signed off, in that order."""

NEWEST_MARKED = """
SELECT {key_now[passage]} AS key_now FROM summaries.mark
WHERE mark <> :read GROUP BY key_now ORDER BY MAX(number) DESC LIMIT :most
"""

PASSAGES = """
WITH which AS MATERIALIZED (
    SELECT bars, key_now AS passage_key, title, first, last
    FROM (SELECT *, {key_now[passage_key]} AS key_now FROM bars)
    WHERE :keys IS NULL OR key_now IN (SELECT value FROM json_each(:keys))
),
mine AS MATERIALIZED (SELECT * FROM summaries.take_sums JOIN which USING (bars)),
timed AS (
    SELECT passage_key, MAX(
        CASE WHEN {clean_take} THEN tempo_bpm END
    ) AS clean_bpm
    FROM mine WHERE stage IN ('time', 'sight') AND tempo_bpm IS NOT NULL GROUP BY passage_key
),
newest AS (
    SELECT passage_key, tempo_bpm, MAX(position)
    FROM mine WHERE stage IN ('time', 'sight') AND tempo_bpm IS NOT NULL GROUP BY passage_key
),
aim AS (
    SELECT key_now AS passage, target_bpm, MAX(entry.moment_us)
    FROM (SELECT *, {key_now[passage]} AS key_now FROM coach_event) AS heard
    CROSS JOIN entry ON entry.kind = 'coach' AND entry.row = heard.coach_event
    WHERE key_now IN (SELECT passage_key FROM which) GROUP BY key_now
)
SELECT mine.passage_key, mine.title, mine.first, mine.last, COUNT(*), MIN(day), MAX(day), MAX(position),
    newest.tempo_bpm, timed.clean_bpm, aim.target_bpm
FROM mine
LEFT JOIN timed USING (passage_key)
LEFT JOIN newest USING (passage_key)
LEFT JOIN aim ON aim.passage = mine.passage_key
GROUP BY mine.passage_key ORDER BY MAX(position) DESC
"""
"""Of all passages, or (`:keys`, JSON) of a few."""

MARKS = """
SELECT {key_now[passage]} AS key_now, mark, day, MIN(number) FROM summaries.mark
WHERE :keys IS NULL OR key_now IN (SELECT value FROM json_each(:keys))
GROUP BY key_now, mark ORDER BY MIN(number)
"""

WRONG = WRONG_OF.format(
    wrong="""
    SELECT {key_now[passage_key]} AS passage_key, note.n, take_figures.day, take_figures.position, bars.title, note.bar,
        note.written, note.string, note.fret, verdict.verdict, answer.sounding, verdict.cause, neck_map.reading
    FROM summaries.take_sums AS take_figures
    JOIN take USING (take)
    JOIN neck_map USING (neck_map)
    JOIN bars ON bars.bars = take_figures.bars
    JOIN verdict USING (judgement)
    JOIN asked_note AS note ON note.asked = take_figures.asked AND note.n = verdict.n
    LEFT JOIN answer ON answer.judgement = verdict.judgement AND answer.n = verdict.n AND answer.k = 1
    WHERE take_figures.stage <> 'rhythm' AND note.string IS NOT NULL
        AND verdict.verdict IN ('wrong pitch', 'other place', 'missed')
        AND take_figures.day > :after AND take_figures.day <= :until
"""
)

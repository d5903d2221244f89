"""The statements behind `game.practice_log.figures`.

The first goes once through all verdicts and leaves a row for each take in a temporary table, `take_figures`; all
others ask that table, and go back to single verdicts only for the weeks in question.
"""

COUNTS_AS_CLEAN = "('clean', 'early', 'late')"
"""The right pitch at its home, as in the clean share (`game.judging.verdicts.COUNTS_AS_CLEAN`)."""

HOMELESS = """
CREATE TEMP TABLE homeless (asked INTEGER, n INTEGER, PRIMARY KEY (asked, n)) WITHOUT ROWID
"""
"""Notes without a home are few: it is quicker to look them up than every note's home."""

FILL_HOMELESS = "INSERT INTO homeless SELECT asked, n FROM asked_note WHERE string IS NULL"

TAKE_FIGURES = f"""
CREATE TEMP TABLE take_figures AS
SELECT take.take, judgement.judgement, take.bars, take.asked, take.stage, take.pulse, take.tempo_bpm,
    date(take.started_utc, :zone) AS day,
    MIN(:most_minutes, MAX(0, (julianday(judgement.ended_utc) - julianday(take.started_utc)) * 1440)) AS minutes,
    take.sighting <= :sightings AND NOT take.heard AND COALESCE(take.known_by_ear, 0) = 0
        AND take.stage NOT IN ('rhythm', 'letters') AS reading,
    COUNT(CASE WHEN homeless.n IS NULL AND verdict.verdict <> 'unread' THEN 1 END) AS notes,
    COUNT(CASE WHEN homeless.n IS NULL AND verdict.verdict IN {COUNTS_AS_CLEAN} THEN 1 END) AS clean
FROM take
JOIN judgement ON judgement.judgement = (
    SELECT MAX(latest.judgement) FROM judgement AS latest WHERE latest.take = take.take
)
LEFT JOIN verdict ON verdict.judgement = judgement.judgement
LEFT JOIN homeless ON homeless.asked = take.asked AND homeless.n = verdict.n
WHERE +take.player = (SELECT player FROM player WHERE uuid = :player)
GROUP BY take.take
"""
"""Gone through in the order of the takes (`+` keeps the index of days out of it), so that nothing needs sorting."""

FOUND = """
CREATE TEMP VIEW found AS
SELECT take_figures.day, note.written, note.string, note.fret, verdict.time_to_find_ms
FROM take_figures
JOIN verdict USING (judgement)
JOIN asked_note AS note ON note.asked = take_figures.asked AND note.n = verdict.n
WHERE take_figures.reading AND take_figures.pulse = 'free' AND note.string IS NOT NULL
    AND verdict.time_to_find_ms <= 1000 * {pause_s} AND verdict.verdict <> 'hinted'
    AND note.sounding IS NOT (
        SELECT sounding FROM asked_note AS before WHERE before.asked = note.asked AND before.n = note.n - 1
    )
"""
"""Times to find that tell something: what was truly read without a click; repeated notes, pauses and notes found
with help left out, as the coach does."""

DAYS = """
WITH pace AS (
    SELECT day, COUNT(*) AS found, SUM(time_to_find_ms) / 1000 AS found_s FROM found GROUP BY day
)
SELECT take_figures.day, SUM(minutes), COUNT(*),
    SUM(CASE WHEN reading THEN notes ELSE 0 END), SUM(CASE WHEN reading THEN clean ELSE 0 END),
    COALESCE(pace.found, 0), COALESCE(pace.found_s, 0.0)
FROM take_figures LEFT JOIN pace USING (day)
GROUP BY take_figures.day ORDER BY take_figures.day
"""

NOTES = f"""
SELECT note.written, note.string, note.fret, COUNT(*),
    COUNT(CASE WHEN verdict.verdict IN {COUNTS_AS_CLEAN} THEN 1 END)
FROM take_figures
JOIN verdict USING (judgement)
JOIN asked_note AS note ON note.asked = take_figures.asked AND note.n = verdict.n
WHERE take_figures.reading AND note.string IS NOT NULL AND verdict.verdict <> 'unread'
    AND take_figures.day > :after AND take_figures.day <= :until
GROUP BY note.sounding, note.written, note.string, note.fret ORDER BY note.sounding, note.written
"""

CAUSES = """
SELECT note.written, note.string, note.fret, verdict.cause, COUNT(*) AS times
FROM take_figures
JOIN verdict USING (judgement)
JOIN asked_note AS note ON note.asked = take_figures.asked AND note.n = verdict.n
WHERE take_figures.reading AND note.string IS NOT NULL AND verdict.cause IS NOT NULL
    AND take_figures.day > :after AND take_figures.day <= :until
GROUP BY note.written, note.string, note.fret, verdict.cause ORDER BY times DESC, verdict.cause
"""

MEDIANS = """
WITH ranked AS (
    SELECT written, string, fret, time_to_find_ms,
        ROW_NUMBER() OVER (PARTITION BY written, string, fret ORDER BY time_to_find_ms) AS place,
        COUNT(*) OVER (PARTITION BY written, string, fret) AS times
    FROM found WHERE day > :after AND day <= :until
)
SELECT written, string, fret, times, AVG(time_to_find_ms) / 1000
FROM ranked WHERE place IN ((times + 1) / 2, (times + 2) / 2)
GROUP BY written, string, fret
"""

PASSAGES = """
WITH timed AS (
    SELECT bars.passage_key,
        MAX(CASE WHEN notes > 0 AND clean >= :clean_share * notes THEN tempo_bpm END) AS clean_bpm
    FROM take_figures JOIN bars USING (bars)
    WHERE stage IN ('time', 'sight') AND tempo_bpm IS NOT NULL
    GROUP BY bars.passage_key
),
newest AS (
    SELECT bars.passage_key, tempo_bpm, MAX(take_figures.take)
    FROM take_figures JOIN bars USING (bars)
    WHERE stage IN ('time', 'sight') AND tempo_bpm IS NOT NULL
    GROUP BY bars.passage_key
),
aim AS (SELECT passage, target_bpm, MAX(coach_event) FROM coach_event GROUP BY passage)
SELECT bars.passage_key, bars.title, bars.first, bars.last, COUNT(*), MIN(day), MAX(day), MAX(take_figures.take),
    newest.tempo_bpm, timed.clean_bpm, aim.target_bpm
FROM take_figures
JOIN bars USING (bars)
LEFT JOIN timed USING (passage_key)
LEFT JOIN newest USING (passage_key)
LEFT JOIN aim ON aim.passage = bars.passage_key
GROUP BY bars.passage_key ORDER BY MAX(take_figures.take) DESC
"""

MARKS = """
SELECT coach_event.passage, mark.value, MIN(date(coach_event.at_utc, :zone))
FROM coach_event JOIN decision USING (coach_event), json_each(decision.earned) AS mark
WHERE coach_event.player = (SELECT player FROM player WHERE uuid = :player) AND decision.earned <> '[]'
GROUP BY coach_event.passage, mark.value ORDER BY MIN(coach_event.coach_event)
"""

WRONG = """
SELECT MAX(take_figures.day), bars.title, note.bar, note.written, note.string, note.fret, verdict.verdict,
    answer.sounding, verdict.cause, neck_map.reading, COUNT(*) AS times
FROM take_figures
JOIN take USING (take)
JOIN neck_map USING (neck_map)
JOIN bars ON bars.bars = take_figures.bars
JOIN verdict USING (judgement)
JOIN asked_note AS note ON note.asked = take_figures.asked AND note.n = verdict.n
LEFT JOIN answer ON answer.judgement = verdict.judgement AND answer.n = verdict.n AND answer.k = 1
WHERE take_figures.stage <> 'rhythm' AND note.string IS NOT NULL
    AND verdict.verdict IN ('wrong pitch', 'other place', 'missed')
    AND take_figures.day > :after AND take_figures.day <= :until
GROUP BY bars.passage_key, note.bar, note.n, verdict.verdict, answer.sounding, verdict.cause
ORDER BY times DESC, MAX(take_figures.take) DESC, note.n LIMIT :most
"""

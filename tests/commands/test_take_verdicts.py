"""A judged take, as a command tells it."""

import pytest

from game.commands.answers.take_answer import TakeSummary
from game.commands.take_verdicts import judged_fields, print_judged
from game.instrument.decoding.played import PlayedNote
from game.judging.expected import expected_notes
from game.judging.untimed import judge_untimed
from game.judging.verdicts import EventKind, Judgement, NoteVerdict, TakeEvent, Verdict
from game.message import message
from game.neck.neck_map import standard_map
from tests.made import passage

NECK_MAP = standard_map()
EXPECTED = expected_notes(passage("F4 q, G4 q, A4 q, Bb4 q", key=-1).notes, NECK_MAP)


def played(*soundings):
    """Each at its home, a second apart."""
    return [
        PlayedNote(started_s=float(number), sounding=sounding, place=NECK_MAP.home_of(sounding).place)
        for number, sounding in enumerate(soundings)
    ]


def judged(*soundings):
    return judge_untimed(EXPECTED, played(*soundings))


def test_each_note_has_its_verdict_and_the_summary_counts_them():
    told = judged_fields(judged(53, 55, 57, 58), EXPECTED, judge=4)
    assert told["judge_version"] == 4
    assert [(one.n, one.verdict.value, one.played, one.tries) for one in told["verdicts"]] == [
        (1, "clean", 53, 1), (2, "clean", 55, 1), (3, "clean", 57, 1), (4, "clean", 58, 1),
    ]  # fmt: skip
    summary = told["summary"]
    assert isinstance(summary, TakeSummary)
    assert (summary.clean, summary.wrong_pitch, summary.clean_share, summary.kept_going) == (4, 0, 1.0, True)
    assert (summary.bias_ms, summary.spread_ms) == (None, None)


def test_people_see_a_table_the_share_and_what_there_is_to_warn_of(capsys):
    print_judged(judged(53, 54, 55, 57, 58), EXPECTED, [message("command.take.nothing_heard")])
    out = capsys.readouterr().out.splitlines()
    assert out[0].split() == "n verdict played string fret cause tries time_to_find_ms".split()
    assert any("wrong pitch" in line for line in out)
    assert "Clean: 75% of the notes with a home that were read." in out
    assert out[-1].startswith("Nothing was heard")


def test_of_a_take_in_which_nothing_was_read_that_is_said(capsys):
    print_judged(judge_untimed(EXPECTED, []), EXPECTED, [])
    assert capsys.readouterr().out.splitlines()[-1] == "Nothing was read."


def test_people_are_told_right_notes_and_time_apart_and_what_happened_on_the_way(capsys):
    verdicts = tuple(
        NoteVerdict(n=n, verdict=word, offset_ms=offset_ms)
        for n, (word, offset_ms) in enumerate(
            ((Verdict.CLEAN, 0.0), (Verdict.LATE, 300.0), (Verdict.EARLY, -300.0), (Verdict.MISSED, None)), start=1
        )
    )
    events = (TakeEvent(kind=EventKind.STOP, n=2, time_ms=0.0), TakeEvent(kind=EventKind.FELL_BEHIND, n=2, time_ms=0.0))
    print_judged(Judgement(verdicts=verdicts, events=events), EXPECTED, [])
    assert capsys.readouterr().out.splitlines()[-3:] == [
        "Right: 3 of 4 notes with a home that were read.",
        "In time: 1 of them.",
        "On the way: stopped at note 2; fell behind at note 2.",
    ]


@pytest.mark.parametrize(("percent", "said"), [(-3.0, "3.1 in a hundred faster"), (3.0, "2.9 in a hundred slower")])
def test_people_are_told_the_players_own_pulse(capsys, percent, said):
    line = passage(*["F4 q, G4 q, A4 q, Bb4 q"] * 4)
    expected = expected_notes(line.notes, standard_map())
    verdicts = []
    for n, note in enumerate(expected, start=1):
        offset_ms = (n - 1) * 750 * percent / 100
        note_played = PlayedNote(
            started_s=((n - 1) * 750 + offset_ms) / 1000, sounding=note.sounding, place=note.home.place
        )
        verdicts.append(NoteVerdict(n=n, verdict=Verdict.CLEAN, offset_ms=offset_ms, answers=(note_played,)))
    print_judged(Judgement(verdicts=tuple(verdicts)), expected, [])
    assert f"Own pulse: {said} than the click." in capsys.readouterr().out


def test_of_free_reading_right_notes_are_told_wherever_they_were_taken(capsys):
    """None of its notes has a home, and all that the neck has are asked."""
    expected = expected_notes(passage("F4 q, G4 q, A4 q, Bb4 q", key=-1).notes, NECK_MAP.without_homes)
    words = (Verdict.CLEAN, Verdict.LATE, Verdict.EARLY, Verdict.MISSED)
    verdicts = tuple(NoteVerdict(n=n, verdict=word, offset_ms=0.0) for n, word in enumerate(words, start=1))
    print_judged(Judgement(verdicts=verdicts), expected, [], free_on=NECK_MAP)
    assert "Right: 3 of 4 notes that were read, in any place." in capsys.readouterr().out
    told = judged_fields(Judgement(verdicts=verdicts), expected, judge=2, free_on=NECK_MAP)
    assert told["summary"].clean_share == 0.75

"""What is said of the time of a take is true of its judgement, and nothing else is said."""

import re
from statistics import pstdev

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from game.coach.stages import Stage
from game.instrument.decoding.played import PlayedNote
from game.judging.expected import expected_notes
from game.judging.verdicts import COUNTS_AS_CLEAN, EventKind, Judgement, NoteVerdict, TakeEvent, Verdict
from game.music.names import NoteNames
from game.neck.neck_map import standard_map
from game.practice.finished_take import FinishedTake, ShownOtherwise
from game.practice.take_counts import counts_of
from game.screens.reading.counts_in_words import counts_in_words
from game.screens.reading.result_words import result_words
from game.screens.reading.take_in_words import marks_of_finished
from game.screens.reading.time_in_words import timing_in_words
from game.text.catalogue import catalogue_in, choose, say
from tests.made import passage
from tests.sampling import how_many

LINE = passage(*["F4 q, G4 q, A4 q, G4 q"] * 4)
EXPECTED = expected_notes(LINE.notes, standard_map())
QUARTER_MS = 750.0
TIMED = (Verdict.CLEAN, Verdict.EARLY, Verdict.LATE)


def _verdict(n: int, word: Verdict, offset_ms: float | None) -> NoteVerdict:
    if word not in TIMED:
        return NoteVerdict(n=n, verdict=word)
    played = PlayedNote(started_s=((n - 1) * QUARTER_MS + (offset_ms or 0.0)) / 1000, sounding=53, place=None)
    return NoteVerdict(n=n, verdict=word, offset_ms=offset_ms, answers=(played,))


def made(words, offsets_ms, events=(), *, stage=Stage.TIME, tempo_bpm=80, **more) -> FinishedTake:
    """A take of four bars of quarters at 80: verdicts and offsets note by note, and events by note."""
    verdicts = tuple(
        _verdict(n, word, offset) for n, (word, offset) in enumerate(zip(words, offsets_ms, strict=True), start=1)
    )
    told = tuple(TakeEvent(kind=kind, n=n, time_ms=n * QUARTER_MS) for kind, n in events)
    judgement = Judgement(verdicts=verdicts, events=told)
    return FinishedTake(passage=LINE, expected=EXPECTED, judgement=judgement, stage=stage, tempo_bpm=tempo_bpm, **more)


def steady(offset_ms=0.0, **more) -> FinishedTake:
    return made([Verdict.CLEAN] * 16, [offset_ms] * 16, **more)


def drifting(percent: float, kind: EventKind) -> FinishedTake:
    """Off by so much a note, negative ahead; out of its tolerance after a tenth of a second."""
    offsets = [n * QUARTER_MS * percent / 100 for n in range(16)]
    late = Verdict.LATE if percent > 0 else Verdict.EARLY
    return made([late if abs(offset) > 100 else Verdict.CLEAN for offset in offsets], offsets, [(kind, 6)])


def test_who_ran_ahead_is_told_by_how_much_and_no_note_is_called_wrong():
    take = drifting(-3, EventKind.RAN_AHEAD)
    assert counts_of(take).right == 16
    assert timing_in_words(take) == ("Five of them in time: you ran ahead, three in a hundred.", "You kept going.")


def test_who_fell_behind_is_told_by_how_much():
    assert timing_in_words(drifting(3, EventKind.FELL_BEHIND))[0].endswith(": you fell behind, three in a hundred.")


def test_a_beat_lost_at_once_is_told_with_its_bar_and_the_stop_with_it():
    take = steady(events=[(EventKind.STOP, 9), (EventKind.FELL_BEHIND, 9)])
    assert timing_in_words(take) == (
        "All 16 in time, but you fell a beat behind in bar 3.",
        "You stopped in bar 3: keeping going is what a reader learns.",
    )


def test_where_the_pace_cannot_be_put_in_figures_the_bar_is_told():
    assert (
        timing_in_words(steady(events=[(EventKind.RAN_AHEAD, 5)]))[0] == "All 16 in time, but you ran ahead in bar 2."
    )


def test_two_notes_in_time_are_both_of_them():
    take = made([Verdict.CLEAN] * 2 + [Verdict.MISSED] * 14, [0.0] * 16)
    assert timing_in_words(take)[0].startswith("Both in time")


def test_who_ran_ahead_and_fell_behind_is_told_both():
    take = steady(events=[(EventKind.FELL_BEHIND, 2), (EventKind.RAN_AHEAD, 10)])
    assert timing_in_words(take)[0] == "All 16 in time, but you ran ahead in bar 3 and fell behind in bar 1."


def test_three_hundred_milliseconds_early_is_not_in_time():
    take = made([Verdict.EARLY] * 16, [-300.0] * 16)
    assert counts_of(take).right == 16
    assert timing_in_words(take)[0] == "None of them in time: you lean early."


def test_in_rhythm_notes_are_played_and_not_right():
    counts = counts_in_words(counts_of(steady(stage=Stage.RHYTHM)), Stage.RHYTHM)
    assert [count.what.key for count in counts] == ["count.played", "count.played_in_time", "count.kept_going"]


def test_without_a_clock_nothing_is_said_of_time():
    take = made([Verdict.CLEAN] * 16, [None] * 16, stage=Stage.PLACES, tempo_bpm=None)
    said = result_words(take, "", NoteNames.ENGLISH)
    assert [count.what.key for count in said.counts] == ["count.right"]
    assert (said.why, said.beside) == ("All 16 at their homes.", ())


def test_what_the_page_said_otherwise_while_it_was_played_is_told():
    assert timing_in_words(steady(shown_otherwise=ShownOtherwise(right=2, wrong=1)))[2:] == (
        "While you played, the page took two notes for wrong that were right.",
        "While you played, the page took one note for right that was not.",
    )


def test_where_the_player_left_the_click_the_page_has_a_word_at_the_note():
    marks = marks_of_finished(drifting(-3, EventKind.RAN_AHEAD), NoteNames.ENGLISH)
    (word,) = [mark for mark in marks if getattr(mark.mark, "text", "") == say("page.ran_ahead")]
    assert word.head == EXPECTED[5].note.heads[0]


def test_in_german_the_same_is_said():
    choose(catalogue_in("de"))
    try:
        said = timing_in_words(drifting(-3, EventKind.RAN_AHEAD))
        behind = timing_in_words(steady(events=[(EventKind.STOP, 9), (EventKind.FELL_BEHIND, 9)]))
    finally:
        choose(catalogue_in("en"))
    assert said == (
        "Fünf davon im Takt: du bist vorausgeeilt, um drei von hundert.",
        "Du bist drangeblieben.",
    )
    assert behind == (
        "Alle 16 im Takt, aber du bist in Takt 3 um einen Schlag zurückgefallen.",
        "Du hast in Takt 3 angehalten: beim Lesen lernst du weiterzuspielen.",
    )


NUMBERS = {word: number for number, word in enumerate(catalogue_in("en")._number_words)} | {"none": 0}
WORDS = st.lists(
    st.sampled_from([*TIMED, Verdict.CLEAN, Verdict.WRONG_PITCH, Verdict.MISSED]), min_size=16, max_size=16
)
OFFSETS = st.one_of(
    st.lists(st.floats(-250, 250), min_size=16, max_size=16),
    st.floats(-5, 5).map(lambda percent: [n * QUARTER_MS * percent / 100 for n in range(16)]),
    st.floats(-120, 120).map(lambda lean: [lean] * 16),
)
EVENTS = st.lists(st.tuples(st.sampled_from(list(EventKind)), st.integers(1, 16)), max_size=3)


def number(word: str) -> int:
    return NUMBERS[word.lower()] if word.lower() in NUMBERS else int(word)


@settings(max_examples=how_many(2000, by_default=100), deadline=None)
@given(WORDS, OFFSETS, EVENTS)
def test_each_claim_follows_from_the_judgement(words, offsets_ms, events):
    """Asked, right and in time are counted here anew, from the verdicts alone."""
    take = made(words, offsets_ms, sorted(events, key=lambda event: event[1]))
    said = " ".join(timing_in_words(take))
    right = sum(word in COUNTS_AS_CLEAN for word in words)
    in_time = words.count(Verdict.CLEAN)
    kinds = {kind for kind, _ in events}
    counts = counts_of(take)
    assert (counts.right, counts.in_time, counts.asked) == (right, in_time, 16)
    if match := re.search(r"(\w+) of them in time", said):
        assert number(match[1]) == in_time < right
    else:
        assert (in_time == right) == bool(right) or "in time" not in said
    assert ("You kept going." in said) == (not kinds - {EventKind.RAN_AHEAD, EventKind.FELL_BEHIND})
    assert ("You stopped" in said) <= (EventKind.STOP in kinds)
    assert ("You went back" in said) <= (EventKind.RESTART in kinds)
    assert ("left something out" in said) <= (EventKind.SKIP in kinds)
    assert ("ran ahead" in said) <= (EventKind.RAN_AHEAD in kinds)
    assert ("fell behind" in said) <= (EventKind.FELL_BEHIND in kinds)
    lost = {n for kind, n in events if kind is EventKind.STOP} & {
        n for kind, n in events if kind is EventKind.FELL_BEHIND
    }
    assert ("a beat behind" in said) <= bool(lost)
    if match := re.search(r"(ran ahead|fell behind), (\w+) in a hundred", said):
        own = take.summary.ahead_percent or 0.0
        assert round(own if match[1] == "ran ahead" else -own) == number(match[2]) > 0
    played = [offset for word, offset in zip(words, offsets_ms, strict=True) if word in TIMED]
    assert ("a steady beat" in said) <= (bool(played) and pstdev(played) <= 35)
    assert len([sentence for sentence in said.split(". ") if "in time" in sentence]) <= 1


@pytest.mark.parametrize(
    ("kind", "said"),
    [
        (EventKind.RESTART, "You went back to bar 2: keeping going is what a reader learns."),
        (EventKind.SKIP, "You left something out before going on in bar 2."),
        (EventKind.REPAIR, "You put one note right, in bar 2: while you read, let a slip go by."),
    ],
)
def test_what_broke_the_flow_is_told_with_its_bar(kind, said):
    assert timing_in_words(steady(events=[(kind, 5)]))[1] == said


def test_several_stops_are_counted():
    take = steady(events=[(EventKind.STOP, 5), (EventKind.STOP, 9)])
    assert timing_in_words(take)[1] == "You stopped two times, first in bar 2: keeping going is what a reader learns."

"""A take against the count-in, played into the game by another process: it has the lean it was played with.

A busy computer may send a note late, and begin the count-in late. So the lean is that of the moments at which notes
were handed to JACK, and where the music's time 0 lies is told by marks, notes that mean nothing, in the count-in.
The log keeps when they came, counted from time 0, and the sender when it sent them.
"""

import statistics
from dataclasses import dataclass
from fractions import Fraction

import pytest

from game.audio.clicks import LEAD_IN_S
from game.coach.reasons import without_report
from game.instrument.decoding.delay import Delay
from game.instrument.decoding.dirt import NO_LIMITS
from game.neck.tuning import STANDARD, Place
from game.practice_log.rows.row_values import messages_from
from game.text.catalogue import tell_all
from tests.sampling import only_where_all_is_run, sample
from tests.system.game_on_screen import Game, game_on, keep_settings
from tests.system.ode_to_joy import homes_of_bars, next_string, notes_of_bars, open_two_bars, wait_for_guitar
from tests.system.pickup import Pickup, pickup, plucked
from tests.system.words_on_screen import PROMPT

pytestmark = pytest.mark.system

LEANS_S = (0.045, -0.03)
COUNT_IN_QUARTERS = 4
# Nothing is known well enough yet, so that the coach asks for the same bars again.
TARGET_BPM = 300
FASTER = 16
FIRST_S = 1.2
MARKS_S = (1.6, 1.8, 2.0, 2.2)
# So often a take is played again that a busy computer disturbed: it began the count-in too late for its notes, or one
# of these was sent or heard much later than the others. After five takes of the same bars the coach says that it is
# enough for today, and asks for others: then somebody new plays on.
TRIES, PLAYERS = 4, 3
HEARD = "SELECT at_us / 1e6 FROM played WHERE take = (SELECT max(take) FROM played) ORDER BY i"
OFFSETS = "SELECT offset_ms / 1e3 FROM verdict WHERE judgement = (SELECT max(judgement) FROM judgement) ORDER BY n"
OTHER_VERDICTS = (
    "SELECT count(*) FROM verdict WHERE judgement = (SELECT max(judgement) FROM judgement) "
    "AND verdict NOT IN ('clean', 'late', 'early')"
)


@dataclass(frozen=True, slots=True, kw_only=True)
class Plucked:
    """When the note that begins the count-in, the marks in it and the notes of the music were plucked, in seconds of
    one clock.
    """

    first_s: float
    marks_s: list[float]
    notes_s: list[float]


def open_two_bars_in_time(game: Game) -> None:
    """Two bars, from places through rhythm to time, with the metronome, and faster."""
    open_two_bars(game)
    game.keys("Tab", "Tab", "period", *["equal"] * FASTER)


def asked_quarter_s(game: Game, decisions: int) -> float:
    """Wait for so many decisions of the coach, and for the page that the last one asks for; seconds to its quarter."""
    game.wait_for_rows("SELECT coach_event FROM decision", decisions)
    ((tempo, reason),) = game.log("SELECT tempo_bpm, reason FROM decision ORDER BY coach_event DESC LIMIT 1")
    assert tempo > 120
    prompt = tell_all(without_report(messages_from(reason)))
    game.wait_for_words(PROMPT, prompt)
    return 60 / tempo


def onsets_s(quarter_s: float) -> list[float]:
    """Where the notes of the two bars lie, from time 0."""
    return [float(Fraction(note["onset"])) * quarter_s for note in notes_of_bars(2)]


def play_with_lean(guitar: Pickup, quarter_s: float, lean_s: float) -> Plucked:
    """Play a take: each note of it `lean_s` after it is due, if the count-in begins at once."""
    homes = homes_of_bars(2)
    due_s = FIRST_S + float(LEAD_IN_S) + COUNT_IN_QUARTERS * quarter_s + lean_s
    places = [homes[0], *[next_string(homes[0])] * len(MARKS_S), *homes]
    times_s = [FIRST_S, *MARKS_S, *(due_s + onset_s for onset_s in onsets_s(quarter_s))]
    handed_over_s = guitar.play(
        [
            message
            for place, at_s in zip(places, times_s, strict=True)
            for message in plucked([place], every_s=0.1, from_s=at_s, delay=Delay())
        ],
        in_time=True,
    )
    first_s, *others_s = [at_s - told_after_s(place) for at_s, place in zip(handed_over_s[::2], places, strict=True)]
    return Plucked(first_s=first_s, marks_s=others_s[: len(MARKS_S)], notes_s=others_s[len(MARKS_S) :])


def told_after_s(place: Place) -> float:
    """What a pickup needs before it tells a note."""
    return Delay().of(STANDARD.sounding(place))


def column(game: Game, question: str) -> list[float]:
    return [value for (value,) in game.log(question)]


@only_where_all_is_run("it takes half a minute")
def test_a_take_against_the_count_in_has_the_lean_it_was_played_with(jack, screen, tmp_path):
    """The transport of JACK is a few ms, no two notes' the same. Where everything is run twice: each count-in has its
    own time 0.
    """
    for number, lean_s in enumerate(sample(LEANS_S, by_default=1)):
        for player in range(PLAYERS):
            home = tmp_path / f"{number}-{player}"
            home.mkdir()
            keep_settings(home, limits=NO_LIMITS, target_bpm=TARGET_BPM)
            with game_on(screen, home, jack) as game, pickup(jack, "--to", "Homefret") as guitar:
                wait_for_guitar(game)
                open_two_bars_in_time(game)
                if leans_s := played_leans_s(game, guitar, lean_s):
                    assert_has_leans(game, leans_s)
                    break
        else:
            pytest.fail(f"each of {PLAYERS * TRIES} takes was disturbed, or its count-in never begins with the note")


def assert_has_leans(game: Game, leans_s: list[float]) -> None:
    """The last take has these leans, one for each of its notes."""
    offsets_s = column(game, OFFSETS)
    assert statistics.median(offsets_s) == pytest.approx(statistics.median(leans_s), abs=0.012)
    off_s = sorted(abs(offset - lean) for offset, lean in zip(offsets_s, leans_s, strict=True))
    assert off_s[len(off_s) // 2] < 0.008, "half the notes"
    assert game.log(OTHER_VERDICTS) == [(0,)]


def played_leans_s(game: Game, guitar: Pickup, lean_s: float) -> list[float] | None:
    """Play takes until one was not disturbed; how late each of its notes was played. None where all were."""
    for take in range(1, TRIES + 1):
        quarter_s = asked_quarter_s(game, decisions=1 + FASTER + take)
        played = play_with_lean(guitar, quarter_s, lean_s)
        game.wait_for_rows("SELECT judgement FROM judgement", take)
        if leans_s := undisturbed_leans_s(played, column(game, HEARD), quarter_s):
            return leans_s
        game.keys("Return")
    return None


def undisturbed_leans_s(played: Plucked, heard_s: list[float], quarter_s: float) -> list[float] | None:
    """How late each note of a take was played, as the marks tell where its time 0 lies on the clock of the sender. None
    where the count-in did not begin with its note, but before it was told to be sent or too late for the others; or
    where a note was lost, or came much later than the others.
    """
    due_s, marks_s, notes_s = onsets_s(quarter_s), heard_s[: len(MARKS_S)], heard_s[len(MARKS_S) :]
    if len(notes_s) != len(due_s):
        return None
    zero_s = statistics.median(at_s - in_take_s for at_s, in_take_s in zip(played.marks_s, marks_s, strict=True))
    late_s = zero_s - played.first_s - float(LEAD_IN_S) - COUNT_IN_QUARTERS * quarter_s
    leans_s = [at_s - zero_s - at_due_s for at_s, at_due_s in zip(played.notes_s, due_s, strict=True)]
    heard_late_s = [at_s - at_due_s for at_s, at_due_s in zip(notes_s, due_s, strict=True)]
    spread_s = max(max(each) - min(each) for each in (leans_s, heard_late_s))
    return leans_s if -0.012 < late_s < quarter_s / 2 and spread_s < quarter_s / 4 else None

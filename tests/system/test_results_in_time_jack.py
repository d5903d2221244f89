"""Takes in time played into the game by another process, every pitch at its home: by a player who runs ahead, by one
who stops and goes on, and by one who drags a beat behind.

What is written down is what a fair teacher would sign: no note is wrong for its time, what happened is told as what it
is, and the next tempo follows from it.
"""

from collections.abc import Callable
from dataclasses import dataclass
from fractions import Fraction

import pytest

from game.audio.clicks import LEAD_IN_S
from game.instrument.decoding.delay import Delay
from game.instrument.decoding.dirt import NO_LIMITS
from game.practice_log.rows.row_values import messages_from
from game.text.catalogue import say
from tests.sampling import only_where_all_is_run
from tests.system.game_on_screen import Game, game_on, keep_settings
from tests.system.ode_to_joy import homes_of_bars, notes_of_bars, open_first_passage, wait_for_guitar, wait_for_page_of
from tests.system.pickup import Pickup, pickup, plucked
from tests.system.test_lean_on_screen import COUNT_IN_QUARTERS, FASTER, FIRST_S, TRIES, asked_quarter_s

pytestmark = [pytest.mark.system, only_where_all_is_run("each take lasts half a minute")]

BARS = 16
TARGET_BPM = 300
WORDS = """
SELECT verdict, count(*) FROM verdict WHERE judgement = (SELECT max(judgement) FROM judgement) GROUP BY verdict
"""
EVENTS = "SELECT kind FROM event WHERE judgement = (SELECT max(judgement) FROM judgement) ORDER BY k"
DECISIONS = "SELECT tempo_bpm, reason FROM decision ORDER BY coach_event"

Pace = Callable[[float, float], float]
"""When somebody plays what is due, by the seconds of the music and those of a quarter note."""


def three_percent_ahead(due_s: float, _quarter_s: float) -> float:
    return due_s / 1.03


def stops_for_two_seconds(due_s: float, quarter_s: float) -> float:
    return due_s + (2.0 if due_s >= 4 * 4 * quarter_s else 0.0)


def drags_a_beat_behind(due_s: float, quarter_s: float) -> float:
    """Over the first eight bars, little by little."""
    return due_s + quarter_s * min(1.0, due_s / (8 * 4 * quarter_s))


def open_sixteen_bars_in_time(game: Game) -> None:
    open_first_passage(game)
    game.keys(*["bracketright"] * (BARS - 4))
    wait_for_page_of(game, say("page.whole"))
    game.keys("Tab", "Tab", "period", *["equal"] * FASTER)


def play(guitar: Pickup, quarter_s: float, pace: Pace) -> int:
    """Play a take; how many notes it asked for."""
    homes = homes_of_bars(BARS)
    zero_s = FIRST_S + float(LEAD_IN_S) + COUNT_IN_QUARTERS * quarter_s
    due_s = [float(Fraction(note["onset"])) * quarter_s for note in notes_of_bars(BARS)]
    times_s = [FIRST_S, *(zero_s + pace(at_s, quarter_s) for at_s in due_s)]
    sent = [
        message
        for place, at_s in zip([homes[0], *homes], times_s, strict=True)
        for message in plucked([place], every_s=0.1, from_s=at_s, delay=Delay())
    ]
    guitar.play(sent, in_time=True)
    return len(homes)


@dataclass(frozen=True, slots=True, kw_only=True)
class Told:
    """What is told of whoever keeps a pace: what happened, and at least so many of the 62 in time, at most so many."""

    pace: Pace
    events: list[str]
    least: int
    most: int
    next_step: str


PLAYERS = (
    Told(pace=three_percent_ahead, events=["ran ahead"], least=4, most=14, next_step="coach.off_beat_again"),
    Told(pace=stops_for_two_seconds, events=["stop"], least=60, most=62, next_step="coach.stopped_again"),
    Told(pace=drags_a_beat_behind, events=["fell behind"], least=4, most=16, next_step="coach.off_beat_again"),
)


def amiss(game: Game, told: Told, count: int, quarter_s: float) -> str:
    """What the last take's result tells otherwise than it should; nothing where all is well."""
    words = dict(game.log(WORDS))
    if not words.keys() <= {"clean", "early", "late"} or sum(words.values()) != count:
        return f"{words} for {count} right notes"
    if not told.least <= words["clean"] <= told.most:
        return f"{words['clean']} in time"
    if [kind for (kind,) in game.log(EVENTS)] != told.events:
        return f"{game.log(EVENTS)}"
    tempo, reason = game.log(DECISIONS)[-1]
    if tempo != pytest.approx(60 / quarter_s):
        return f"the next tempo is {tempo}"
    key = messages_from(reason)[-1].key
    return "" if key == told.next_step else key


@pytest.mark.parametrize("told", PLAYERS, ids=["ran ahead", "stopped", "fell behind"])
def test_people_who_run_ahead_stop_or_drag_are_told_so_and_of_no_wrong_note(jack, screen, tmp_path, told):
    """Every note is right; how many are in time depends on the jitter of the computer too. None of them goes faster.

    What a busy computer passes on too late, or loses, is another pace: then somebody new plays, whose coach has heard
    nothing of it.
    """
    for attempt in range(TRIES):
        home = tmp_path / str(attempt)
        home.mkdir()
        keep_settings(home, limits=NO_LIMITS, target_bpm=TARGET_BPM)
        with game_on(screen, home, jack) as game, pickup(jack, "--to", "Homefret") as guitar:
            wait_for_guitar(game)
            open_sixteen_bars_in_time(game)
            quarter_s = asked_quarter_s(game, decisions=2 + FASTER)
            count = play(guitar, quarter_s, told.pace)
            game.wait_for_rows("SELECT judgement FROM judgement", 1)
            game.wait_for_rows(DECISIONS, 3 + FASTER)
            fault = amiss(game, told, count, quarter_s)
        if not fault:
            break
    else:
        pytest.fail(f"in each of {TRIES} takes something is amiss, in the last {fault}")

"""A tune is entered by a guitar through JACK, by somebody who plays a wrong note, takes it back by the
free string, and is never quite on the click.

Where the computer was so busy that a note got lost or the rhythm came out wrong, it is played again, as anybody would.
"""

import time
from dataclasses import replace
from fractions import Fraction
from pathlib import Path
from random import Random

import pytest

from game.audio.clicks import LEAD_IN_S
from game.instrument.decoding.delay import Delay
from game.instrument.decoding.dirt import NO_LIMITS
from game.music.score import Score
from game.neck.neck_map import standard_map
from game.neck.tuning import Place
from game.practice.free_string import TOGETHER_S
from game.text.catalogue import say
from game.tunes.entering.draft import Draft
from game.tunes.entering.draft_file import ENDING, read_draft
from game.tunes.library.compact import unpack
from game.tunes.library.library import TUNE_ENDING
from game.tunes.read_tune import read_tune
from tests.engraving.by_music21 import read_by_music21
from tests.sampling import how_many, only_where_all_is_run
from tests.system.game_on_screen import Game, game_on, keep_settings
from tests.system.ode_to_joy import wait_for_guitar
from tests.system.pickup import Pickup, Sent, pickup, plucked
from tests.system.waiting import found_within, played_anew, wait_until
from tests.system.words_on_screen import PAGE_TITLE, PAPER, SHELF_TITLE, TITLE, Face, Line

pytestmark = pytest.mark.system

STATUS = Line(face=Face.ITALIC, units=25, colour=PAPER.ink, up=177)
"""What is said below the music."""
HEAD_STATUS = replace(STATUS, up=139)
"""The same below the head, where no string means anything."""
NAME = "some bars"
FREE = Place(6, 0)
HALF = Fraction(1, 2)
# Where notes begin in each bar of 3/4; the twelfth begins with a note tied over the bar line.
THREE, DOTTED, LONG, EIGHTHS, WHOLE, TIED = (0, 1, 2), (0, 3 * HALF, 2), (0, 2), (0, HALF, 1, 2), (0,), (1, 2)
_SIXTEEN = (
    *(THREE, DOTTED, WHOLE, EIGHTHS, THREE, DOTTED, LONG, EIGHTHS),
    *(THREE, DOTTED, LONG, TIED, THREE, EIGHTHS, DOTTED, WHOLE),
)
# Four of them in the default run, which has five minutes.
BARS = _SIXTEEN[: how_many(16, by_default=4)]
ONSETS = tuple(Fraction(3 * bar + at) for bar, places in enumerate(BARS) for at in places)
# In the third bar the note ends on the third beat.
REST_AT = Fraction(8)
TEMPO_STEPS, BEAT_S = 10, 0.5
PITCH_S = 0.16
SPREAD_S = 0.012
MOST_TRIES = 4
# A note that is not in the draft by then got lost.
LOST_AFTER_S = 20.0


def melody() -> tuple[int, ...]:
    """Sounding pitches of the position, by chance; no two neighbours are alike."""
    chance, homes = Random(16), [home.sounding for home in standard_map().homes if 50 <= home.sounding <= 69]
    line = [55]
    while len(line) < len(ONSETS):
        line.append(chance.choice([sounding for sounding in homes if 0 < abs(sounding - line[-1]) <= 5]))
    return tuple(line)


def place_of(sounding: int) -> Place:
    home = standard_map().home_of(sounding)
    assert home is not None
    return home.place


def taps_played(seed: int) -> list[Sent]:
    """The free string counts in; then a tap for each note on one place, and the free string where the rest begins."""
    chance, tap = Random(seed), place_of(60)
    begun_s = 0.3
    zero_s = begun_s + TOGETHER_S + float(LEAD_IN_S) + 3 * BEAT_S
    due = sorted([(onset, tap) for onset in ONSETS] + [(REST_AT, FREE)])
    sent = plucked([FREE], every_s=0.1, from_s=begun_s, delay=Delay())
    for onset, place in due:
        at_s = zero_s + float(onset) * BEAT_S + chance.gauss(0, SPREAD_S)
        sent += plucked([place], every_s=0.1, from_s=at_s, delay=Delay())
    return sorted(sent, key=lambda one: one[0])


def draft_in(home: Path) -> Draft | None:
    paths = list(home.rglob(f"*{ENDING}"))
    return read_draft(paths[0]) if paths else None


def open_new_tune(game: Game) -> None:
    """From the shelf to the head of a new tune in 3/4, which is called something."""
    game.keys("e")
    game.wait_for_words(TITLE, say("from_paper.title"))
    game.keys("Return")
    game.wait_for_words(HEAD_STATUS, say("writing.begin_head"))
    game.xdotool("type", "--delay", "20", NAME)
    game.keys(*["Down"] * 4, "Right", *["Down"] * 3, *["Right"] * TEMPO_STEPS)
    game.wait_for_words(TITLE, NAME)


def enter_pitches(game: Game, guitar: Pickup, home: Path, line: tuple[int, ...]) -> None:
    """One after another; behind the tenth a wrong one, which the free string takes back."""
    game.keys("Return")
    game.wait_for_words(STATUS, say("writing.begin_pitches"))
    play_until_there(guitar, home, line[:10])
    wrong = next(sounding for sounding in (60, 62) if sounding != line[10])
    play_until_there(guitar, home, (*line[:10], wrong))
    take_back(guitar, home)
    assert pitches_in(home) == line[:10]
    play_until_there(guitar, home, line)


def play_until_there(guitar: Pickup, home: Path, line: tuple[int, ...]) -> None:
    """What is not there yet is played; where a note got lost on a busy computer, the player sees it and plays on from
    there.
    """
    for _ in range(MOST_TRIES):
        there = pitches_in(home)
        right = next((at for at, pair in enumerate(zip(there, line, strict=False)) if pair[0] != pair[1]), len(there))
        for _ in range(len(there) - right):
            take_back(guitar, home)
        guitar.play(plucked(map(place_of, line[right:]), every_s=PITCH_S))
        if found_within(LOST_AFTER_S, lambda: pitches_in(home) == line):
            return
    raise AssertionError(f"after {MOST_TRIES} tries {pitches_in(home)} stood there and not {line}")


def take_back(guitar: Pickup, home: Path) -> None:
    """Pluck the free string by itself, and see that the last pitch is gone."""
    before = len(pitches_in(home))
    time.sleep(2 * TOGETHER_S)
    guitar.play(plucked([FREE], every_s=PITCH_S))
    wait_until(lambda: len(pitches_in(home)) < before, "a draft without its last pitch")


def pitches_in(home: Path) -> tuple[int, ...]:
    draft = draft_in(home)
    return tuple(pitch.sounding for pitch in draft.pitches) if draft else ()


def tap_rhythm(game: Game, guitar: Pickup, home: Path) -> int:
    """Tap until it came out right; how often that took."""
    game.keys("Return")
    for tries in range(1, MOST_TRIES + 1):
        game.wait_for_words(STATUS, say("writing.begin_rhythm", bar=1))
        guitar.play(taps_played(tries), in_time=True)
        wait_until(lambda: draft_in(home).settled > 0, "a rhythm in the draft")
        draft = draft_in(home)
        rests = [onset.rest_at for onset in draft.onsets if onset.rest_at is not None]
        if [onset.at for onset in draft.onsets] == list(ONSETS) and rests == [REST_AT]:
            return tries
        game.keys(*["BackSpace"] * len(BARS))
        wait_until(lambda: not draft_in(home).onsets, "a draft without a rhythm")
    raise AssertionError(f"after {MOST_TRIES} tries the rhythm was {draft_in(home).onsets}")


def notes_of(score: Score) -> list[tuple[Fraction, int]]:
    """Where each note begins and how it sounds, tied heads as one."""
    starts = [3 * index + note.onset for index, bar in enumerate(score.bars) for note in bar.notes]
    heads = [note for bar in score.bars for note in bar.notes]
    return [
        (start, head.pitch.midi - 12 * score.reading.octaves_down)
        for start, head in zip(starts, heads, strict=True)
        if not head.tied_from_previous
    ]


def enters_a_tune(jack, screen, home: Path) -> None:
    line = melody()
    wanted = list(zip(ONSETS, line, strict=True))
    keep_settings(home, limits=NO_LIMITS)
    with game_on(screen, home, jack) as game, pickup(jack, "--to", "Homefret") as guitar:
        wait_for_guitar(game)
        open_new_tune(game)
        enter_pitches(game, guitar, home, line)
        tap_rhythm(game, guitar, home)
        game.keys("Return", "quotedbl", "G", "7", "Return", "Return")
        (kept,) = wait_until(lambda: list(home.rglob(f"*{TUNE_ENDING}")), "the tune in the library")
        (file,) = home.rglob("*.musicxml")
        # What was kept is opened to be read; from there Esc leads to the shelf.
        game.wait_for_words(PAGE_TITLE, NAME)
        game.keys("Escape")
        game.wait_for_words(SHELF_TITLE, say("shelf.title"))
    score = read_tune(file)
    assert notes_of(score) == notes_of(unpack(kept.read_bytes())) == wanted
    assert (score.title, len(score.bars), score.bars[0].meter.text) == (NAME, len(BARS), "3/4")
    assert [chord.text for bar in score.bars for chord in bar.chords] == ["G7"]
    part = read_by_music21(file.read_text(encoding="utf-8"))
    heads = [note for note in part.flatten().notes if note.isNote]
    assert [
        (Fraction(note.offset).limit_denominator(96), note.pitch.midi)
        for note in heads
        if not (note.tie and note.tie.type in ("stop", "continue"))
    ] == wanted


@only_where_all_is_run("it takes a quarter of a minute")
def test_a_tune_is_entered_with_the_guitar_in_hand_and_stands_on_the_shelf(jack, screen, tmp_path):
    """Of sixteen bars, where everything is run."""
    played_anew(lambda home: enters_a_tune(jack, screen, home), tmp_path)

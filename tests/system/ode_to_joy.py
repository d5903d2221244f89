"""The tune that the system tests read: where it stands on the shelf, and where its first bars are played."""

import os
from dataclasses import replace

from game.neck.tuning import STANDARD, Place
from game.paths import shipped
from game.text.catalogue import say
from game.tunes.library.library import shipped_entries
from tests.commands.running import notes_of
from tests.system.game_on_screen import Game
from tests.system.words_on_screen import PAGE_FACTS, PAGE_TITLE, SLIP, Line

GUITAR = "pickup:guitar"
"""What the game calls the sender of `tests.system.pickup`."""
(TUNE,) = shipped("content", "tunes").glob("*ode-to-joy.musicxml")
FAULTS = """
SELECT n, verdict FROM verdict JOIN judgement USING (judgement) WHERE verdict NOT IN ('clean', 'hinted')
ORDER BY judgement, n
"""
"""Help comes by itself after a while: on a busy computer sooner than a note."""
TUNE_TITLE = "Ode to Joy"
SHELF_ROW = [entry.file_name for entry in shipped_entries()].index(TUNE.name)


def notes_of_bars(last: int) -> tuple[dict, ...]:
    """The notes of the first bars as the `score` command tells them, with their homes."""
    bars = {str(bar) for bar in range(1, last + 1)}
    return tuple(note for note in notes_of(TUNE) if note["bar"] in bars)


def homes_of_bars(last: int) -> list[Place]:
    """Where these notes are at home."""
    return [Place(note["string"], note["fret"]) for note in notes_of_bars(last)]


def first_passage() -> list[Place]:
    """The homes of the first passage, four bars."""
    return homes_of_bars(4)


def elsewhere(home: Place) -> Place:
    """The same pitch on another string."""
    return next(place for place in STANDARD.places_of(STANDARD.sounding(home), 22) if place != home)


def next_string(home: Place) -> Place:
    """A wrong pitch at the same fret. A neighbouring fret that is soon put right may be a slide."""
    return Place(home.string + (1 if home.string < 6 else -1), home.fret)


def wait_for_guitar(game: Game, line: Line = SLIP) -> None:
    """Wait until the game knows of the guitar, without which a page shows a neck to play on; `line` is where it
    says so, on a sheet with tabs or without.
    """
    game.wait_for_words(line, say("device.wire", device=GUITAR))


def open_first_passage(game: Game) -> None:
    """From the shelf to its page, which waits for the first note."""
    game.keys(*["Down"] * SHELF_ROW, "Return")
    game.wait_for_words(PAGE_TITLE, TUNE_TITLE)


def open_two_bars(game: Game) -> None:
    """The same, and two bars less."""
    open_first_passage(game)
    game.keys("bracketleft", "bracketleft")
    wait_for_page_of(game, say("bars.several", first=1, last=2))


def wait_for_page_of(game: Game, bars: str) -> None:
    """Wait for the page on which these bars are played without a clock."""
    facts = bars, say("page.asked.places"), say("page.clock.none"), say("page.position", position="V")
    game.wait_for_words(replace(PAGE_FACTS, after=TUNE_TITLE), ", ".join(facts))


def without_midi() -> dict[str, str]:
    """The environment for a game that no MIDI reaches: ALSA, which has none of it here."""
    return {**os.environ, "HOMEFRET_MIDI_API": "alsa"}

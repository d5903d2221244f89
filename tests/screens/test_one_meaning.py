"""A key means one thing in the whole game, and none works on a screen that does not tell it."""

from collections import defaultdict
from dataclasses import replace

import pygame
import pytest

from game.coach.stages import Pulse, Stage
from game.player.settings import InstrumentKind
from game.screens.routes import Route, ToMarking, ToPage
from game.tunes.entering.entering import EntryStep
from tests.sampling import sample
from tests.screens.table import Table
from tests.screens.timed_pages import sight_request
from tests.screens.ways import request_of, routes, signing_of, some_of, some_routes
from tests.screens.writing.writing_tables import new_tune

THE_CORNER, WHERE_ONE_CAME_FROM = "Enter", "Esc"
"""These two mean the next thing and the way back everywhere, and say which in other words on every screen."""

CHOOSE_OR_CHANGE = frozenset(
    {
        "choose",
        "choose a note",
        "another note",
        "change",
        "channel",
        "key",
        "level",
        "minutes",
        "number of strings",
        "position",
    }
)
GROUPS: dict[str, frozenset[str]] = {
    "← →": CHOOSE_OR_CHANGE | {"bars", "other bars", "chapter", "another chapter"},
    "↑ ↓": CHOOSE_OR_CHANGE | {"♯ ♭", "other octave", "more lines"},
    "Tab": frozenset({"another stage", "group", "by cable", "next step", "courses", "programme", "next map"}),
    "Space": frozenset(
        {"begin", "pause", "start, stop", "turn the page up", "show it, then: right", "right", "mark it"}
    ),
    "Backspace": frozenset({"again", "take back", "a bar back", "skip", "wrong", "wrong: again", "wrong: a bar back"}),
    "Del": frozenset({"rub it out", "take out"}),
    "Ins": frozenset({"a new player", "a copy"}),
    "F5": frozenset({"help", "show it now", "count"}),
    "F10": frozenset({"still page", "scrolling"}),
    "F12": frozenset({"neck", "more of the neck"}),
    ";": frozenset({"any place", "at the homes"}),
    ".": frozenset({"metronome", "without the click", "one note a click"}),
    "C": frozenset({"chords: on", "chords: off"}),
}
"""Meanings that are one: another stage, field or step; it goes on, or stops; back by one, for that was wrong; what is
taken away."""

KEYS = (
    *((key, chr(key)) for key in (*range(pygame.K_a, pygame.K_z + 1), *range(pygame.K_0, pygame.K_9 + 1))),
    *((ord(sign), sign) for sign in "[]-=.,/;"),
    *((key, "") for key in (pygame.K_F4, pygame.K_F5, *range(pygame.K_F8, pygame.K_F11), pygame.K_F12)),
    *((pygame.K_SPACE, " "), (pygame.K_BACKSPACE, "\b"), (pygame.K_TAB, "\t"), (pygame.K_DELETE, "\x7f")),
    *((key, "") for key in (pygame.K_INSERT, pygame.K_PAGEUP, pygame.K_PAGEDOWN, pygame.K_HOME, pygame.K_END)),
    *((key, "") for key in (pygame.K_UP, pygame.K_DOWN, pygame.K_LEFT, pygame.K_RIGHT)),
    (pygame.K_RETURN, "\r"),
    (pygame.K_ESCAPE, "\x1b"),
)
"""Every key of the keyboard with what it writes, but those that hold everywhere and are told by each sheet of keys."""

NOTHING_LISTENS = ("SelfMarkedPage", "UnheardLettersPage", "UnheardFreePage", "UnheardMetronomePage", "UnheardSight")


def every_way(table, folder, part=None) -> dict[str, Route]:
    """All screens, the pages also as they are where nothing listens, at first sight, and in rhythm. With a `part` that
    part of them by default, as `some_routes` says.
    """
    rhythm = request_of(table, Stage.RHYTHM)
    pages = {
        "UnseenLine": ToPage(sight_request(table), chosen=True),
        "RhythmByTheClick": ToPage(rhythm.by_the_click(), chosen=True),
        "FreeReading": ToPage(request_of(table, Stage.TIME).freely(), chosen=True),
        "SelfMarkedPage": ToPage(request_of(table), chosen=True),
        "UnheardLettersPage": ToPage(request_of(table, Stage.LETTERS), chosen=True),
        "UnheardFreePage": ToPage(rhythm, chosen=True),
        "UnheardSight": ToPage(sight_request(table), chosen=True),
        "UnheardMetronomePage": ToPage(request_of(table).by_the_click(), chosen=True),
    }
    if part is None:
        return routes(table, folder) | pages
    return some_routes(table, folder, part) | {name: pages[name] for name in some_of(pages, part)}


def led_to(table, name, route):
    """The screen of that name, as it is shown, with nothing said over it."""
    heard = InstrumentKind.NO_PICKUP if name in NOTHING_LISTENS else InstrumentKind.GUITAR
    table.settle(instrument=heard)
    table.go(route)
    table.context.window.message = ""
    table.screen.resized()
    table.picture()
    return table.screen


@pytest.fixture(scope="module")
def told(tmp_path_factory):
    """What each label means, by screen."""
    folder = tmp_path_factory.mktemp("told")
    table, found = Table(folder / "player", size=(1280, 720)), defaultdict(lambda: defaultdict(set))
    for name, route in every_way(table, folder).items():
        led_to(table, name, route)
        for hint in table.context.window.told_keys:
            for label in hint.labels if hint.presses else ():
                found[label][hint.meaning].add(name)
    return found


def test_every_label_has_one_meaning_or_those_of_its_group(told):
    groups = {label: meanings for labels, meanings in GROUPS.items() for label in labels.split()}
    strays = {
        label: {
            meaning: sorted(screens) for meaning, screens in meanings.items() if meaning not in groups.get(label, ())
        }
        for label, meanings in told.items()
        if label not in (THE_CORNER, WHERE_ONE_CAME_FROM)
    }
    assert {label: meanings for label, meanings in strays.items() if len(meanings) > (label not in groups)} == {}


def test_nothing_is_shown_to_be_clicked_that_is_not_told(tmp_path):
    table = Table(tmp_path / "player", size=(960, 600))
    for name, route in every_way(table, tmp_path, 0).items():
        led_to(table, name, route)
        window = table.context.window
        keys = {press.key for hint in window.told_keys for press in hint.presses}
        assert {pygame.key.name(press.key) for _, press in window._boxes if press.key not in keys} == set(), name


def strangers(table, screen):
    """The keys that this screen does not tell; letters that are words or names of notes are none."""
    keys = {press.key for hint in table.context.window.told_keys for press in hint.presses}
    names_notes = type(screen).__name__ == "LettersPage"
    words = {text for _, text in KEYS if text.isprintable() and (screen.typing or (names_notes and text.isalpha()))}
    return [(key, text) for key, text in KEYS if key not in keys and text not in words]


def changes(table, screen, before, keys):
    """Whether these keys lead elsewhere or change the picture."""
    for key, text in keys:
        table.app.take_in([pygame.event.Event(pygame.KEYDOWN, key=key, unicode=text, mod=0, scancode=0)])
    table.context.window.message = ""
    return table.screen is not screen or table.picture() != before


def test_no_key_works_that_is_not_told(tmp_path):
    """Letters come without a place on the keyboard: where they play the neck they do so by that."""
    table = Table(tmp_path / "player", size=(960, 600))
    found = {}
    for name, route in every_way(table, tmp_path, 2).items():
        screen = led_to(table, name, route)
        before, keys = table.picture(), strangers(table, screen)
        if changes(table, screen, before, keys):
            found[name] = [pygame.key.name(key) for key, text in keys if works_alone(table, name, route, (key, text))]
    assert not found, "\n".join(f"{name}: {keys}" for name, keys in found.items())


def works_alone(table, name, route, key):
    screen = led_to(table, name, route)
    return changes(table, screen, table.picture(), [key])


ON = frozenset({"show it, then: right", "right", "mark it", "begin", "pause", "turn the page up", "start, stop"})
WAS_WRONG = frozenset({"wrong", "wrong: again", "wrong: a bar back"})
ENTERED = frozenset({"begin", "tap", "hear it"}), frozenset({"take back", "again"})
"""What goes on where a tune is entered, and what takes back that was wrong there."""
UNTIMED_AND_TIMED = {
    "letters": lambda table: ToPage(request_of(table, Stage.LETTERS), chosen=True),
    "places": lambda table: ToPage(request_of(table), chosen=True),
    "one note a click": lambda table: ToPage(request_of(table).by_the_click(), chosen=True),
    "rhythm, free": lambda table: ToPage(request_of(table, Stage.RHYTHM), chosen=True),
    "time, free": lambda table: ToPage(request_of(table, Stage.TIME), chosen=True),
    "rhythm, metronome": lambda table: ToPage(by_metronome(table, Stage.RHYTHM), chosen=True),
    "time, metronome": lambda table: ToPage(by_metronome(table, Stage.TIME), chosen=True),
    "first sight": lambda table: ToPage(sight_request(table), chosen=True),
    "first sight, metronome": lambda table: ToPage(by_metronome(table, Stage.SIGHT), chosen=True),
    "marking": lambda table: ToMarking(request_of(table, Stage.RHYTHM)),
}


def by_metronome(table, stage):
    return replace(request_of(table, stage), pulse=Pulse.METRONOME, tempo_bpm=90)


@pytest.mark.parametrize("stage", sample(UNTIMED_AND_TIMED, by_default=2))
def test_on_an_ordinary_guitar_space_goes_on_and_backspace_says_that_it_was_wrong(table, stage):
    """In every stage, at every step that its keys lead to: neither ever does the work of the other."""
    table.settle(instrument=InstrumentKind.NO_PICKUP)
    table.go(UNTIMED_AND_TIMED[stage](table))
    first = table.screen
    for _ in range(6):
        table.picture()
        told = {hint.labels: hint.meaning for hint in table.context.window.told_keys}
        assert told.get(("Space",), "begin") in ON, stage
        assert told.get(("Backspace",), "wrong") in WAS_WRONG, stage
        if table.screen is first or table.screen_name == "MarkingScreen":
            table.key(pygame.K_SPACE, " ")
            table.wait(0.2)


def test_where_a_tune_is_entered_without_being_heard_the_two_keys_go_on_and_take_back(table):
    """In all its steps, and while a rhythm is tapped."""
    table.settle(instrument=InstrumentKind.NO_PICKUP)
    new_tune(table)
    on, back = ENTERED
    for key in (pygame.K_RETURN, 0, pygame.K_RETURN, pygame.K_SPACE, pygame.K_ESCAPE, pygame.K_RETURN):
        if key:
            table.key(key)
        else:
            for sounding in (53, 55):
                table.play(sounding)
        table.picture()
        told = {hint.labels: hint.meaning for hint in table.context.window.told_keys}
        assert told.get(("Space",), "begin") in on
        assert told.get(("Backspace",), "again") in back
    assert table.screen.state.step is EntryStep.PAGE


def test_a_page_signed_on_an_ordinary_guitar_takes_back_what_was_written_wrong(table):
    table.settle(instrument=InstrumentKind.NO_PICKUP)
    table.go(signing_of_the_past(table))
    table.letters("Ax")
    table.key(pygame.K_BACKSPACE)
    assert table.screen.hand.typed == "A"


def signing_of_the_past(table):
    """The page of a take that was heard before."""
    table.settle(instrument=InstrumentKind.GUITAR)
    route = signing_of(table)
    table.settle(instrument=InstrumentKind.NO_PICKUP)
    return route

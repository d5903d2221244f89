"""What every screen does with notes, gestures, pedals and instruments that come and go."""

import pygame
import pytest

from game.instrument.decoding.played import NoteRevised, NoteStarted, PlayedNote
from game.neck.tuning import Place
from game.screens.base_screen import BaseScreen
from game.screens.routes import ToMap, ToShelf
from tests.screens.heard_guitar import HeardGuitar


class Recording(BaseScreen):
    """A screen that remembers what it was told, and waits for its instrument where it `waits`."""

    free_string_commands = True

    def __init__(self, context, *, waits=True):
        super().__init__(context)
        self.told, self.waits = [], waits

    def draw(self, _surface):
        return True

    def on_key(self, event):
        self.told.append(("key", event.key))
        return ToMap()

    def on_click(self, at):
        self.told.append(("click", at))

    def on_wheel(self, up):
        self.told.append(("wheel", up))

    def on_note(self, event):
        return self.play(event.note)

    def on_played(self, played):
        self.told.append(("note", played.sounding))

    def on_revised(self, event):
        self.told.append(("revised", event.after and event.after.sounding))

    def on_gesture(self, plucks, _now_s):
        self.told.append(("gesture", plucks))
        return ToShelf() if plucks == 2 else None

    def on_tick(self, _now_s):
        return ToMap() if ("tick", "leads on") in self.told else None

    def on_instrument_lost(self, now_s):
        self.told.append(("lost", now_s))
        return self.waits

    def on_instrument_back(self, now_s):
        self.told.append(("back", now_s))


@pytest.fixture
def screen(table):
    return Recording(table.context)


def started(table, sounding, place):
    note = PlayedNote(started_s=table.clock.now_s(), sounding=sounding, place=place)
    return NoteStarted(note=note, channel=1)


def events(screen):
    return [event for event, *_ in screen.told]


def tick(table, screen, seconds):
    table.clock.advance(seconds)
    return screen.tick(table.clock.now_s())


def test_keys_clicks_and_the_wheel_go_to_their_own_answers(screen):
    key = pygame.event.Event(pygame.KEYDOWN, key=pygame.K_m, unicode="m", mod=0)
    assert screen.handle(key) == ToMap()
    screen.handle(pygame.event.Event(pygame.MOUSEBUTTONDOWN, pos=(3, 4), button=1))
    screen.handle(pygame.event.Event(pygame.MOUSEWHEEL, y=2))
    screen.handle(pygame.event.Event(pygame.MOUSEBUTTONDOWN, pos=(3, 4), button=3))
    screen.handle(pygame.event.Event(pygame.KEYUP, key=pygame.K_m, mod=0))
    assert screen.told == [("key", pygame.K_m), ("click", (3, 4)), ("wheel", 2)]


class OneKey:
    """Hands that play one note: by K, or by a click at the left."""

    def __init__(self, note):
        self.note = note

    def note_of_key(self, event):
        return self.note if event.key == pygame.K_k else None

    def note_of_click(self, at):
        return self.note if at[0] < 10 else None


def test_a_key_or_a_click_that_plays_a_note_is_no_command(table, screen):
    screen._manual_input = OneKey(started(table, 53, Place(5, 8)).note)
    for key in (pygame.K_k, pygame.K_m):
        screen.handle(pygame.event.Event(pygame.KEYDOWN, key=key, unicode="", mod=0))
    for at in ((3, 4), (30, 4)):
        screen.handle(pygame.event.Event(pygame.MOUSEBUTTONDOWN, pos=at, button=1))
    assert screen.told == [("note", 53), ("key", pygame.K_m), ("note", 53), ("click", (30, 4))]


def test_the_free_string_is_a_gesture_and_no_note(table, screen):
    """Once, twice or three times, told when no further one comes."""
    for _ in range(2):
        assert screen.note_started(started(table, 40, Place(6, 0))) is None
    assert screen.told == []
    assert tick(table, screen, 1.0) == ToShelf()
    assert screen.told == [("gesture", 2)]


def test_where_the_free_string_means_nothing_it_is_a_note(table, screen):
    screen.free_string_commands = False
    screen.note_started(started(table, 40, Place(6, 0)))
    tick(table, screen, 1.0)
    assert screen.told == [("note", 40)]


def test_a_pedal_is_a_gesture_on_every_screen(table, screen):
    screen.free_string_commands = False
    screen.pedal_pressed(table.clock.now_s())
    tick(table, screen, 1.0)
    assert screen.told == [("gesture", 1)]


def test_a_gesture_that_turns_out_to_be_none_leads_nowhere(table, screen):
    heard = started(table, 40, Place(6, 0))
    screen.note_started(heard)
    screen.note_revised(NoteRevised(before=heard.note, after=None, channel=1))
    tick(table, screen, 1.0)
    assert events(screen) == ["revised"]


def test_a_gesture_leads_before_time_does(table, screen):
    screen.told.append(("tick", "leads on"))
    for _ in range(2):
        screen.note_started(started(table, 40, Place(6, 0)))
    assert tick(table, screen, 1.0) == ToShelf()
    assert tick(table, screen, 0.1) == ToMap()


def test_a_take_waits_for_the_instrument_it_was_played_on_and_says_so(table, screen):
    screen.device_lost("blue pickup", was_playing=True)
    assert "blue pickup" in table.context.window.message
    table.context.say("something else")
    tick(table, screen, 0.1)
    assert "blue pickup" in table.context.window.message
    screen.device_found("blue pickup")
    assert events(screen) == ["lost", "back"]
    said = table.context.window.message
    tick(table, screen, 8.0)
    assert table.context.window.message == said


def test_a_take_waits_on_for_a_program_that_came_back_until_it_is_wired(table, screen):
    screen.device_lost("blue pickup", was_playing=True)
    for lost in (False, True):
        screen.device_to_be_wired("blue pickup")
        tick(table, screen, 0.1)
        assert "once you wire it" in table.context.window.message
        if not lost:
            screen.device_lost("blue pickup", was_playing=True)
    assert events(screen) == ["lost"]
    screen.note_started(started(table, 53, Place(5, 8)))
    assert events(screen) == ["lost", "back", "note"]


def test_whatever_plays_on_answers_for_it_once(table, screen):
    screen.device_lost("blue pickup", was_playing=True)
    for _ in range(2):
        screen.note_started(started(table, 53, Place(5, 8)))
    assert events(screen) == ["lost", "back", "note", "note"]


@pytest.mark.parametrize(("was_playing", "waits"), [(False, True), (True, False)])
def test_nothing_waits_for_an_instrument_nobody_listened_to(table, was_playing, waits):
    screen = Recording(table.context, waits=waits)
    screen.device_lost("blue pickup", was_playing=was_playing)
    screen.device_found("blue pickup")
    assert "back" not in events(screen)
    assert "blue pickup" in table.context.window.message


def test_a_ghost_on_the_free_string_commands_nothing(table, pickup):
    table.open("F4 h, G4 h")
    for _ in range(2):
        pickup.pluck(Place(6, 0), lasts_s=0.001)
        table.wait(0.1)
    table.wait(1.0)
    assert table.screen_name == "PlacesPage"


def test_a_pedal_asks_for_help_and_ends_the_take(table, pickup):
    table.open("F4 h, G4 h")
    pickup.press_pedal()
    assert len(table.screen.view.marks) == 1
    table.play(53)
    pickup.press_pedal(times=2)
    assert table.screen_name == "ResultScreen"


@pytest.fixture
def heard(table):
    return HeardGuitar(table)


@pytest.fixture
def shown(table, screen):
    table.app.screen = screen
    screen.in_take = True
    return screen


def test_what_is_not_heard_surely_is_none_until_it_is_and_none_again(heard, shown):
    note = heard.sound(53, sure=False)
    assert shown.told == []
    note = heard.turns_out(note, sure=True)
    note = heard.turns_out(note, sure=False)
    assert shown.told == [("note", 53), ("revised", None)]
    shown.takes_unsure = True
    heard.sound(55, sure=False)
    assert shown.told[-1] == ("note", 55)


def test_what_was_heard_first_as_the_free_string_and_is_a_note_is_one_and_the_other_way_about(table, heard, shown):
    note = heard.sound(40)
    heard.turns_out(note, sounding=52)
    assert shown.told == [("note", 52)]
    table.wait(1.0)
    note = heard.sound(52)
    heard.turns_out(note, sounding=40)
    table.wait(1.0)
    assert shown.told[1:] == [("note", 52), ("revised", None), ("gesture", 1)]


def test_what_was_heard_on_another_screen_turns_out_nothing_here(table, heard):
    table.app.screen = Recording(table.context)
    note = heard.sound(53, sure=False)
    other = table.app.screen = Recording(table.context)
    other.in_take = True
    heard.turns_out(note, sure=True)
    assert other.told == []


def test_in_a_line_a_single_pluck_that_was_heard_commands_nothing(table, heard):
    class InLine(Recording):
        in_line = True

    screen = table.app.screen = InLine(table.context)
    heard.pluck_free()
    assert screen.told == []
    table.pluck_free_string(1)
    assert screen.told == [("gesture", 1)]
    heard.pluck_free(3)
    assert screen.told == [("gesture", 1), ("gesture", 2)]

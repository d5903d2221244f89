"""A tune is entered as a player does it, and nothing of it is lost."""

from dataclasses import replace
from fractions import Fraction
from random import Random

import pygame
import pytest

from game.errors import TuneError
from game.neck.neck_map import standard_map
from game.neck.tuning import Place
from game.screens.routes import ToEntering
from game.screens.writing import entering_screen
from game.screens.writing.entering_screen import EnteringScreen
from game.tunes.entering.draft_file import kept_drafts
from game.tunes.entering.entering import EntryStep
from game.tunes.library.library import open_entry, shelf
from tests.instrument.pickup_faults import Fault
from tests.sampling import sample
from tests.screens.heard_guitar import HeardGuitar
from tests.screens.table import FREE_STRING, Table
from tests.screens.writing.writing_tables import (
    FOUR_BARS,
    RHYTHM,
    new_tune,
    note_at,
    onsets,
    play_pitches,
    play_through_pickup,
    revise,
    soundings,
    started,
    tap_along,
    tap_rhythm,
    wait_for_end,
    whole_tune_entered,
)


@pytest.fixture
def guitar(tmp_path):
    return Table(tmp_path, guitar=True)


def last_draft(table):
    return kept_drafts(table.context.session.folder)[0].draft


def test_pitches_then_rhythm_then_the_shelf(table):
    """The whole way: what stands on the shelf is what was entered."""
    whole_tune_entered(table)
    assert table.screen.state.step is EntryStep.PAGE
    table.key(pygame.K_RETURN)
    assert table.screen_name == "ShelfScreen"
    table.wait_for_imports()
    (entry,) = [entry for entry in shelf() if entry.title == "By Hand"]
    score = open_entry(entry)
    notes = [note for bar in score.bars for note in bar.notes]
    assert [note.pitch.midi - 12 for note in notes] == list(FOUR_BARS)
    starts = [4 * index + note.onset for index, bar in enumerate(score.bars) for note in bar.notes]
    assert starts == list(RHYTHM)


def test_what_was_kept_is_opened_to_be_read(table):
    whole_tune_entered(table)
    table.key(pygame.K_RETURN)
    table.wait_for_imports()
    table.wait(0.2)
    assert table.screen_name == "PlacesPage"
    assert table.screen.request.score.title == "By Hand"


def test_a_tune_that_is_put_right_later_stands_on_the_shelf_once(table):
    whole_tune_entered(table)
    table.key(pygame.K_RETURN)
    table.wait_for_imports()
    kept = kept_drafts(table.context.session.folder)[0]
    table.go(ToEntering(path=kept.path, draft=kept.draft))
    assert table.screen.state.step is EntryStep.PAGE
    table.play(57)
    table.key(pygame.K_RETURN)
    table.wait_for_imports()
    (entry,) = [entry for entry in shelf() if entry.title == "By Hand"]
    assert open_entry(entry).bars[0].notes[0].pitch.name == "A4"
    assert len(kept_drafts(table.context.session.folder)) == 1


def test_the_free_string_takes_back_what_was_played_before_it(guitar):
    """However soon the next note comes behind it."""
    new_tune(guitar)
    play_pitches(guitar, (52, 53, 59))
    guitar.play(40, FREE_STRING)
    guitar.play(55)
    assert soundings(guitar) == [52, 53, 55]
    guitar.pluck_free_string(2)
    assert soundings(guitar) == [52]


def test_backspace_takes_back_as_well(table):
    new_tune(table)
    play_pitches(table, (52, 53))
    table.key(pygame.K_BACKSPACE)
    assert soundings(table) == [52]


def test_a_note_nobody_played_goes_from_the_page_and_one_that_slid_is_put_right(guitar):
    new_tune(guitar)
    play_pitches(guitar, (52,))
    ghost = note_at(guitar, 76)
    started(guitar, ghost)
    guitar.wait(0.1)
    slid = note_at(guitar, 53)
    started(guitar, slid)
    revise(guitar, ghost, None)
    revise(guitar, slid, replace(slid, sounding=55))
    assert soundings(guitar) == [52, 55]


def test_a_free_string_that_only_rang_along_takes_nothing_back(guitar):
    new_tune(guitar)
    play_pitches(guitar, (52, 53))
    rang = note_at(guitar, 40, FREE_STRING)
    started(guitar, rang)
    revise(guitar, rang, None)
    guitar.wait(1.0)
    assert soundings(guitar) == [52, 53]


def test_the_keys_of_the_computer_and_the_neck_on_the_page_play(table):
    new_tune(table)
    table.key(pygame.K_RETURN)
    table.key(pygame.K_a, "a", scancode=4)
    table.wait(0.2)
    neck = table.screen.drawing.neck
    table.click(neck.centre_of(FREE_STRING))
    assert soundings(table) == [47, 40]


def test_letters_are_words_in_the_head_and_notes_play_nothing_there(guitar):
    screen = new_tune(guitar, "One, two: 3!")
    guitar.play(52)
    assert screen.state.draft.title == "One, two: 3!"
    assert soundings(guitar) == []


def test_any_string_is_a_tap_the_free_one_a_rest_and_twice_stops(guitar):
    new_tune(guitar)
    play_pitches(guitar, FOUR_BARS[:6])
    guitar.key(pygame.K_RETURN)
    guitar.pluck_free_string(1)
    assert guitar.screen.state.run is not None
    tap_along(guitar, RHYTHM[:3], tap=lambda: started(guitar, note_at(guitar, 60)))
    tap_along(guitar, [Fraction(3)], tap=lambda: started(guitar, note_at(guitar, 40, FREE_STRING)))
    tap_along(guitar, [Fraction(4)], tap=lambda: started(guitar, note_at(guitar, 60)))
    guitar.wait(0.5)
    guitar.pluck_free_string(2)
    assert guitar.screen.state.run is None
    draft = guitar.screen.state.draft
    assert [(onset.at, onset.rest_at) for onset in draft.onsets] == [(0, None), (1, None), (2, 3)]
    assert draft.settled == 4


def test_the_last_bar_is_tapped_again(table):
    new_tune(table)
    play_pitches(table)
    tap_rhythm(table)
    table.key(pygame.K_BACKSPACE)
    assert onsets(table) == list(RHYTHM[:12])
    tap_rhythm(table, [Fraction(12), Fraction(13), Fraction(14)])
    assert onsets(table)[12:] == [12, 13, 14]


def test_one_bar_in_the_middle_is_tapped_again(table):
    new_tune(table)
    play_pitches(table)
    tap_rhythm(table)
    for _ in range(3):
        table.key(pygame.K_LEFT)
    tap_rhythm(table, [Fraction(4), Fraction(6)])
    assert onsets(table)[4:6] == [4, 6]
    assert onsets(table)[6] == 8
    assert table.screen.state.said.key == "writing.moved_back"


def test_a_run_begins_again_on_the_same_bar(table):
    new_tune(table)
    play_pitches(table)
    tap_rhythm(table, RHYTHM[:6], stop=False)
    table.key(pygame.K_BACKSPACE)
    assert table.screen.state.run.taps == ()
    assert onsets(table) == []
    table.key(pygame.K_ESCAPE)
    assert table.screen.state.said.key == "writing.nothing_tapped"


def test_who_lays_the_guitar_down_is_not_clicked_at_for_ever(table):
    new_tune(table)
    play_pitches(table)
    tap_rhythm(table, RHYTHM[:4])
    assert onsets(table) == list(RHYTHM[:4])


def test_a_computer_that_slept_ends_the_run_with_what_was_tapped_before(table):
    new_tune(table)
    play_pitches(table)
    tap_rhythm(table, RHYTHM[:9], stop=False)
    table.clock.advance(40.0)
    table.wait(0.1)
    assert table.screen.state.run is None
    assert onsets(table) == list(RHYTHM[:8])


def test_a_guitar_that_goes_away_ends_the_run(guitar):
    new_tune(guitar)
    play_pitches(guitar)
    tap_rhythm(guitar, RHYTHM[:9], stop=False)
    guitar.screen.device_lost("test guitar", was_playing=True)
    assert guitar.screen.state.run is None
    assert onsets(guitar) == list(RHYTHM[:8])


def test_on_the_page_what_is_played_takes_the_place_of_the_note(table):
    whole_tune_entered(table)
    table.key(pygame.K_RIGHT)
    table.play(57)
    assert soundings(table)[:3] == [52, 57, 53]
    table.key(pygame.K_BACKSPACE)
    assert soundings(table)[:3] == [52, 52, 53]


def test_chord_symbols_are_typed_and_what_is_none_is_refused_and_stays_to_be_mended(table):
    screen = whole_tune_entered(table)
    table.key(pygame.K_QUOTEDBL, '"')
    table.letters("Hx")
    table.key(pygame.K_RETURN)
    assert "Hx" in table.context.window.message
    assert screen.state.draft.chords == ()
    table.key(pygame.K_BACKSPACE)
    table.key(pygame.K_BACKSPACE)
    table.letters("Gm7")
    table.key(pygame.K_RETURN)
    assert [chord.text for chord in screen.state.draft.chords] == ["Gm7"]
    # In America the sign is Shift and the key of the apostrophe, in Germany Shift and 2, which plays the neck.
    table.key(pygame.K_2, '"', scancode=pygame.KSCAN_2, mod=pygame.KMOD_LSHIFT)
    table.letters("x")
    table.key(pygame.K_ESCAPE)
    assert [chord.text for chord in screen.state.draft.chords] == ["Gm7"]


def test_while_a_chord_is_typed_letters_and_strings_play_nothing(guitar):
    whole_tune_entered(guitar)
    guitar.key(pygame.K_QUOTEDBL, '"')
    guitar.key(pygame.K_a, "a", scancode=4)
    guitar.play(60)
    guitar.pluck_free_string(1)
    assert soundings(guitar) == list(FOUR_BARS)


def test_without_a_title_a_tune_is_not_kept(table):
    whole_tune_entered(table)
    for _ in range(len("By Hand")):
        table.key(pygame.K_TAB)
        while table.screen.state.step is not EntryStep.HEAD:
            table.key(pygame.K_TAB)
        table.key(pygame.K_BACKSPACE)
    while table.screen.state.step is not EntryStep.PAGE:
        table.key(pygame.K_TAB)
    table.key(pygame.K_RETURN)
    assert table.screen.state.step is EntryStep.HEAD
    assert table.screen.state.said.key == "writing.wants_title"


def test_pitches_without_a_rhythm_are_kept_when_that_is_said_twice(table):
    new_tune(table)
    play_pitches(table, FOUR_BARS[:5])
    for _ in range(3):
        table.key(pygame.K_RETURN)
    assert isinstance(table.screen, EnteringScreen)
    assert table.screen.state.said.key == "writing.rhythm_missing"
    table.key(pygame.K_RETURN)
    assert table.screen_name == "ShelfScreen"
    table.wait_for_imports()
    assert "By Hand" in [entry.title for entry in shelf()]


def test_every_change_is_on_the_disk_at_once(table):
    """So whatever ends the game, the draft is there."""
    new_tune(table)
    play_pitches(table, FOUR_BARS[:3])
    assert [pitch.sounding for pitch in last_draft(table).pitches] == list(FOUR_BARS[:3])
    table.key(pygame.K_BACKSPACE)
    assert len(last_draft(table).pitches) == 2
    assert len(kept_drafts(table.context.session.folder)) == 1


def test_leaving_and_coming_back_goes_on_where_it_was_left(table):
    new_tune(table)
    play_pitches(table, FOUR_BARS[:3])
    table.key(pygame.K_ESCAPE)
    assert table.screen_name == "FromPaperScreen"
    table.key(pygame.K_RETURN)
    assert table.screen.state.step is EntryStep.PITCHES
    table.play(60)
    assert soundings(table) == [*FOUR_BARS[:3], 60]


def test_a_crash_leaves_the_draft_and_today(table, monkeypatch):
    new_tune(table)
    play_pitches(table, FOUR_BARS[:3])
    monkeypatch.setattr(table.screen, "on_tick", None)
    monkeypatch.setattr(pygame.event, "get", list)
    table.app.turn()
    assert table.screen_name == "TodayScreen"
    assert len(last_draft(table).pitches) == 3


def test_nothing_entered_leaves_no_draft(table):
    table.go(ToEntering())
    table.key(pygame.K_ESCAPE)
    assert kept_drafts(table.context.session.folder) == ()


def test_a_full_disk_is_said_and_entering_goes_on(table, monkeypatch):
    def full(*_written):
        raise TuneError("tune.library_not_written", reason="no space left")

    new_tune(table)
    monkeypatch.setattr(entering_screen, "write_draft", full)
    play_pitches(table, FOUR_BARS[:3])
    assert "no space left" in table.context.window.message
    assert soundings(table) == list(FOUR_BARS[:3])


def test_a_tune_that_cannot_be_kept_stays_on_the_desk(table, monkeypatch):
    def full(*_written):
        raise TuneError("tune.library_not_written", reason="no space left")

    whole_tune_entered(table)
    monkeypatch.setattr(entering_screen, "keep_tune", full)
    table.key(pygame.K_RETURN)
    assert isinstance(table.screen, EnteringScreen)


def test_two_hundred_notes_and_a_compound_metre(table):
    new_tune(table)
    for _ in range(4):
        table.key(pygame.K_DOWN)
    for _ in range(5):
        table.key(pygame.K_RIGHT)
    assert table.screen.state.draft.meter.text == "6/8"
    table.key(pygame.K_RETURN)
    for number in range(200):
        started(table, note_at(table, 50 + number % 7))
        table.clock.advance(0.3)
    assert len(soundings(table)) == 200
    tap_rhythm(table, [Fraction(half, 2) for half in range(12)])
    assert onsets(table) == [Fraction(half, 2) for half in range(12)]
    table.picture()


def test_a_pickup_is_counted_in_and_tapped_before_the_first_bar_line(table):
    new_tune(table)
    for _ in range(5):
        table.key(pygame.K_DOWN)
    table.key(pygame.K_RIGHT)
    table.key(pygame.K_RIGHT)
    play_pitches(table, FOUR_BARS[:3])
    tap_rhythm(table, [Fraction(-1), Fraction(0), Fraction(2)])
    assert onsets(table) == [-1, 0, 2]


def test_a_click_brings_the_pencil_to_a_note(table):
    screen = whole_tune_entered(table)
    table.click(screen.drawing.music.box_of(5).head.center)
    assert screen.state.at == 5
    table.key(pygame.K_TAB)
    table.key(pygame.K_TAB)
    assert screen.state.step is EntryStep.PITCHES
    table.click(screen.drawing.music.box_of(2).head.center)
    assert screen.state.at == 3
    table.key(pygame.K_TAB)
    table.click(screen.drawing.music.box_of(5).head.center)
    assert screen.state.bar == 1


def test_pedals_do_what_the_free_string_does(pickup):
    table = pickup.table
    new_tune(table)
    play_pitches(table, FOUR_BARS[:4])
    pickup.press_pedal()
    assert len(soundings(table)) == 3
    table.key(pygame.K_RETURN)
    pickup.press_pedal()
    tap_along(table, RHYTHM[:2])
    tap_along(table, [Fraction(2)], tap=pickup.press_pedal)
    tap_along(table, [Fraction(4)])
    wait_for_end(table)
    assert table.screen.state.draft.onsets[1].rest_at == 2


@pytest.mark.parametrize("fault", sample(list(Fault), by_default=1))
def test_what_a_pickup_tells_besides_the_notes_stands_on_no_page(pickup, fault):
    """In every third note: ghosts, flickers, slides, strings caught twice or ringing along."""
    table = pickup.table
    chance, homes = Random(7), [home for home in standard_map().homes if 48 <= home.sounding <= 74]
    line = [homes[0]]
    while len(line) < 25:
        line.append(chance.choice([home for home in homes if home is not line[-1]]))
    new_tune(table)
    table.key(pygame.K_RETURN)
    times_s = [table.clock.now_s() + 1 + 0.5 * number for number in range(len(line))]
    play_through_pickup(pickup, [home.place for home in line], times_s, {fault: 0.33}, seed=3)
    assert soundings(table) == [home.sounding for home in line]


@pytest.mark.parametrize("fault", sample(list(Fault), by_default=1))
def test_what_a_pickup_tells_besides_the_taps_is_no_tap(pickup, fault):
    table = pickup.table
    new_tune(table)
    play_pitches(table)
    table.key(pygame.K_RETURN)
    table.key(pygame.K_SPACE)
    run = table.screen.state.run
    times_s = [run.zero_s + float(place) * run.quarter_s for place in RHYTHM]
    play_through_pickup(pickup, [Place(3, 7)] * len(RHYTHM), times_s, {fault: 0.33}, seed=3)
    wait_for_end(table)
    assert onsets(table) == list(RHYTHM)


def test_the_page_is_drawn_while_it_is_tapped_and_stands_still(table):
    new_tune(table)
    play_pitches(table)
    tap_rhythm(table, RHYTHM[:5], stop=False)
    before = table.screen.drawing.music._still
    assert table.screen.moving
    table.picture()
    assert table.screen.drawing.music._still is before
    table.key(pygame.K_ESCAPE)
    assert table.screen.drawing.music._still is not before


def test_the_look_can_be_changed_on_every_step(table):
    whole_tune_entered(table)
    table.key(pygame.K_F2)
    table.key(pygame.K_F7)
    assert table.picture()


def test_by_ear_only_what_is_heard_surely_is_written_and_taken_back(table):
    heard = HeardGuitar(table)
    new_tune(table)
    table.key(pygame.K_RETURN)
    for sounding in (53, 55, 57):
        heard.sound(sounding, wait_s=0.3)
    heard.sound(45, sure=False, wait_s=0.3)
    heard.sound(40, wait_s=1.0)
    assert soundings(table) == [53, 55, 57], "a string that rings along takes nothing back"
    heard.pluck_free()
    note = heard.sound(58, sure=False)
    heard.turns_out(note, sounding=60, sure=True)
    assert soundings(table) == [53, 55, 60]


def test_a_rest_that_nobody_tapped_is_taken_out_of_a_run_that_is_heard(table):
    heard = HeardGuitar(table)
    new_tune(table)
    table.key(pygame.K_RETURN)
    for sounding in (53, 55, 57):
        heard.sound(sounding, wait_s=0.3)
    table.key(pygame.K_RETURN)
    table.key(pygame.K_SPACE)
    table.wait(table.screen.state.run.zero_s - table.clock.now_s())
    heard.sound(53)
    note = heard.sound(40)
    assert [tap.rest for tap in table.screen.state.run.taps] == [False, True]
    heard.turns_out(note)
    assert [tap.rest for tap in table.screen.state.run.taps] == [False]

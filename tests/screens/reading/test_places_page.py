"""The `places` stage on screen."""

import msgspec
import pygame
import pytest

from game.instrument.decoding.dirt import NO_LIMITS
from game.instrument.decoding.played import OffNeck
from game.judging.verdicts import Verdict
from game.music.names import NoteNames
from game.music.score import Reading
from game.music.written import HeadId
from game.neck.tuning import Place
from game.player.settings import Settings
from game.practice.pencilled import PlacedMark, PlaceMark, PlayedHead, UnsureMark
from game.screens.devices import StaticInstruments
from tests.instrument.keys import key_of
from tests.sampling import sample
from tests.screens.heard_guitar import HeardGuitar
from tests.screens.table import Table

ROW = ("F4 q, G4 q, Bb4 h",)
F, G, B_FLAT = 53, 55, 58


def test_a_passage_read_clean_leads_to_its_result_and_all_its_notes_turn_blue_black(table):
    table.open(*ROW, key=-1)
    for sounding in (F, G, B_FLAT):
        table.play(sounding)
    assert table.screen.view.colours == dict.fromkeys(
        (HeadId(0, 0), HeadId(0, 1), HeadId(0, 2)), table.context.theme.read
    )
    table.wait(1.0)
    assert table.screen_name == "ResultScreen"
    assert table.verdicts == ["clean"] * 3


def test_the_staff_waits_and_then_glides_to_the_next_note(table):
    table.open(*ROW, key=-1)
    table.wait(1.0)
    before = table.screen.view.music.scroll_at(table.clock.now_s())
    table.wait(1.0)
    assert table.screen.view.music.scroll_at(table.clock.now_s()) == before
    table.play(F)
    table.wait(0.5)
    assert table.screen.view.music.scroll_at(table.clock.now_s()) > before


def test_a_wrong_pitch_is_pencilled_at_once_and_the_page_stays(table):
    table.open(*ROW, key=-1)
    table.play(57)
    (mark,) = table.screen.view.marks
    assert isinstance(mark.mark, PlayedHead)
    assert table.screen.take.asked.n == 1


def test_another_place_is_pencilled_with_its_string_and_fret(table):
    table.open(*ROW, key=-1)
    table.play(F, Place(4, 3))
    assert table.screen.view.marks == [PlacedMark(HeadId(0, 0), PlaceMark(place=Place(4, 3)))]
    assert table.screen.take.asked.n == 2


def test_a_wrong_note_is_pencilled_once_however_often_it_is_tried(table):
    table.open(*ROW, key=-1)
    for sounding in (57, 57, 50, F):
        table.play(sounding)
    assert len(table.screen.view.marks) == 1


def test_help_comes_by_itself_first_the_letter_then_the_place(table):
    table.open(*ROW, key=-1)
    table.wait(5.1)
    assert len(table.screen.view.marks) == 1
    assert table.screen.view.sketch is None
    table.wait(5.0)
    assert table.screen.view.sketch == Place(5, 8)
    table.play(F)
    assert table.screen.view.sketch is None
    assert table.screen.take.answered[0].verdict is Verdict.HINTED


def test_space_asks_for_help_at_once(table):
    table.open(*ROW, key=-1)
    table.key(pygame.K_F5)
    table.key(pygame.K_F5)
    assert table.screen.view.sketch == Place(5, 8)


def test_where_a_note_without_a_home_lies_is_shown_as_the_hand_goes_there_and_any_place_stays_right(table):
    table.open("F3 q, A4 q, C5 h")
    table.key(pygame.K_F5)
    table.key(pygame.K_F5)
    assert table.screen.view.sketch == Place(6, 1)
    table.play(41)
    assert table.screen.take.asked.note.sounding == 57
    assert table.screen.view.sketch is None


def test_the_neck_on_screen_reaches_as_far_as_the_notes_do(tmp_path):
    """F6 sounds at the thirteenth fret of the first string and nowhere else: it could not be played on fewer."""
    table = Table(tmp_path)
    table.open("F6 q, D6 q, C5 h")
    neck = table.screen.view.neck
    assert neck.last_fret == 13
    assert neck.place_at(tuple(map(round, neck.centre_of(Place(1, 13))))) == Place(1, 13)
    table.open("A4 q, C5 h.")
    assert table.screen.view.neck.last_fret == 12


def test_the_neck_on_screen_is_played_with_the_mouse(table):
    table.open(*ROW, key=-1)
    for place in (Place(5, 8), Place(4, 5), Place(4, 8)):
        table.click(table.screen.view.neck.centre_of(place))
    table.wait(1.0)
    assert table.verdicts == ["clean"] * 3


def test_the_computer_keys_play_the_places_of_the_position(table):
    table.open(*ROW, key=-1)
    for place in (Place(5, 8), Place(4, 5), Place(4, 8)):
        key = key_of(place, position=5)
        table.key(0, scancode=key.scancode, mod=pygame.KMOD_SHIFT if key.shift else 0)
    table.wait(1.0)
    assert table.verdicts == ["clean"] * 3


def test_a_keyboard_is_judged_by_pitch_and_the_home_is_written_under_each_note(table):
    table.open(*ROW, key=-1)
    table.play(F, False)
    assert table.screen.view.marks == [PlacedMark(HeadId(0, 0), PlaceMark(place=Place(5, 8), home=True))]
    assert "does not report strings" in table.context.window.message


def test_a_keyboard_an_octave_up_is_judged_there_and_told(table):
    table.open(*ROW, key=-1)
    table.play(F + 12, False)
    assert "octave above" in table.context.window.message
    table.play(G + 12, False)
    assert [v.verdict for v in table.screen.take.answered] == [Verdict.CLEAN] * 2


def test_a_note_off_the_neck_is_told_and_judged_by_its_pitch(table):
    table.open(*ROW, key=-1)
    table.play(30, False, off_neck=OffNeck.BELOW_STRING)
    assert "below the open string" in table.context.window.message


def test_the_neck_is_there_without_an_instrument_and_hidden_with_one(table):
    table.open(*ROW)
    assert table.screen.view.neck is not None
    table.context.devices.instruments = StaticInstruments(present=True)
    table.open(*ROW)
    assert table.screen.view.neck is None
    table.key(pygame.K_F12)
    assert table.screen.view.neck is not None


def test_an_instrument_that_vanishes_makes_the_take_wait_and_says_so(table):
    table.open(*ROW, key=-1)
    table.play(F)
    table.screen.device_lost("blue pickup", was_playing=True)
    table.wait(30.0)
    assert "blue pickup is gone" in table.context.window.message
    assert table.screen.take.paused
    assert table.screen.view.sketch is None
    table.screen.device_found("blue pickup")
    table.play(G)
    table.play(B_FLAT)
    table.wait(1.0)
    assert table.verdicts == ["clean"] * 3


def test_while_the_instrument_is_away_the_take_can_be_played_on_with_the_mouse(table):
    table.open(*ROW, key=-1)
    table.screen.device_lost("blue pickup", was_playing=True)
    table.click(table.screen.view.neck.centre_of(Place(5, 8)))
    assert table.screen.take.asked.n == 2


def test_notes_without_a_home_are_announced_before_the_take(table):
    table.open("Eb6 h, G4 h")
    assert table.screen.view.status == "1 of these notes has no home on this map: play it anywhere. E♭6"
    table.context.change_settings(table.context.settings.changed("note_names", NoteNames.GERMAN))
    table.open("E6 h, Eb6 h")
    assert table.screen.view.status == "2 of these notes have no home on this map: play them anywhere. Es6, E6"


def test_stopping_after_some_notes_shows_what_was_read_and_before_any_leads_back(table):
    table.open(*ROW, key=-1)
    table.play(F)
    table.key(pygame.K_ESCAPE)
    assert table.verdicts == ["clean", "unread", "unread"]
    table.open(*ROW, key=-1)
    table.key(pygame.K_ESCAPE)
    assert table.screen_name == "TodayScreen"


@pytest.mark.parametrize("frame_s", sample([1 / 10, 1 / 30, 1 / 60, 1 / 240], by_default=1))
def test_the_frame_rate_changes_no_verdict(tmp_path, frame_s):
    table = Table(tmp_path)
    table.open(*ROW, key=-1)
    for sounding in (F, 57, G, B_FLAT):
        table.wait(1.0, frame_s)
        table.play(sounding)
    table.wait(2.0, frame_s)
    times = [round(v.time_to_find_ms) for v in table.screen.finished.judgement.verdicts]
    assert table.verdicts == ["clean", "wrong pitch", "clean"]
    assert times == [1000, 2200, 1100]


def test_a_resize_or_a_change_of_look_loses_nothing_of_a_take(table):
    table.open(*ROW, key=-1)
    table.play(F)
    table.play(57)
    marks = list(table.screen.view.marks)
    pygame.display.set_mode((1900, 1000), pygame.RESIZABLE)
    table.app.step([pygame.event.Event(pygame.VIDEORESIZE, size=(1900, 1000), w=1900, h=1000)])
    for key in (pygame.K_F2, pygame.K_F3, pygame.K_F7):
        table.key(key)
    assert table.screen.take.asked.n == 2
    assert table.screen.view.marks == marks
    assert table.screen.view.colours == {HeadId(0, 0): table.context.theme.read}


def test_going_on_anyway_is_a_setting(tmp_path):
    table = Table(tmp_path, msgspec.structs.replace(Settings(), waits=False))
    table.open(*ROW, key=-1)
    for sounding in (F, 57, B_FLAT):
        table.play(sounding)
    table.wait(1.0)
    assert table.verdicts == ["clean", "wrong pitch", "clean"]


def test_waiting_for_the_home_is_a_setting(tmp_path):
    table = Table(tmp_path, msgspec.structs.replace(Settings(), wants_home=True))
    table.open(*ROW, key=-1)
    table.play(F, Place(4, 3))
    assert table.screen.take.asked.n == 1


def test_at_concert_pitch_a_lead_sheet_sounds_as_written(tmp_path):
    table = Table(tmp_path, msgspec.structs.replace(Settings(), reading=Reading.CONCERT))
    table.open("G4 w")
    assert table.screen.take.asked.sounding == 67
    assert table.screen.request.passage.reading is Reading.CONCERT


def test_a_ghost_on_the_page_is_judged_and_then_forgotten(table, pickup):
    table.open("F4 h, G4 h")
    pickup.pluck(Place(2, 3), lasts_s=0.001)
    assert table.screen.take.tries == ()
    assert not table.screen.view.marks
    table.play(53)
    assert table.screen.take.answered[0].verdict is Verdict.CLEAN


def test_a_slide_to_the_written_note_is_the_written_note(table, pickup):
    """F in position V is string 4 fret 3 on no map: it is string 5 fret 8."""
    table.open("F4 h, G4 h")
    pickup.send(0x94, 51, 80)
    pickup.send(0x94, 52, 80)
    pickup.send(0x94, 53, 80)
    table.wait(0.2)
    assert [verdict.verdict for verdict in table.screen.take.answered] == [Verdict.CLEAN]


def test_unfiltered_everything_counts_as_it_comes(table, pickup):
    table.context.change_settings(Settings(limits=NO_LIMITS))
    table.open("F4 h, G4 h")
    pickup.pluck(Place(2, 3), lasts_s=0.001)
    assert len(table.screen.take.tries) == 1


def test_in_places_it_asks_for_help_and_is_never_a_wrong_answer(table):
    table.open("F4 h, G4 h")
    table.pluck_free_string(1)
    assert len(table.screen.view.marks) == 1
    assert table.screen.take.tries == ()
    table.pluck_free_string(1)
    assert table.screen.view.sketch == Place(5, 8)


def test_twice_ends_a_take(table):
    table.open("F4 h, G4 h")
    table.play(53)
    table.pluck_free_string(2)
    assert table.screen_name == "ResultScreen"


def test_a_guitar_that_is_heard_is_judged_where_it_sounds(table):
    """A first note an octave off is a wrong one: no octave is settled by it, as a keyboard's is."""
    heard = HeardGuitar(table)
    table.open("F4 q, G4 h.")
    heard.sound(65)
    assert table.screen.take.octaves == 0
    assert table.screen.take.asked.n == 1
    table.key(pygame.K_UP)
    heard.sound(53)
    heard.sound(55)
    table.wait(1.2)
    assert table.verdicts == ["wrong pitch", "clean"]
    assert table.logged("SELECT kind FROM instrument JOIN take USING (instrument)") == [("guitar heard",)]


def test_the_home_is_written_under_each_note_that_is_heard(table):
    heard = HeardGuitar(table)
    table.open("F4 q, G4 h.")
    heard.sound(53)
    assert [mark.mark for mark in table.screen.view.marks] == [PlaceMark(place=Place(5, 8), home=True)]


def test_that_no_place_is_heard_is_said_once(table):
    heard = HeardGuitar(table)
    table.open("F4 q, G4 h.")
    assert "Pitch and time are judged" in table.context.window.message
    table.context.window.message = ""
    heard.sound(53)
    table.open("F4 q, G4 h.")
    heard.sound(53)
    assert table.context.window.message == ""
    table.play(53, False)
    assert "does not report strings" in table.context.window.message


def test_what_is_not_heard_surely_gets_a_question_mark_and_the_page_waits(table):
    heard = HeardGuitar(table)
    table.open("F4 q, G4 h.")
    note = heard.sound(54, sure=False)
    assert [mark.mark for mark in table.screen.view.marks] == [UnsureMark()]
    assert table.screen.take.asked.n == 1
    assert table.screen.view.status == ""
    heard.turns_out(note, sounding=53, sure=True)
    assert table.screen.take.asked.n == 2
    assert UnsureMark() not in [mark.mark for mark in table.screen.view.marks]


def test_a_string_touched_in_the_middle_of_a_line_is_no_command_and_no_answer(table):
    heard = HeardGuitar(table)
    table.open("F4 q, G4 q, A4 h")
    heard.sound(53)
    heard.pluck_free()
    heard.sound(55)
    heard.sound(40)
    heard.sound(57)
    table.wait(1.2)
    assert table.verdicts == ["clean"] * 3


def test_the_free_string_heard_twice_stops(table):
    heard = HeardGuitar(table)
    table.open("F4 q, G4 q, A4 h")
    heard.sound(53)
    heard.pluck_free(2)
    assert table.verdicts == ["clean", "unread", "unread"]


def test_music_that_goes_down_to_the_free_string_has_that_note_answered(table, heard_or_not):
    """The note is off the map; nothing else is free there, so nothing commands."""
    request = table.open("E3 q, G4 h.")
    assert request.soundings == {40, 55}
    heard_or_not(40)
    assert table.screen.take.asked.n == 2
    assert not any("open" in "".join(hint.labels) for hint in table.screen.view.keys)


@pytest.fixture(params=["heard", "by a pickup"])
def heard_or_not(request, table):
    if request.param == "heard":
        return HeardGuitar(table).sound
    return lambda sounding: table.play(sounding, Place(6, 0))


def test_the_page_asks_for_a_note_once_more_that_could_not_be_told_and_calls_nothing_wrong(table):
    heard = HeardGuitar(table)
    table.open("F4 q, G4 q, A4 h", key=-1)
    heard.sound(53)
    heard.sound(67, sure=False, wait_s=0.5)
    assert table.screen.view.status == ""
    heard.sound(67, sure=False, wait_s=0.5)
    assert table.screen.view.status == "That was not heard surely: play it once more."
    assert table.screen.take.asked.n == 2
    heard.sound(55, wait_s=0.6)
    heard.sound(57, sure=False)
    table.wait(2.0)
    assert table.screen_name == "ResultScreen"
    assert table.verdicts == ["clean", "unsure", "unsure"]
    assert table.logged("SELECT sounding, sure FROM played ORDER BY i") == [
        *((53, 1), (67, 0), (67, 0), (55, 1), (57, 0))
    ]
    assert table.logged("SELECT verdict FROM verdict ORDER BY n") == [("clean",), ("unsure",), ("unsure",)]


def test_a_note_told_unsurely_first_and_surely_then_is_judged_as_what_it_was(table):
    heard = HeardGuitar(table)
    table.open("F4 q, G4 q, A4 h", key=-1)
    heard.sound(53)
    doubtful = heard.sound(67, sure=False)
    heard.turns_out(doubtful, sounding=55, sure=True)
    assert table.screen.take.asked.n == 3
    heard.sound(57)
    table.wait(2.0)
    assert table.verdicts == ["clean", "clean", "clean"]


def test_a_take_that_begins_with_help_is_of_the_guitar_that_is_heard_all_the_same(table):
    """Cut short, it would be taken for a keyboard's, an octave off, else."""
    heard = HeardGuitar(table)
    table.open("F4 q, G4 h.")
    table.key(pygame.K_F5)
    heard.sound(65)
    assert table.logged("SELECT name, kind FROM instrument JOIN take USING (instrument)") == [
        ("USB microphone", "guitar heard")
    ]

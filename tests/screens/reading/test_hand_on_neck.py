"""Free reading at the table: any place is right, and the way of the hand is drawn on the neck. Frets are counted by
hand on a guitar in standard tuning (trade).
"""

from datetime import date

import pygame
import pytest

from game.coach.stages import Stage
from game.instrument.decoding.played import NoteRevised, NoteStarted, PlayedNote
from game.neck.tuning import Place
from game.player.player_coach import PlayerCoach
from game.player.player_notes import PlayerNotes
from game.player.settings import InstrumentKind
from game.practice_log.rows.played_rows import raw_take
from game.practice_log.rows.take_rows import takes_where
from game.practice_log.writing.cut_short import judged_again
from game.report.logged_take import own_takes, takes_on
from game.screens.reading.hand_on_neck import HAND_HEIGHTS, HandOnNeck
from game.screens.routes import ToPage
from tests.screens.heard_guitar import MICROPHONE
from tests.screens.told_keys import told_keys

ROWS = ("C5 q, D5 q, E5 q, F5 q", "G5 q, A5 q, B5 q, C6 q")
SOUNDINGS = (60, 62, 64, 65, 67, 69, 71, 72)
IN_FIVE = ((3, 5), (3, 7), (2, 5), (2, 6), (2, 8), (1, 5), (1, 7), (1, 8))
ON_ONE_STRING = tuple((3, sounding - 55) for sounding in SOUNDINGS)


def page_of(table, stage=Stage.TIME):
    table.go(ToPage(table.open(*ROWS).in_stage(stage), chosen=True))
    return table.screen


def free_page(table):
    page_of(table)
    table.key(pygame.K_SEMICOLON, ";")
    return table.screen


def strike(table, sounding, place, gap_s=0.5):
    """A note at a place, and as much time until the next in few frames."""
    note = PlayedNote(
        started_s=table.clock.now_s(), sounding=sounding, place=place and Place(*place), source="test guitar"
    )
    table.app.note_started(NoteStarted(note=note, channel=1))
    table.wait(gap_s, frame_s=gap_s / 2)


def play(table, places, upto=8):
    for sounding, place in list(zip(SOUNDINGS, places, strict=True))[:upto]:
        strike(table, sounding, place)


def result(table, places=ON_ONE_STRING):
    free_page(table)
    play(table, places)
    return shown(table)


def shown(table):
    table.wait(1.5, frame_s=0.5)
    assert table.screen_name == "ResultScreen"
    return table.screen


def test_a_key_lays_the_page_for_free_reading_and_for_the_homes_again(table):
    page = page_of(table)
    table.picture()
    assert told_keys(table.context.window.told_keys)[";"] == "any place"
    table.key(pygame.K_SEMICOLON, ";")
    table.picture()
    assert table.screen.request.free_reading
    assert table.screen.request.passage == page.request.passage
    assert told_keys(table.context.window.told_keys)[";"] == "at the homes"
    assert "any place is right" in table.screen.view.status
    table.key(pygame.K_SEMICOLON, ";")
    assert not table.screen.request.free_reading


def test_where_pitch_and_rhythm_are_not_asked_together_there_is_no_free_reading(table):
    for stage in (Stage.PLACES, Stage.LETTERS, Stage.RHYTHM):
        page = page_of(table, stage)
        table.picture()
        assert ";" not in told_keys(table.context.window.told_keys)
        table.key(pygame.K_SEMICOLON, ";")
        assert table.screen is page


def test_what_tells_no_places_says_why_it_cannot_be_read_freely(table):
    for settings, why in (
        ({"instrument": InstrumentKind.KEYBOARD}, "keys have one place for each note"),
        ({"instrument": InstrumentKind.NO_PICKUP}, "nobody knows where your hand was"),
        ({"instrument": InstrumentKind.GUITAR, "microphone": MICROPHONE}, "a microphone hears the note"),
    ):
        table.settle(**settings)
        page = page_of(table)
        table.key(pygame.K_SEMICOLON, ";")
        assert table.screen is page
        assert why in page.view.status


def test_a_note_is_right_wherever_it_is_taken_and_the_way_of_the_hand_is_told(table):
    """After a silence its first note, in any place, begins the same again."""
    screen = result(table)
    summary = screen.finished.summary
    assert (summary.asked, summary.right_notes) == (8, 8)
    assert screen._words.of_hand
    assert screen._words.why.startswith("Your hand moved ")
    assert screen._words.why.endswith("from bar 1 on it could have stayed in V.")
    table.wait(1.0, frame_s=0.5)
    strike(table, 60, (5, 15))
    assert table.screen is not screen
    assert table.screen.request.free_reading


@pytest.mark.parametrize(
    ("places", "lines"), [(ON_ONE_STRING, {"your hand", "an easy way"}), (IN_FIVE, {"your hand"})], ids=("far", "easy")
)
def test_which_line_is_which_stands_above_the_neck(table, drawn, places, lines):
    result(table, places)
    table.picture()
    assert {"your hand", "an easy way"} & drawn.whole.keys() == lines


def test_the_coach_and_what_is_known_of_the_map_hear_nothing_of_free_reading(table):
    """Nor at the next start, when all is made of the log again; there such a take stands without homes, and whoever
    counts right notes counts them.
    """
    session = table.context.session
    free_page(table)
    coach, mastery = session.coach.state, session.notes.mastery
    heard = table.logged("SELECT count(*) FROM coach_event")
    play(table, ON_ONE_STRING)
    shown(table)
    assert session.coach.state is coach
    assert table.logged("SELECT count(*) FROM coach_event") == heard
    assert table.logged("SELECT count(*) FROM asked_note WHERE string IS NOT NULL") == [(0,)]
    again = PlayerCoach(session.log, target_bpm=lambda: session.settings.target_bpm)
    assert again.state.records == coach.records
    for notes in (session.notes, PlayerNotes(session.log)):
        known = notes.mastery
        assert (
            (known.items, known.reviews, known.ink, known.map_days) == (mastery.items, {}, {}, {}) == ({}, {}, {}, {})
        )
    with own_takes(session.log.path, "") as found:
        (take,) = takes_on(found, date.fromordinal(table.day))
    assert take.clean_share == 1
    assert take.numbered.logged.begun.free_on is not None


def test_a_take_judged_after_the_program_was_stopped_is_judged_without_homes_too(table):
    free_page(table)
    play(table, ON_ONE_STRING, upto=4)
    log = table.context.session.log
    assert log.flush()
    with log.reading() as connection:
        (take,) = takes_where(connection, "1", ())
        judgement = judged_again(take.begun, raw_take(connection, take.take))
    assert [verdict.verdict.value for verdict in judgement.verdicts] == ["clean"] * 4 + ["unread"] * 4


def test_a_take_that_is_left_on_the_way_tells_no_way_of_the_hand(table):
    free_page(table)
    play(table, ON_ONE_STRING, upto=4)
    table.key(pygame.K_ESCAPE)
    assert "Four of eight notes read." in table.screen._words.why
    assert "once every note of a phrase is right" in table.screen._words.why
    assert table.screen._hand_on_neck is None


def test_a_pitch_struck_on_two_strings_is_one_note_at_the_place_that_came_first(table):
    free_page(table)
    for at, (sounding, place) in enumerate(zip(SOUNDINGS, IN_FIVE, strict=True)):
        strike(table, sounding, place, gap_s=0.1 if at == 2 else 0.5)
        if at == 2:
            strike(table, sounding, (1, 0), gap_s=0.4)
    shown(table)
    hand = table.screen._hand.shown
    assert hand is not None
    assert (hand.played.steps[2].place.string, hand.played.steps[2].place.fret) == (2, 5)


def test_a_slide_is_taken_where_it_arrived(table):
    page = free_page(table)
    struck = PlayedNote(started_s=table.clock.now_s(), sounding=59, place=Place(3, 4), source="test guitar")
    page.on_played(struck)
    table.wait(0.05)
    arrived = PlayedNote(
        started_s=struck.started_s,
        sounding=60,
        place=Place(3, 5),
        source="test guitar",
        arrived_s=table.clock.now_s(),
    )
    page.on_revised(NoteRevised(before=struck, after=arrived, channel=3))
    table.wait(0.4)
    for sounding, place in zip(SOUNDINGS[1:], IN_FIVE[1:], strict=True):
        strike(table, sounding, place)
    shown(table)
    first = table.screen._hand.shown.played.steps[0]
    assert (first.place.string, first.place.fret) == (3, 5)


def test_notes_without_places_leave_the_way_unknown(table):
    result(table, [None] * 8)
    assert "No place came with these notes" in table.screen._words.why
    assert table.screen.finished.summary.right_notes == 8


def test_left_handed_the_neck_is_mirrored_and_each_way_lies_within_it(table):
    hand = result(table)._hand.shown
    neck_map = table.context.settings.neck_map()
    for left_handed in (False, True):
        on_neck = HandOnNeck(hand=hand, neck_map=neck_map, left_handed=left_handed)
        neck = on_neck.neck_in(70, 300, 1100, HAND_HEIGHTS[1])
        xs = [neck.middle_of(step.place.string, step.place.fret)[0] for step in hand.played.steps]
        assert xs == sorted(xs, reverse=left_handed)
        for step in (*hand.played.steps, *hand.easy.steps):
            x, y = neck.middle_of(step.place.string, step.place.fret)
            assert 70 <= x <= 1170
            assert 300 <= y <= 300 + HAND_HEIGHTS[1]


def test_neck_and_page_leave_each_other_room_where_much_is_told(table):
    rows = (*ROWS, *ROWS[::-1], *ROWS)
    table.go(ToPage(table.open(*rows).in_stage(Stage.TIME).whole_or_passages().freely(), chosen=True))
    for note in table.screen.take.expected:
        strike(table, note.sounding, (3, note.sounding - 55))
    sheet, unit = shown(table)._sheet_on(None), table.context.sheet.unit
    assert "phrases played whole" in sheet.words.why
    assert sheet.hand is not None
    assert sheet.page_area.bottom <= sheet._hand_top * unit + 1

"""A take against the click."""

from dataclasses import replace
from itertools import pairwise

import pygame
import pytest

from game.coach.stages import Pulse, Stage
from game.desk.count_drawing import Count
from game.instrument.decoding.played import NoteStarted, PlayedNote
from game.judging.verdicts import EventKind, Verdict
from game.music.written import HeadId
from game.neck.tuning import Place
from game.player.settings import InstrumentKind
from game.practice.pencilled import PlayedHead
from game.screens.routes import ToPage, ToShelf
from tests.sampling import sample
from tests.screens.heard_guitar import MICROPHONE, HeardGuitar
from tests.screens.table import Table
from tests.screens.timed_pages import SOUNDINGS, metronome_page, sight_request


def _at_60(request):
    from game.coach.decisions import Decision, Offer

    return Decision(offer=Offer.AGAIN, stage=request.stage, pulse=Pulse.METRONOME, tempo_bpm=60, reason=(), passage="x")


@pytest.fixture
def page(table):
    table.go(ToPage(sight_request(table), chosen=True))
    return table.screen


def test_against_the_click_the_take_goes_on_from_the_bar_it_was_in(table, pickup):
    request = table.open("F4 q, G4 q, A4 q, Bb4 q", "C5 q, Bb4 q, A4 q, G4 q")
    request = request.in_stage(Stage.TIME)
    table.go(ToPage(request.as_decided(_at_60(request)), chosen=True))
    page = table.screen
    page.begin()
    for note in page.take.expected[:6]:
        table.wait(max(0.0, page.take.zero_s + page.take._grid.onsets_s[note.n - 1] - table.clock.now_s()))
        pickup.pluck(note.home.place, lasts_s=0.2)
    pickup.pull_out()
    assert not page.running
    table.wait(3.0)
    pickup.plug_in()
    pickup.pluck(page.take.expected[4].home.place)
    assert page.running
    for note in page.take.expected[4:]:
        table.wait(max(0.0, page.take.zero_s + page.take._grid.onsets_s[note.n - 1] - table.clock.now_s()))
        pickup.pluck(note.home.place, lasts_s=0.2)
    table.wait(2.5)
    assert table.screen_name == "ResultScreen"
    counts = table.screen.finished.summary.counts
    assert counts[Verdict.MISSED] == counts[Verdict.WRONG_PITCH] == 0


def test_it_can_be_read_with_the_metronome(table):

    table.go(ToPage(replace(sight_request(table), tempo_bpm=60), chosen=True))
    page = table.screen
    assert page.view.covered
    table.key(pygame.K_SPACE)
    assert not page.view.covered
    assert not page.running
    table.key(pygame.K_SPACE)
    assert page.running


def test_when_the_time_to_look_is_over_the_count_in_begins_by_itself(table):
    table.go(ToPage(replace(sight_request(table), tempo_bpm=60), chosen=True))
    page = table.screen
    table.wait(60.0, frame_s=0.5)
    assert page.view.covered
    table.key(pygame.K_RETURN)
    table.wait(29.0, frame_s=0.5)
    assert not page.running
    table.wait(2.0, frame_s=0.5)
    assert page.running
    assert page.take.zero_s > table.clock.now_s()


def told(result):
    """The sentences of a result, besides its advice."""
    return result._words.why, *result._words.beside


def test_a_take_in_time_is_clean_and_its_lean_is_told_in_words(table):
    metronome_page(table)
    table.play_in_time(offset_s=-0.03)
    table.wait(2.0)
    assert table.verdicts == ["clean"] * 7
    finished = table.screen.finished
    assert finished.summary.bias_ms == pytest.approx(-30, abs=0.5)
    assert "All seven in time: you lean early." in told(table.screen)
    assert finished.tempo_bpm == 100


def test_the_first_note_at_its_home_after_a_second_of_silence_begins_the_count_in(table):
    page = metronome_page(table)
    table.play(57)
    assert not page.running
    table.play(53)
    assert not page.running
    table.wait(1.1)
    table.play(53, Place(4, 3))
    assert not page.running
    table.wait(1.1)
    table.play(53)
    assert page.running


def test_the_count_in_is_a_bar_and_is_counted_on_the_page(table):
    page = metronome_page(table)
    page.begin()
    assert page.take.position(table.clock.now_s()) == pytest.approx(-4, abs=0.5)
    counted = []
    for _ in range(240):
        table.wait(0.01, 0.01)
        if page.view.count and page.take.position(table.clock.now_s()) < 0:
            counted.append(page.view.count)
    assert list(dict.fromkeys(counted)) == [Count(beat, 4) for beat in (1, 2, 3, 4)]


def test_print_turns_to_ink_at_once_and_nothing_is_written_before_the_end(table):
    page = metronome_page(table)
    table.play_in_time(wrong={2}, until=4)
    assert set(page.view.colours) == {HeadId(0, 0), HeadId(0, 2), HeadId(0, 3)}
    table.wait(2.5)
    assert page.running
    assert page.view.marks == []


def test_where_it_is_wished_a_bar_is_pencilled_once_it_has_been_left(table):
    table.settle(marks_in_take=True)
    page = metronome_page(table)
    table.play_in_time(wrong={2}, until=4)
    assert page.view.marks == []
    table.wait(0.8 + 0.3)
    assert [mark.head for mark in page.view.marks] == [HeadId(0, 1)]
    assert isinstance(page.view.marks[0].mark, PlayedHead)
    assert set(page.view.colours) == {HeadId(0, 0), HeadId(0, 2), HeadId(0, 3)}


def test_a_take_nobody_plays_in_is_no_take(table):
    table.go(ToShelf())
    page = metronome_page(table)
    page.begin()
    table.wait(9.0)
    assert table.screen_name == "ShelfScreen"


def test_stopping_half_way_leaves_the_rest_unread(table):
    metronome_page(table)
    table.play_in_time(until=3)
    table.wait(0.3)
    table.key(pygame.K_ESCAPE)
    assert table.verdicts[:3] == ["clean"] * 3
    assert set(table.verdicts[4:]) == {"unread"}


def test_a_pause_counts_in_again_to_the_bar_that_was_interrupted(table):
    page = metronome_page(table)
    table.play_in_time(until=5)
    table.wait(0.1)
    table.key(pygame.K_SPACE, " ")
    assert not page.running
    assert "bar 2" in page.view.status
    table.wait(20.0)
    page.begin()
    assert page.take.position(table.clock.now_s()) == pytest.approx(0, abs=0.5)
    for n in (5, 6, 7):
        due_s = page.take.zero_s + page.take._grid.onsets_s[n - 1]
        table.wait(due_s - table.clock.now_s())
        table.play(SOUNDINGS[n - 1])
    table.wait(3.0)
    assert table.verdicts == ["clean"] * 7
    assert [event.kind for event in table.screen.finished.judgement.events] == [EventKind.RESTART]
    assert not table.screen.finished.summary.kept_going


def test_going_back_a_bar_reads_it_again(table):
    page = metronome_page(table)
    table.play_in_time(until=6)
    table.key(pygame.K_BACKSPACE)
    assert "bar 1" in page.view.status
    assert page.view.colours == {}


def test_in_rhythm_any_note_will_do(table):
    page = metronome_page(table, stage=Stage.RHYTHM)
    page.begin()
    for note in page.take.expected:
        table.wait(page.take.zero_s + page.take._grid.onsets_s[note.n - 1] - table.clock.now_s())
        table.play(50)
    table.wait(2.0)
    assert table.verdicts == ["clean"] * 7


def test_one_written_note_a_click_leaves_the_rhythm_out(table):
    page = metronome_page(table, one_a_click=True, stage=Stage.PLACES)
    table.play_in_time()
    onsets = page.take._grid.onsets_s
    assert [round(after - before, 3) for before, after in pairwise(onsets)] == [0.6] * 6
    table.wait(2.0)
    assert table.verdicts == ["clean"] * 7


def test_a_loop_goes_on_without_a_gap_and_each_round_is_a_take(table):
    page = metronome_page(table, looping=True)
    table.play_in_time()
    first_zero_s = page.take.zero_s
    table.wait(1.5)
    assert page.take.zero_s == pytest.approx(first_zero_s + page._loop_s)
    for note in page.take.expected:
        table.wait(page.take.zero_s + page.take._grid.onsets_s[note.n - 1] - table.clock.now_s())
        table.play(note.sounding)
    table.key(pygame.K_ESCAPE)
    table.context.session.log.flush()
    with table.context.session.log.reading() as connection:
        (takes,) = connection.execute("SELECT count(*) FROM judgement").fetchone()
    assert takes == 2


def test_the_ladder_beside_a_loop_has_the_take_of_the_round_that_is_over(table):
    page = metronome_page(table, looping=True)

    def takes_now():
        return [len(rung.takes) for rung in page.view.climb.rungs if rung.tempo_bpm == 100]

    assert takes_now() == [0]
    table.play_in_time()
    table.wait(1.5)
    assert page.running
    assert takes_now() == [1]


@pytest.mark.parametrize("frame_s", sample([1 / 10, 1 / 30, 1 / 60, 1 / 240], by_default=1))
def test_the_frame_rate_changes_no_verdict_and_no_offset(tmp_path, frame_s):
    table = Table(tmp_path)
    page = metronome_page(table)
    page.begin()
    for note in page.take.expected:
        due_s = page.take.zero_s + page.take._grid.onsets_s[note.n - 1] + 0.021 * (note.n % 3)
        table.wait(max(0.0, due_s - table.clock.now_s()) + 0.004, frame_s)
        sounding = note.sounding
        place = table.context.settings.neck_map().home_of(sounding).place
        table.app.note_started(NoteStarted(note=PlayedNote(started_s=due_s, sounding=sounding, place=place), channel=1))
    table.wait(2.0, frame_s)
    found = [(v.verdict, round(v.offset_ms, 3)) for v in table.screen.finished.judgement.verdicts]
    assert found == [(Verdict.CLEAN, 21.0 * (n % 3)) for n in range(1, 8)]


def test_a_device_that_vanishes_in_a_timed_take_pauses_it(table):
    page = metronome_page(table)
    table.play_in_time(until=3)
    page.device_lost("blue pickup", was_playing=True)
    assert not page.running
    assert table.context.window.message == "blue pickup is gone. Bar 1 waits."
    assert page.view.status == "Paused. Space counts in to bar 1."


@pytest.mark.parametrize("kind", [InstrumentKind.KEYBOARD, InstrumentKind.GUITAR])
def test_a_keyboard_that_vanishes_is_told_by_its_name_whether_or_not_anybody_said_that_it_is_one(table, kind):
    table.settle(instrument=kind)
    page = metronome_page(table)
    table.play_in_time(until=6)
    page.device_lost("blue piano", was_playing=True)
    assert table.context.window.message == "blue piano is gone. Bar 2 waits."


def test_sound_that_is_lost_in_a_take_is_told_and_the_take_goes_on(table):
    page = metronome_page(table)
    table.play_in_time(until=3)
    page.sound.device_lost()
    table.wait(0.2)
    assert page.running
    assert page.view.count


def test_with_the_click_once_pauses_and_three_times_goes_slower(table):
    from game.screens.routes import ToPage

    request = table.open("F4 q, G4 q, A4 q, Bb4 q", "C5 w").in_stage(Stage.TIME)
    table.go(ToPage(request, chosen=True))
    table.pluck_free_string(3)
    assert table.screen.request.tempo_bpm is not None
    table.screen.begin()
    table.wait(1.0)
    table.pluck_free_string(1)
    assert not table.screen.running


def _play_on(table, page, numbers, *, late_s=0.0):
    """Notes of the page's take, each so late by the click."""
    for n in numbers:
        due_s = page.take.zero_s + page.take._grid.onsets_s[n - 1] + late_s
        table.wait(max(0.0, due_s - table.clock.now_s()))
        table.play(page.take.expected[n - 1].sounding)


def test_who_stops_two_seconds_near_the_end_is_waited_for_and_every_note_counts(table):
    page = metronome_page(table)
    table.play_in_time(until=5)
    _play_on(table, page, (6, 7), late_s=2.0)
    assert table.screen is page, "by the click it was over more than a second ago"
    table.wait(5.5)
    assert table.screen_name == "ResultScreen"
    assert table.screen.finished.summary.right_notes == 7


def test_while_the_page_waits_the_click_goes_on(table):
    page = metronome_page(table)
    table.play_in_time(until=5)
    table.wait(4.0)
    assert table.screen is page
    assert page.sound.metronome.beat(table.clock.now_s()) is not None
    onset, _ = page.sound.metronome.beat(table.clock.now_s())
    table.wait(0.7)
    assert page.sound.metronome.beat(table.clock.now_s())[0] is not onset


def test_the_last_note_that_comes_after_the_end_begins_no_other_take(table):
    """The tune begins and ends on the same note, as most do."""
    request = table.open("F4 q, G4 q, A4 q, F4 q", key=-1)
    table.go(ToPage(replace(request, stage=Stage.TIME, pulse=Pulse.METRONOME, tempo_bpm=100), chosen=True))
    table.play_in_time(until=3)
    table.wait(9.0)
    assert table.screen_name == "ResultScreen"
    table.play(53)
    assert table.screen_name == "ResultScreen"
    table.wait(1.1)
    table.play(53)
    assert table.screen_name != "ResultScreen", "after that the first note begins again"


def test_a_note_that_sounded_before_a_page_was_opened_does_not_begin_it(table):
    page = metronome_page(table)
    note = PlayedNote(started_s=table.clock.now_s() - 0.5, sounding=53, place=Place(5, 8))
    table.app.note_started(NoteStarted(note=note, channel=1))
    assert not page.running
    table.play(53)
    assert not page.running, "half a second is no silence"
    table.wait(1.1)
    table.play(53)
    assert page.running


def _asleep(table, seconds):
    table.clock.sleep(seconds)


def _stopped(table, seconds):
    table.clock.advance(seconds)


@pytest.mark.parametrize("gone", [_asleep, _stopped])
def test_a_computer_that_was_not_there_makes_the_take_wait_and_holds_nothing_against_the_player(table, gone):
    page = metronome_page(table)
    table.play_in_time(until=5)
    table.wait(0.1)
    gone(table, 7.0)
    table.app.step([])
    assert not page.running
    assert page.view.status == (
        "The computer stood still for a while; nothing is held against you. Space counts in to bar 2."
    )
    table.wait(1.0)
    page.begin()
    _play_on(table, page, (5, 6, 7))
    table.wait(2.5)
    finished = table.screen.finished
    assert (table.verdicts, finished.judgement.events) == (["clean"] * 7, ())
    assert [count.figure for count in table.screen._words.counts] == [7, 7, 2]


def test_a_window_dragged_for_three_seconds_loses_nothing_where_notes_kept_coming(table):
    """Frames stand still meanwhile; notes carry their own times, and are delivered after it all at once."""
    page = metronome_page(table)
    table.play_in_time(until=2)
    began_s = table.clock.now_s()
    table.clock.advance(3.0)
    for note in page.take.expected[2:]:
        due_s = page.take.zero_s + page.take._grid.onsets_s[note.n - 1]
        if due_s < began_s + 3.0:
            kept = PlayedNote(started_s=due_s, sounding=note.sounding, place=note.home.place, source="test guitar")
            table.app.note_started(NoteStarted(note=kept, channel=1))
    table.app.step([])
    assert page.running
    _play_on(table, page, [n for n in (6, 7) if n not in page.take.shown])
    table.wait(2.5)
    assert table.verdicts == ["clean"] * 7


def test_a_count_in_that_the_computer_slept_through_begins_again(table):
    page = metronome_page(table)
    page.begin()
    table.clock.sleep(60)
    table.app.step([])
    assert not page.running
    assert "bar 1" in page.view.status


def test_the_last_note_of_a_round_that_comes_late_is_none_of_the_next(table):
    request = table.open("F4 q, G4 q, A4 q, Bb4 q", key=-1)
    looped = replace(request, stage=Stage.TIME, pulse=Pulse.METRONOME, tempo_bpm=100, looping=True)
    table.go(ToPage(looped, chosen=True))
    page = table.screen
    table.play_in_time(until=3)
    first = page.take
    table.wait(0.6 + 0.6 + 0.1)
    assert page.take is not first
    table.play(58)
    assert (page.take.heard_anything, first.so_far(table.clock.now_s()).summary.right_notes) == (False, 4)
    _play_on(table, page, (2, 3, 4))
    table.key(pygame.K_ESCAPE)
    assert table.logged("SELECT count(*) FROM judgement") == [(2,)]


def test_a_loop_that_was_paused_goes_round_at_its_end_and_not_before(table):
    page = metronome_page(table, looping=True)
    table.play_in_time(until=5)
    table.key(pygame.K_SPACE, " ")
    table.wait(1.0)
    page.begin()
    take = page.take
    _play_on(table, page, (5, 6, 7))
    assert page.take is take


def test_the_page_waits_for_who_plays_on_behind_the_click(table):
    request = table.open(*["F4 q, G4 q, A4 q, Bb4 q", "C5 q, Bb4 q, A4 q, G4 q"] * 2, key=-1)
    table.go(ToPage(replace(request, stage=Stage.TIME, pulse=Pulse.METRONOME, tempo_bpm=80), chosen=True))
    page = table.screen
    seen = []
    page.view.music.follow = seen.append
    table.play_in_time(until=6)
    assert seen[-1] == pytest.approx(page.take.position(table.clock.now_s()), abs=0.1)
    _play_on(table, page, range(7, 13), late_s=2.0)
    behind = page.take.position(table.clock.now_s()) - seen[-1]
    assert behind * page.take.quarter_s == pytest.approx(2.0, abs=0.3)
    assert max(abs(after - before) for before, after in pairwise(seen)) < 0.5, "it glides"


def test_where_nothing_is_heard_the_page_goes_by_the_click(table):
    page = metronome_page(table)
    page.begin()
    table.wait(4.0)
    assert page.take.waits_s == 0.0


def play_heard(table, heard, *, wrong=()):
    """The waiting page from its first note, which begins, to its end, by ear alone."""
    page = table.screen
    table.wait(1.2)
    heard.sound(page.take.expected[0].sounding)
    for note in page.take.expected:
        due_s = page.take.zero_s + page.take._grid.onsets_s[note.n - 1]
        table.wait(max(0.0, due_s - table.clock.now_s()))
        heard.sound(note.sounding + (1 if note.n in wrong else 0))


def test_a_guitar_that_is_heard_begins_and_is_judged_by_pitch_and_time(table):
    heard = HeardGuitar(table)
    metronome_page(table)
    play_heard(table, heard, wrong={3})
    table.wait(3.0)
    assert table.verdicts == ["clean", "clean", "wrong pitch", "clean", "clean", "clean", "clean"]


def test_what_is_heard_in_the_count_in_is_no_answer(table):
    """Clicks, the note that began, and what rings with it."""
    heard = HeardGuitar(table)
    page = metronome_page(table)
    table.key(pygame.K_SPACE)
    for sounding in (53, 69, 45, 53):
        heard.sound(sounding, wait_s=0.3)
    assert not page.take.heard_anything
    table.wait(page.take.zero_s - table.clock.now_s())
    heard.sound(53)
    assert [verdict.verdict for verdict in page.take.shown.values()] == [Verdict.CLEAN]


def test_a_string_touched_while_the_click_goes_pauses_nothing_and_twice_stops(table):
    heard = HeardGuitar(table)
    page = metronome_page(table)
    assert "pause" in str(page.view.keys)
    heard.pluck_free()
    assert page.running
    assert "twice or more: stop" in str(page.view.keys)
    table.wait(page.take.zero_s - table.clock.now_s())
    heard.sound(53)
    heard.pluck_free()
    assert page.running
    heard.pluck_free(2)
    assert table.screen is not page


def test_nothing_is_begun_by_what_was_not_heard_surely(table):
    heard = HeardGuitar(table)
    page = metronome_page(table, stage=Stage.RHYTHM)
    table.wait(1.2)
    heard.sound(53, sure=False)
    assert not page.running
    heard.sound(53)
    assert page.running


def test_an_input_that_is_gone_is_called_by_its_name(table):
    heard = HeardGuitar(table)
    page = metronome_page(table)
    heard.pluck_free()
    page.device_lost(MICROPHONE, was_playing=True)
    assert table.context.window.message.startswith(MICROPHONE)
    assert not page.running

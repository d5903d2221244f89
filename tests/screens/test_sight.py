"""First sight: a page that is covered until it is turned up, as notated, read once through without help."""

import pygame
import pytest

from game.coach.stages import Stage
from game.judging.verdicts import Verdict
from game.music.score import BarMarks
from game.music.written import HeadId
from game.practice.take_request import request_for
from game.screens.reading.notated_music import NotatedMusic
from game.screens.routes import ToPage
from game.text.catalogue import tell_all
from tests.made import score


@pytest.fixture
def sight_request(table):
    """Two bars, of which the first is played twice."""
    made = score("F4 q, G4 q, A4 q, G4 q", "F4 w")
    from dataclasses import replace

    first = replace(made.bars[0], marks=BarMarks(repeat_end=2))
    repeated = replace(made, bars=(first, *made.bars[1:]))
    return request_for(repeated, table.context.settings.neck_map()).at_sight()


@pytest.fixture
def page(table, sight_request):
    table.go(ToPage(sight_request, chosen=True))
    return table.screen


def play_through(table, page, wrong=()):
    table.play(40, None)
    for note in page.take.expected:
        table.play(note.sounding + (2 if note.n in wrong else 0))
        table.wait(0.5)
    table.wait(2.0)


def test_the_page_is_covered_until_a_note_or_space_turns_it_up(table, page):
    assert page.view.covered
    table.play(53)
    assert not page.view.covered
    assert page.take.at == 0


def test_space_turns_it_up_too(table, page):
    table.key(pygame.K_SPACE)
    assert not page.view.covered


def test_a_repeat_is_a_sign_on_the_page_and_its_notes_have_two_verdicts(table, page):
    assert isinstance(page.view.music, NotatedMusic)
    table.key(pygame.K_SPACE)
    page.view.draw(table.app.surface)
    assert page.view.music.note_box(HeadId(0, 0)).head == page.view.music.note_box(HeadId(1, 0)).head
    assert len(page.take.expected) == 9
    for note in page.take.expected:
        table.play(note.sounding + (2 if note.n == 6 else 0))
        table.wait(0.5)
    table.wait(2.0)
    assert table.screen_name == "ResultScreen"
    verdicts = {verdict.n: verdict.verdict for verdict in table.screen.finished.judgement.verdicts}
    assert verdicts[6] is Verdict.WRONG_PITCH
    assert verdicts[2] is not Verdict.WRONG_PITCH
    assert table.screen.finished.stage is Stage.SIGHT


def test_there_is_no_help_and_nothing_is_pencilled_while_it_is_read(table, page):
    table.key(pygame.K_SPACE)
    table.play(page.take.expected[0].sounding + 2)
    table.key(pygame.K_SPACE)
    table.key(pygame.K_o)
    assert not page.view.marks
    assert not page.view.colours


def test_it_is_kept_as_first_sight_and_other_music_comes_next(table, sight_request):
    table.go(ToPage(sight_request, chosen=True))
    page = table.screen
    table.key(pygame.K_SPACE)
    for note in page.take.expected:
        table.play(note.sounding)
        table.wait(0.5)
    table.wait(2.0)
    assert "first sight" in tell_all(table.screen.decision.reason)
    with table.context.session.log.reading() as connection:
        assert connection.execute("SELECT stage, sighting FROM take").fetchall() == [("sight", 1)]


def test_from_the_shelf_one_key_opens_a_tune_at_first_sight(table):
    table.key(pygame.K_f)
    assert table.screen.request.stage is Stage.SIGHT
    assert table.screen.view.covered


def test_it_can_be_read_with_the_metronome(table, sight_request):
    from dataclasses import replace

    table.go(ToPage(replace(sight_request, tempo_bpm=60), chosen=True))
    page = table.screen
    assert page.view.covered
    table.key(pygame.K_SPACE)
    assert page.running
    assert not page.view.covered

"""The book of pages that can be played: in ink with signature and date, or dashed as long as they wait."""

import shutil
from datetime import date

import pygame
import pytest

from game.desk.sheet import SMALLEST
from game.player.kept_signature import PlayerSignature
from game.screens.keys_sheet import keys_of
from game.screens.routes import ToBook
from game.screens.window_size import ORDINARY
from game.text.language import languages
from tests.sampling import sample
from tests.screens.progress.signed_pages import play_at_target, request_of, sign
from tests.screens.table import Table
from tests.speaking import speaking

TITLE = "Ode to Joy"


@pytest.fixture(scope="module")
def practised(tmp_path_factory):
    """The first two pages of a tune are signed off, the third is in time: the folder of the player, and the day."""
    folder = tmp_path_factory.mktemp("player")
    table = Table(folder)
    request = request_of(table, TITLE)
    sign(table, request, request.moved(1))
    play_at_target(table, request.moved(2), bpm=45)
    assert table.context.session.close() is None
    return folder, date.fromordinal(table.day)


@pytest.fixture
def signed(practised, tmp_path):
    """The book of that player, lying open."""
    folder, day = practised
    table = Table(shutil.copytree(folder, tmp_path / "copy"), day=day)
    table.go(ToBook())
    for _ in range(20):
        table.wait(0.05)
    return table


def heard(table, monkeypatch):
    played = []
    sound = table.context.devices.sound
    monkeypatch.setattr(sound, "play", lambda lines, _clock, accompaniment: played.append((lines, accompaniment)))
    return played


def name(table, *numbers):
    """The player has signed these pages, by their numbers in the book."""
    for number in numbers:
        table.context.session.log.facts.sign_page(table.screen.pages[number].figures.key)
    table.screen.read_anew()


def test_signed_pages_stand_first_with_their_day_and_what_is_in_time_waits(signed):
    pages = signed.screen.pages
    assert [(page.title, page.first) for page in pages] == [(TITLE, "5"), (TITLE, "1"), (TITLE, "9")]
    assert [page.signed is not None for page in pages] == [True, True, False]
    assert {page.signed.toordinal() for page in pages[:2]} == {signed.day - 1}


def test_each_page_has_a_picture_of_its_own_music_in_its_own_ink(signed):
    screen = signed.screen
    pictures = [screen._pictures.of(page.figures, signed=page.signed is not None) for page in screen.pages]
    assert all(pictures)
    assert len({picture.get_view("2").raw for picture in pictures}) == 3
    assert not screen.moving


def test_pages_out_of_sight_come_with_a_click_on_how_many_there_are(signed):
    screen = signed.screen
    screen._all = screen._all * 7
    signed.picture()
    above, below = screen._more
    assert (above.width, below.width > 0, screen._in_sight) == (0, True, range(8))
    signed.click(below.center)
    signed.picture()
    assert screen.chosen == 8
    assert screen._in_sight.start > 0
    signed.click(screen._more[0].center)
    signed.picture()
    assert (screen.chosen, screen._in_sight) == (0, range(8))


def test_enter_plays_a_signed_page_with_bass_and_chords_and_it_counts_as_heard(signed, monkeypatch):
    played = heard(signed, monkeypatch)
    name(signed, 0)
    signed.key(pygame.K_RETURN)
    (((line,), band),) = played
    located = signed.screen._pictures.located(signed.screen.page.figures)
    assert [note.sounding for note in line.notes] == [note.sounding for note in located.passage.notes]
    assert (band is not None) == any(bar.chords for bar in located.passage.score.bars)
    assert signed.context.session.log.facts.has_heard(located.passage)
    assert signed.screen_name == "BookScreen"


def test_space_stops_what_sounds_and_starts_it_again(signed, monkeypatch):
    played, stopped = heard(signed, monkeypatch), []
    sound = signed.context.devices.sound
    monkeypatch.setattr(sound, "stop", lambda: stopped.append(True))
    monkeypatch.setattr(type(sound.strings), "playing", property(lambda _: len(played) > len(stopped)))
    for count in range(1, 4):
        signed.key(pygame.K_SPACE, " ")
        assert (len(played), len(stopped)) == ((count + 1) // 2, count // 2)


def test_what_sounds_ends_when_another_sheet_is_taken(signed, monkeypatch):
    stopped = []
    monkeypatch.setattr(signed.context.devices.sound, "stop", lambda: stopped.append(True))
    signed.key(pygame.K_m, "m")
    assert (signed.screen_name, stopped) == ("MapScreen", [True])


@pytest.mark.parametrize("by", sample(["Enter", "a click"], by_default=1))
def test_a_page_that_was_earned_and_left_without_a_name_is_signed_from_the_book(signed, by):
    """Esc on the result or on the page itself leaves it so."""
    page = signed.screen.page
    if by == "Enter":
        signed.key(pygame.K_RETURN)
    else:
        x, y = signed.screen._layout.place(0)
        signed.click((x + 100, y + 100))
    assert signed.screen_name == "SigningScreen"
    assert signed.screen._earned == "Clean at 60, first take of the day, on 24 Nov and on 25 Nov."
    for sign_typed in "Ada":
        signed.key(0, sign_typed)
    signed.key(pygame.K_RETURN)
    signed.key(pygame.K_RETURN)
    assert signed.screen_name == "BookScreen"
    assert [one.figures.key for one in signed.screen.pages if one.named] == [page.figures.key]
    assert not signed.screen.page.unnamed


def test_esc_leads_from_the_page_back_to_the_book(signed):
    signed.key(pygame.K_RETURN)
    signed.key(pygame.K_ESCAPE)
    assert signed.screen_name == "BookScreen"
    assert signed.screen.page.unnamed


def test_a_page_that_waits_is_opened_to_be_signed(signed):
    signed.key(pygame.K_END)
    signed.key(pygame.K_RETURN)
    assert signed.screen.request.passage.bar_numbers == ("9", "11")


def test_a_click_chooses_a_page_and_a_second_one_does_what_the_corner_says(signed, monkeypatch):
    played = heard(signed, monkeypatch)
    name(signed, 1)
    x, y = signed.screen._layout.place(1)
    at = (x + 100, y + 100)
    signed.click(at)
    assert (signed.screen.chosen, played) == (1, [])
    signed.click(at)
    assert len(played) == 1


def test_tab_turns_a_page_over_and_back(signed):
    front = signed.picture()
    signed.key(pygame.K_TAB, "\t")
    assert signed.picture() != front
    signed.key(pygame.K_TAB, "\t")
    assert signed.picture() == front


def test_one_key_leaves_what_waits_out(signed):
    signed.key(pygame.K_o, "o")
    assert [page.signed is not None for page in signed.screen.pages] == [True, True]
    signed.key(pygame.K_o, "o")
    assert len(signed.screen.pages) == 3


def test_the_players_signature_stands_on_pages_that_were_signed_by_name(signed):
    before = signed.picture()
    facts = signed.context.session.log.facts
    facts.keep_signature(PlayerSignature(typed="Ada"))
    signed.screen.read_anew()
    assert signed.picture() == before
    facts.sign_page(signed.screen.page.figures.key)
    signed.screen.read_anew()
    assert signed.picture() != before


def test_a_page_whose_line_is_nowhere_any_more_says_so_and_the_book_stays_open(tmp_path):
    table = Table(tmp_path)
    request = table.open("F4 q, G4 q, A4 q, G4 q", "A4 q, G4 q, F4 q, G4 q")
    sign(table, request)
    table.go(ToBook())
    table.wait(0.2)
    assert len(table.screen.pages) == 1
    table.key(pygame.K_RETURN)
    assert table.screen_name == "BookScreen"
    assert "not on the shelf" in table.context.window.message


def test_an_empty_book_has_one_dashed_place_and_nothing_to_press_but_the_way_out(table):
    table.go(ToBook())
    assert table.screen.pages == ()
    for key in (pygame.K_RETURN, pygame.K_SPACE, pygame.K_TAB, pygame.K_END):
        table.key(key)
        assert table.screen_name == "BookScreen"
    table.key(pygame.K_ESCAPE)
    assert table.screen_name == "TodayScreen"


@pytest.mark.parametrize("language", sample(languages(), by_default=1))
@pytest.mark.parametrize("size", sample([SMALLEST, ORDINARY], by_default=1))
def test_whatever_the_language_the_way_out_stands_at_its_foot_and_every_key_on_the_sheet_of_all(
    practised, tmp_path, language, size
):
    folder, day = practised
    with speaking(language):
        table = Table(shutil.copytree(folder, tmp_path / "copy"), day=day, size=size)
        table.go(ToBook())
        clicked = {press.key for _, press in table.context.window._boxes}
        told = {press.key for hint in keys_of(table.context) for press in hint.presses}
    assert {pygame.K_ESCAPE, pygame.K_RETURN, pygame.K_TAB, pygame.K_SPACE, pygame.K_v} <= clicked
    assert {pygame.K_o, pygame.K_HOME, pygame.K_PAGEDOWN} <= told

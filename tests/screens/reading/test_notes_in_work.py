"""The notes of a page that are still in pencil."""

import pytest

from game.music.pitch import pitch
from game.screens.reading.notes_in_work import NoteInWork, notes_in_work, with_take
from tests.screens.timed_pages import ROWS


def work(**kind):
    return NoteInWork(pitch=pitch("F4"), **{"met": True, "finds": 0, "two_days": False, **kind})


@pytest.mark.parametrize(
    ("note", "words"),
    [
        (work(met=False), "not met yet"),
        (work(), "met"),
        (work(finds=1), "found once"),
        (work(finds=1, now=1), "found two times"),
        (work(finds=3, now=4), "found three times"),
        (work(finds=2, two_days=True), "found, two days"),
    ],
)
def test_each_tells_what_it_has_come_to(note, words):
    assert note.state_words == words


def test_ink_fills_a_note_with_each_find_and_never_wholly_before_it_is_ink():
    filled = [work(finds=finds).filled for finds in range(5)]
    assert filled == sorted(filled)
    assert filled[0] == 0
    assert filled[-1] < 1


def test_of_many_notes_five_are_in_work_in_the_order_of_the_page(table):
    request = table.open(*ROWS, "D5 q, Eb5 q, F5 h", key=-1)
    shown = notes_in_work(table.context, request)
    on_page = list(dict.fromkeys(note.pitch for note in request.passage.notes))
    assert len(shown) == 5
    assert [on_page.index(note.pitch) for note in shown] == sorted(on_page.index(note.pitch) for note in shown)


def test_a_quick_find_shows_at_once_and_the_first_note_and_slow_ones_only_that_they_were_met(table):
    table.open(*ROWS, key=-1)
    page = table.screen
    for wait_s, sounding in ((0.5, 53), (0.6, 55), (2.5, 57)):
        table.wait(wait_s)
        table.play(sounding)
    shown = {note.pitch.name: (note.met, note.now) for note in page.view.work}
    assert [shown[name] for name in ("F4", "G4", "A4")] == [(True, 0), (True, 1), (True, 0)]
    assert shown["Bb4"] == (False, 0)
    assert with_take(page.view.work, page.take.expected, ()) != page.view.work

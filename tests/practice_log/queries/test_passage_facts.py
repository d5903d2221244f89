"""What facts say of passages to the coach."""

import json

import pytest

from game.coach.events import FormerPage, PageCutAnew, PassageFacts, PassageRenamed
from game.coach.played_whole import PageOfWhole
from game.practice_log.queries.passage_facts import (
    MOST_FORMER,
    MOST_PAGES,
    TunePagesTold,
    cut_anew_content,
    said_of_passage,
    told_tune_pages,
    tune_pages_content,
)

FORMER = {"key": "a", "first": 1, "last": 4, "shift": 12}
SAID = PageCutAnew(
    is_now="new", former=(FormerPage(name="b", first=5, last=20), FormerPage(name="a", first=1, last=4, shift=12))
)


def test_it_comes_back_as_it_was_said():
    assert tuple(said_of_passage(json.loads(json.dumps(cut_anew_content(SAID))))) == (SAID,)
    renamed = {"was": {"key": "a", "bars": []}, "is": {"key": "b"}}
    assert tuple(said_of_passage(renamed)) == (PassageRenamed(was="a", is_now="b"),)


@pytest.mark.parametrize(
    "content",
    [
        None,
        {},
        {"is": "new"},
        {"is": "new", "former": []},
        {"is": 3, "former": [FORMER]},
        {"is": "new", "former": [FORMER, "a"]},
        {"is": "new", "former": [FORMER | {"first": 0}]},
        {"is": "new", "former": [FORMER | {"first": 5}]},
        {"is": "new", "former": [FORMER | {"shift": "12"}]},
        {"is": "new", "former": [FORMER | {"shift": -1}]},
        {"is": "new", "former": [FORMER] * (MOST_FORMER + 1)},
    ],
)
def test_what_makes_no_sense_says_nothing(content):
    assert tuple(said_of_passage(content)) == ()


PAGE = {"key": "a", "first": 1, "last": 4, "notes_per_beat": 1.5, "usual_note_beats": 1}


def test_the_pages_of_a_tune_come_back_as_they_were_said():
    pages = tuple(
        PageOfWhole(facts=PassageFacts(name=name, notes_per_beat=1 / 3), first=first, last=first + 8)
        for name, first in (("a", 1), ("b", 10))
    )
    told = TunePagesTold(whole="w", pages=pages)
    assert told_tune_pages(json.loads(json.dumps(tune_pages_content(told)))) == told
    assert tuple(said_of_passage(tune_pages_content(told))) == ()


@pytest.mark.parametrize(
    "content",
    [
        None,
        {"whole": "w", "pages": []},
        {"whole": 3, "pages": [PAGE]},
        {"whole": "w", "pages": [PAGE, None]},
        {"whole": "w", "pages": [PAGE | {"last": 0}]},
        {"whole": "w", "pages": [PAGE | {"notes_per_beat": 0}]},
        {"whole": "w", "pages": [PAGE | {"usual_note_beats": float("nan")}]},
        {"whole": "w", "pages": [PAGE | {"usual_note_beats": "1"}]},
        {"whole": "w", "pages": [PAGE] * (MOST_PAGES + 1)},
    ],
)
def test_pages_that_make_no_sense_are_none(content):
    assert told_tune_pages(content) is None

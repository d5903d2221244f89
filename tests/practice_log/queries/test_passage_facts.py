"""What facts say of passages to the coach."""

import json

import pytest

from game.coach.events import FormerPage, PageCutAnew, PassageRenamed
from game.practice_log.queries.passage_facts import MOST_FORMER, cut_anew_content, said_of_passage

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

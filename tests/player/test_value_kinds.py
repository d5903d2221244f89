"""Each kind of value knows what fits it, both bounds in, and how it is called."""

import re
from enum import Enum
from typing import Annotated

import pytest
from msgspec import Meta, Struct
from msgspec.inspect import type_info

from game.neck.tuning import Place
from game.player.value_kinds import as_in_file, expected_words, fits
from game.text.catalogue import tell

Few = Annotated[int, Meta(ge=0, le=9)]


class Ink(Enum):
    BLACK = "black"
    BLUE = "blue"


class Held(Struct):
    x: int = 0


KINDS = [
    (bool, [True, False], [0, "true", None], "true or false"),
    (Few, [0, 9], [-1, 10, 3.0, True, "3", None], "a whole number from 0 to 9"),
    (Annotated[float, Meta(ge=0.5, le=2)], [0.5, 1, 2], [0.4, 3, "1", False], "a number from 0.5 to 2"),
    (Ink, ["black", "blue"], ["red", 1, None, ["black"]], 'one of "black", "blue"'),
    (Annotated[str, Meta(max_length=2)], ["", "ab"], ["abc", 1, None], "a text of at most 2 characters"),
    (tuple[Few, bool], [[1, True]], [[1], [1, True, 2], [10, True], {}, 1], "a list of .*0 to 9 and true or false"),
    (Annotated[tuple[Few, ...], Meta(max_length=2)], [[], [1, 2]], [[1, 2, 3], [10]], "a list, each entry a whole"),
    (
        Annotated[tuple[Few, ...], Meta(min_length=2, max_length=3)],
        [[1, 2]],
        [[1], [1, 11]],
        "a list of 2 to 3 entries, each a",
    ),
    (Few | None, [None, 1], [True, "x"], "a whole number from 0 to 9, or null"),
    (Held, [], [{}, [], 1], "a table in braces"),
    (dict[str, int], [], [{}, [], 1], "a table in braces"),
]


@pytest.mark.parametrize(("kind", "good", "bad", "words"), KINDS, ids=[words for *_, words in KINDS])
def test_what_fits_what_does_not_and_how_it_is_called(kind, good, bad, words):
    info = type_info(kind)
    assert [value for value in good if not fits(info, value)] == []
    assert [value for value in bad if fits(info, value)] == []
    assert re.search(words, tell(expected_words(info)))


@pytest.mark.parametrize(
    ("value", "shown"),
    [
        ("paper", '"paper"'),
        (None, "null"),
        (float("inf"), "Infinity"),
        ([1, {"a": "♭"}], '[1, {"a": "♭"}]'),
        (Ink.BLUE, '"blue"'),
        (Place(4, 9), '{"string": 4, "fret": 9}'),
        ("x" * 100, '"' + "x" * 38 + "…"),
        ("a\u202eb\x00", '"ab\\u0000"'),
    ],
)
def test_a_value_is_shown_as_the_file_has_it_and_shortly(value, shown):
    assert as_in_file(value) == shown


def test_what_nests_without_end_is_shown_by_its_beginning():
    deep = []
    for _ in range(100_000):
        deep = [deep]
    assert as_in_file(deep) == "[[["

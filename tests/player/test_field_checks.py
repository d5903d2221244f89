"""Every fault of a file is found at once, and each costs as little of it as can be."""

import re
from enum import Enum
from typing import Annotated

import pytest
from msgspec import Meta, Struct
from msgspec.inspect import type_info

from game.player.field_checks import Checks
from game.player.file_faults import LEFT_OUT
from game.text.catalogue import tell

Few = Annotated[int, Meta(ge=0, le=9)]


class Ink(Enum):
    BLACK = "black"
    BLUE = "blue"


class Inside(Struct, frozen=True):
    x: Annotated[float, Meta(ge=0, le=1)] = 0.5
    row: Annotated[tuple[Few, ...], Meta(min_length=2, max_length=2)] | None = None


class Declared(Struct):
    count: Few = 5
    ink: Ink = Ink.BLACK
    loud: bool = True
    inside: Inside = Inside()
    places: dict[Few, tuple[Few, Few]] = {}
    named: Annotated[dict[Annotated[str, Meta(max_length=3)], Inside], Meta(max_length=4)] = {}
    items: Annotated[tuple[Few, ...], Meta(max_length=3)] = ()


class Person(Struct):
    name: Annotated[str, Meta(max_length=5)]
    age: Few = 1


def checked(kind, given):
    """What is used, and for each fault: what is told to whoever mends the file, and what is used in its stead."""
    checks = Checks()
    usable = checks.struct(type_info(kind), given)
    return usable, [(tell(fault.told), tell(fault.mended)) for fault in checks.faults]


@pytest.mark.parametrize(
    ("given", "used", "told", "mended"),
    [
        ({"count": 10}, {"count": 9}, "count is a whole number from 0 to 9, not 10", "count is 9 instead of 10"),
        ({"count": -1e9}, {"count": 0}, None, "count is 0 instead of -1000000000.0"),
        ({"count": float("inf")}, {"count": 9}, None, "count is 9 instead of Infinity"),
        ({"count": float("nan")}, {}, None, "count is 5 instead of NaN"),
        ({"count": 3.5}, {"count": 4}, None, "count is 4 instead of 3.5"),
        ({"count": True}, {}, None, "count is 5 instead of true"),
        ({"count": "3"}, {}, None, 'count is 5 instead of "3"'),
        ({"ink": "red"}, {}, 'ink is one of "black", "blue", not "red"', 'ink is "black" instead of "red"'),
        ({"loud": 0}, {}, "loud is true or false, not 0", "loud is true instead of 0"),
        ({"inside": 3}, {}, "inside is a table in braces, not 3", None),
        ({"inside": {"x": 2}}, {"inside": {"x": 1}}, "inside / x is a number from 0 to 1, not 2", None),
        ({"inside": {"row": [1, 99]}}, {"inside": {}}, None, r"inside / row is null instead of \[1, 99\]"),
        ({"items": [1, 10, 2]}, {"items": [1, 2]}, "items / 2 is a whole .*not 10", r"items / 2 is left out \(10\)"),
        ({"items": [1, 2, 3, 4]}, {"items": [1, 2, 3]}, "items is at most 3 entries, not 4", None),
        ({"items": {"1": 1}}, {}, "items is a list, each entry a whole number", None),
        ({"places": {"3": [1]}}, {"places": {}}, None, r"places / 3 is left out \(\[1\]\)"),
        ({"places": {"10": [1, 1]}}, {"places": {}}, 'places is a table in which each name is a whole .*"10"', None),
        ({"named": {"long": {}}}, {"named": {}}, "each name is a text of at most 3 characters", None),
        ({"named": {"a": {"x": 7}}}, {"named": {"a": {"x": 1}}}, None, "named / a / x is 1 instead of 7"),
    ],
)
def test_one_fault_is_told_and_put_right_and_costs_nothing_else(given, used, told, mended):
    others = {key: value for key, value in {"loud": False, "ink": "blue"}.items() if key not in given}
    usable, [(said, done)] = checked(Declared, given | others)
    assert usable == used | others
    assert re.search(told or "", said)
    assert re.search(mended or "", done)


def test_what_is_as_it_should_be_is_used_as_it_is():
    given = {
        "count": 9,
        "ink": "blue",
        "inside": {"x": 1, "row": [0, 9]},
        "places": {"0": [1, 2]},
        "named": {"abc": {}},
        "items": [1, 2, 3],
    }
    assert checked(Declared, given) == (given | {"places": {0: [1, 2]}}, [])


def test_a_whole_number_may_be_written_as_one_with_a_point():
    usable, faults = checked(Declared, {"count": 3.0})
    assert (usable, type(usable["count"]), faults) == ({"count": 3}, int, [])


@pytest.mark.parametrize("name", ["03", "+3", " 3", "3.0", "٣", "", "9" * 5000])
def test_a_number_has_one_name_only_so_that_no_entry_is_there_twice(name):
    usable, faults = checked(Declared, {"places": {"3": [1, 1], name: [2, 2]}})
    assert usable == {"places": {3: [1, 1]}}
    assert len(faults) == 1


def test_what_the_struct_does_not_know_is_passed_over():
    assert checked(Declared, {"moonlight": 1, "inside": {"y": 2}}) == ({"inside": {}}, [])


def test_all_faults_are_found_at_once():
    given = {"count": 99, "ink": 1, "loud": None, "inside": {"x": -1}, "items": 5}
    faulty = [told.split(" is ")[0] for told, _ in checked(Declared, given)[1]]
    assert faulty == ["count", "ink", "loud", "inside / x", "items"]


def test_of_thousands_of_faults_the_first_three_are_told_and_how_many_more_there_are():
    usable, faults = checked(Declared, {"places": {str(n): [n, 1] for n in range(20_000)}, "loud": False})
    assert usable == {"places": {n: [n, 1] for n in range(10)}, "loud": False}
    assert [told for told, _ in faults][2:] == [
        'places is a table in which each name is a whole number from 0 to 9, not "12"',
        "19987 more entries of places are as faulty",
    ]


def test_names_from_the_file_are_shown_shortly_and_without_invisible_signs():
    [(told, _)] = checked(Declared, {"inside": {}, "named": {"a\u202e\n": {"x": 7}}})[1]
    assert told == "named / a / x is a number from 0 to 1, not 7"


@pytest.mark.parametrize("given", [{}, {"name": 5}, {"name": "much too long", "age": 3}])
def test_a_struct_without_what_must_be_there_is_left_out(given):
    usable, faults = checked(Person, given)
    assert usable is LEFT_OUT
    assert [told.split(", not")[0] for told, _ in faults] == ["name is a text of at most 5 characters"]

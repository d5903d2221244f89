"""The fields of a table out of a TOML file: a fault is noted with its place, and reading goes on."""

from datetime import UTC, date, datetime

import pytest

from game.assignments.fields import Fields
from game.coach.stages import Stage
from game.message import message
from game.text.catalogue import tell

KNOWN = ("x",)


def fields(**table: object) -> tuple[Fields, list]:
    faults = []
    return Fields(table, message("assignment.at_tune", number=2), faults, known=KNOWN), faults


def faults_told(faults: list) -> list[str]:
    return [tell(fault) for fault in faults]


@pytest.mark.parametrize(
    ("read", "value", "expected"),
    [
        (lambda one: one.text("x"), " Ode\x07 to  Joy ", "Ode to Joy"),
        (lambda one: one.number("x", 1, 400), 1, 1),
        (lambda one: one.number("x", 1, 400), 400, 400),
        (lambda one: one.day("x"), date(2027, 1, 15), date(2027, 1, 15)),
        (lambda one: one.stages("x"), ["time", "places", "time"], (Stage.TIME, Stage.PLACES)),
        (lambda one: one.bars("x"), [0, 1000], (0, 1000)),
        (lambda one: one.bars("x"), [3, 3], (3, 3)),
    ],
)
def test_a_field_is_read_as_what_it_holds(read, value, expected):
    one, faults = fields(x=value)
    assert one.has("x")
    assert (read(one), faults) == (expected, [])


@pytest.mark.parametrize(
    ("read", "empty"),
    [
        (lambda one: one.text("x", "guitar"), "guitar"),
        (lambda one: one.number("x", 1, 400), None),
        (lambda one: one.day("x"), None),
        (lambda one: one.stages("x"), ()),
        (lambda one: one.bars("x"), None),
    ],
)
def test_a_field_that_is_left_out_is_no_fault(read, empty):
    one, faults = fields()
    assert not one.has("x")
    assert (read(one), faults) == (empty, [])


@pytest.mark.parametrize(
    ("read", "values"),
    [
        (lambda one: one.text("x"), [3, True, ["a"]]),
        (lambda one: one.number("x", 1, 400), [0, 401, True, "72", 72.0]),
        (lambda one: one.day("x"), ["Friday", datetime(2027, 1, 15, tzinfo=UTC), 20270115]),
        (lambda one: one.stages("x"), ["places", ["dancing"], [3], {"places": 1}]),
        (lambda one: one.bars("x"), [[1], [1, 2, 3], [4, 1], [-1, 2], [1, 1001], [1.0, 2], [True, 2], "1-4"]),
    ],
)
def test_a_field_of_another_kind_or_out_of_range_is_one_fault_with_its_place_and_value(read, values):
    for value in values:
        one, faults = fields(x=value)
        assert read(one) in (None, (), "")
        (told,) = faults_told(faults)
        assert told.startswith("tune 2: x ")


def test_a_value_of_any_length_is_told_in_a_few_words():
    one, faults = fields(x="9" * 10_000)
    one.number("x", 1, 400)
    assert len(faults_told(faults)[0]) < 150


def test_a_field_nobody_knows_is_told_with_those_there_are():
    _, faults = fields(colour="blue", x=1)
    (told,) = faults_told(faults)
    assert told.startswith("tune 2: 'colour' is not known")
    assert "x" in told


def test_at_the_top_of_the_file_no_place_is_told():
    faults = []
    Fields({}, None, faults, known=KNOWN).fault("assignment.no_title")
    assert faults == [message("assignment.no_title")]

"""Values stand in the database so that text sorts and sums come out."""

import sqlite3
from contextlib import closing
from dataclasses import dataclass
from datetime import UTC, datetime, timedelta, timezone
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from game.coach.stages import Stage
from game.message import Message, message, verbatim
from game.practice_log.rows.row_values import (
    columns_of,
    fraction,
    from_json_array,
    json_array,
    messages_from,
    messages_text,
    microseconds,
    record_from,
    seconds,
    short_json_array,
    truth,
    utc_from,
    utc_text,
)

VALUES = st.recursive(
    st.text() | st.integers() | st.floats(allow_nan=False) | st.dates(),
    lambda inner: (
        st.lists(inner, max_size=3).map(tuple)
        | st.builds(Message, st.text(), st.dictionaries(st.text(), inner, max_size=3).map(lambda d: tuple(d.items())))
    ),
    max_leaves=6,
)
MESSAGES = st.builds(Message, st.text(), st.dictionaries(st.text(), VALUES, max_size=3).map(lambda d: tuple(d.items())))
ZONES = st.integers(-14 * 60, 14 * 60).map(lambda minutes: timezone(timedelta(minutes=minutes)))
TIMES = st.datetimes(min_value=datetime(1971, 1, 1), max_value=datetime(2999, 1, 1), timezones=ZONES)  # noqa: DTZ001


@given(first=TIMES, second=TIMES)
def test_times_come_back_in_utc_and_their_text_sorts_as_they_do(first, second):
    assert utc_from(utc_text(first)) == first
    assert utc_from(utc_text(first)).tzinfo is UTC
    assert (utc_text(first) < utc_text(second)) == (first < second)


def test_a_time_that_does_not_know_its_zone_is_refused():
    with pytest.raises(ValueError, match="a time in the log knows its zone"):
        utc_text(datetime(2026, 11, 25, 7, 30))  # noqa: DTZ001


@given(st.integers(-(10**12), 10**12))
def test_microseconds_come_back_exactly(at_us):
    assert microseconds(seconds(at_us)) == at_us


@given(st.lists(st.integers()))
def test_rows_of_numbers_come_back(numbers):
    assert from_json_array(json_array(numbers)) == numbers


@given(st.lists(st.integers()) | st.lists(st.tuples(st.integers(0, 9), st.integers(0, 9))) | st.lists(st.text()))
def test_short_rows_are_remembered_as_they_are_written(values):
    assert short_json_array(values) == json_array(values)


def test_a_truth_that_is_not_known_stays_unknown():
    assert [truth(value) for value in (None, 0, 1)] == [None, False, True]


@given(st.fractions(min_value=-10_000, max_value=10_000, max_denominator=9999))
def test_fractions_come_back(value):
    assert fraction(str(value)) == value


@pytest.mark.parametrize("text", ["1e999999999", "", "1/0", "one", "1.5", "٣", "1" * 13, "1/2/3", " 1"])
def test_what_is_no_fraction_is_refused_at_once(text):
    with pytest.raises(ValueError, match="is no fraction"):
        fraction(text)


@given(st.lists(MESSAGES, max_size=3).map(tuple))
def test_messages_come_back_as_they_were_with_all_that_stands_in_them(said):
    assert messages_from(messages_text(said)) == said


@pytest.mark.parametrize(
    "sentence", ["All 15. Now 90.", "None of eight.", "«Ach»", '{"key": "coach.signed_off"}', " ["]
)
def test_a_finished_sentence_of_an_old_log_stands_as_it_is(sentence):
    assert messages_from(sentence) == (verbatim(sentence),)


@pytest.mark.parametrize(
    "text", ["[", "[1]", '[{"key": 1, "values": {}}]', '[{"key": "a", "values": {"b": null}}]', "[" * 100_000]
)
def test_what_only_looks_like_messages_stands_as_text(text):
    assert messages_from(text) == (verbatim(text),)


def test_no_reason_is_no_sentence():
    assert messages_from("") == messages_from("[]") == ()
    assert messages_text((message("coach.new_day", bpm=60),)) == '[{"key":"coach.new_day","values":{"bpm":60}}]'


@dataclass(frozen=True, kw_only=True)
class _Everything:
    """A record with every kind of field that a log has."""

    stage: Stage
    beat: Fraction
    bpm: float | None
    waits: bool
    asked: bool | None
    title: str


@given(
    st.builds(
        _Everything,
        stage=st.sampled_from(Stage),
        beat=st.fractions(min_value=0, max_value=64, max_denominator=1000),
        bpm=st.none() | st.floats(20, 400),
        waits=st.booleans(),
        asked=st.none() | st.booleans(),
        title=st.text(alphabet=st.characters(blacklist_categories=("Cs",), blacklist_characters="\0")),
    )
)
def test_a_record_comes_back_out_of_its_columns_as_it_was(record):
    """Through a real row of SQLite, which knows neither truth nor fractions."""
    columns = columns_of(record)
    with closing(sqlite3.connect(":memory:")) as connection:
        row = connection.execute(f"SELECT {', '.join(f':{name} AS {name}' for name in columns)}", columns)
        names = [column[0] for column in row.description]
        assert record_from(_Everything, dict(zip(names, row.fetchone(), strict=True))) == record

"""What is to be said, not yet in words."""

import json
from fractions import Fraction
from pathlib import PurePosixPath

import pytest
from hypothesis import given
from hypothesis import strategies as st

from game.errors import MapError
from game.message import VERBATIM, Message, from_plain, message, to_plain, verbatim


def test_a_message_has_its_values_in_the_order_in_which_they_were_given():
    assert message("a.key", title="The Ford", count=3) == Message("a.key", (("title", "The Ford"), ("count", 3)))


def test_text_that_stands_as_it_is_needs_no_words():
    assert verbatim("Ode") == Message(VERBATIM, (("text", "Ode"),))


def test_whatever_is_given_stands_as_text_number_message_or_a_row_of_these():
    """A path and a fraction as text, an error of ours as what it says."""
    inner = verbatim("inner")
    said = message("a.key", at=PurePosixPath("a/b"), length=Fraction(3, 2), row=[1, "two", inner], why=MapError(inner))
    assert said.values == (("at", "a/b"), ("length", "3/2"), ("row", (1, "two", inner)), ("why", inner))


values = st.recursive(
    st.text(max_size=5) | st.integers(-(10**9), 10**9) | st.floats(allow_nan=False, allow_infinity=False) | st.dates(),
    lambda inner: (
        st.lists(inner, max_size=3).map(tuple)
        | st.builds(lambda key, value: Message(key, (("value", value),)), st.text(max_size=5), inner)
    ),
    max_leaves=6,
)


@given(st.text(max_size=10), st.dictionaries(st.text(max_size=5), values, max_size=3))
def test_a_message_comes_back_out_of_json_as_it_went_in(key, given_values):
    said = Message(key, tuple(given_values.items()))
    assert from_plain(json.loads(json.dumps(to_plain(said)))) == said


@pytest.mark.parametrize("plain", [None, 3, "a.key", [], {"key": "a"}, {"values": {}}, {"key": 3, "values": {}}])
def test_what_is_no_message_is_refused(plain):
    with pytest.raises(ValueError, match="no message"):
        from_plain(plain)


def test_a_value_that_is_none_is_refused():
    with pytest.raises(ValueError, match="no value of a message"):
        from_plain({"key": "a", "values": {"b": None}})

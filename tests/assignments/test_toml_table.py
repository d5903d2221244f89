"""The table that a text in TOML holds, from whoever it comes."""

import pytest

from game.assignments.toml_table import table_in


def test_a_text_is_read_as_the_table_it_holds():
    assert table_in('a.b = 1\n[c]\nd = "..."') == {"a": {"b": 1}, "c": {"d": "..."}}


@pytest.mark.parametrize(
    ("text", "where"),
    [
        ("a = = 1", "line 1"),
        ("a = 1\nb" + ".b" * 1000 + " = 1", "too many dots .at line 2"),
        ("a = " + "[" * 20_000, "too many tables within tables"),
    ],
    ids=["no TOML", "dots", "brackets"],
)
def test_what_is_no_toml_or_nests_too_deep_is_told(text, where):
    with pytest.raises(ValueError, match=where):
        table_in(text)

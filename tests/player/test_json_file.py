"""A file of a person's is read with care, whatever stands in it, and written so that nothing is lost."""

import json
import os

import pytest
from msgspec import Struct
from msgspec.inspect import type_info

from game.player.json_file import MOST_BYTES, JsonFileError, read_table, with_unknown, write_table
from tests.refusing import refusal


@pytest.fixture
def path(tmp_path):
    return tmp_path / "file.json"


@pytest.mark.parametrize(
    ("raw", "reason"),
    [
        (b"", "no JSON at line 1, column 1"),
        (b'{"a": 1,\n "b": }', "no JSON at line 2, column 7"),
        (b"[1]", "no table"),
        (b"null", "no table"),
        (b'{"a": "\xff"}', "no text in UTF-8"),
        (b'{"a": ' + b"[" * 200_000 + b"]" * 200_000 + b"}", "too often"),
        (b'{"a": "' + b"x" * 10_000_000 + b'"}', "longer than 5 MB"),
    ],
    ids=["empty", "cut", "list", "null", "latin", "deep", "long"],
)
def test_what_is_no_table_is_refused_with_the_reason(path, raw, reason):
    path.write_bytes(raw)
    with refusal(JsonFileError, reason):
        read_table(path)


def test_a_file_may_be_as_long_as_the_limit(path):
    path.write_bytes(b'{"a": 1}'.ljust(MOST_BYTES))
    assert read_table(path) == {"a": 1}


def test_a_pipe_in_the_place_of_the_file_is_not_waited_for(path):
    os.mkfifo(path)
    with refusal(JsonFileError, "no file"):
        read_table(path)


def test_numbers_that_json_does_not_have_are_read_nevertheless(path):
    path.write_text('{"a": 1e400, "b": -Infinity, "c": ' + "9" * 5000 + ', "d": ' + "9" * 40 + "}")
    assert read_table(path) == {"a": float("inf"), "b": -float("inf"), "c": float("inf"), "d": int("9" * 40)}


def test_what_is_written_is_read_again_signs_and_halves_of_signs_and_all(path):
    table = {"Möwe": ["♭", "\ud800", 0.1, None, True], "empty": {}}
    path.write_text("{}")
    write_table(table, path)
    assert read_table(path) == table
    assert "Möwe" in path.read_text(encoding="utf-8")
    assert list(path.parent.iterdir()) == [path]


class Inside(Struct):
    x: int = 0


class Outside(Struct):
    one: Inside
    many: dict[str, Inside]
    plain: int = 0


def test_what_a_newer_version_wrote_is_kept_at_every_level():
    old = {
        "plain": 1,
        "new": {"deep": [1, {"x": None}]},
        "one": {"x": 1, "y": 2},
        "many": {"a": {"x": 1, "z": 3}, "gone": {"x": 1}},
    }
    table = {"one": {"x": 5}, "many": {"a": {"x": 6}, "b": {"x": 7}}, "plain": 8}
    assert with_unknown(table, old, type_info(Outside)) == {
        "one": {"x": 5, "y": 2},
        "many": {"a": {"x": 6, "z": 3}, "b": {"x": 7}},
        "plain": 8,
        "new": {"deep": [1, {"x": None}]},
    }


@pytest.mark.parametrize("strange", [float("inf"), [[float("nan")]], json.loads("[" * 21 + "]" * 21)])
def test_what_json_cannot_say_or_nobody_would_write_is_not_kept(strange):
    assert with_unknown({"plain": 1}, {"new": strange, "other": 1}, type_info(Outside)) == {"plain": 1, "other": 1}


def test_a_field_that_is_a_struct_now_and_was_something_else_has_nothing_to_keep():
    assert with_unknown({"one": {"x": 1}}, {"one": [1, 2]}, type_info(Outside)) == {"one": {"x": 1}}

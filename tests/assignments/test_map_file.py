"""A map as a file of its own, from whatever editor or hand it comes."""

import errno
import itertools
import os
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from game.assignments.map_file import holds_a_map_alone, map_from_text, map_text, read_map
from game.errors import HomefretError, MapError
from game.neck.neck_map import standard_map
from game.neck.tuning import Place
from game.text.catalogue import tell
from tests.assignments.test_map_table import maps
from tests.sampling import how_many

MAP = standard_map(position=7).with_choice(Place(5, 4))


def fault_of(path) -> str:
    with pytest.raises(MapError) as told:
        read_map(path)
    return tell(told.value.message)


@settings(max_examples=how_many(300, by_default=20), deadline=None)
@given(maps())
def test_any_map_that_is_kept_in_a_file_comes_out_of_it_as_the_same(neck_map):
    assert map_from_text(map_text(neck_map)) == neck_map


def test_the_file_says_what_it_is():
    assert map_text(MAP).startswith(
        "# A map of Homefret: drop it on the window, or homefret map --map FILE\n[map]\nposition = 7\n"
    )
    assert map_text(MAP).endswith('[[map.home]]\nwritten = "C#4"\nstring = 5\nfret = 4\n')


@pytest.mark.parametrize(
    ("encoding", "line_end"),
    [("utf-8", "\n"), ("utf-8-sig", "\n"), ("utf-8", "\r\n"), ("utf-8-sig", "\r\n"), ("utf-16", "\r\n")],
)
def test_a_file_that_an_editor_of_another_system_saved_is_read(tmp_path, encoding, line_end):
    """As Notepad saves by its menus: with a byte order mark, in two bytes a sign, with both line ends."""
    path = tmp_path / "map.toml"
    path.write_bytes((map_text(MAP) + "# für Möwe\n").replace("\n", line_end).encode(encoding))
    assert read_map(path) == MAP


@pytest.mark.parametrize(
    ("content", "fault"),
    [
        (b"", "map.toml: there is no map in it: begin with [map]"),
        (b"position = 5", "map.toml: 'position' is not known here: use map; there is no map in it"),
        (b"map = 5", "map.toml: map begins with [map] on a line of its own"),
        (b"[[map]]", "map.toml: map begins with [map] on a line of its own"),
        (b"[Map]", "map.toml: 'Map' is not known here: write 'map'; there is no map in it"),
        (b"[map", "map.toml: is no map we can read: "),
        (b"[map]\nposition = five", "map.toml: is no map we can read: "),
        (b"[map]\nposition = " + b"9" * 5000, "map.toml: is no map we can read: "),
        (b"[map]\nposition = " + b"[" * 50_000, "map.toml: is no map we can read: "),
        (b"\xff\xff\x00", "map.toml is no text in UTF-8"),
        (b"\xff\xfe\x00", "map.toml is no text in UTF-8"),
        (b"PK\x03\x04\x00\x00\xf0\x9f", "map.toml is no text in UTF-8"),
        (b"#" * 100_001, "map.toml is longer than 100 kB"),
        (b"[map]\nposition" + b".a" * 20_000 + b" = 1", "map.toml: is no map we can read: too many dots (at line 2)"),
    ],
    ids=itertools.count(),
)
def test_what_is_no_map_is_told_in_one_sentence(tmp_path, content, fault):
    path = tmp_path / "map.toml"
    path.write_bytes(content)
    told = fault_of(path)
    assert told.startswith(fault)
    assert "\n" not in told
    assert len(told) < 400


def test_every_fault_is_told_with_the_name_of_the_file(tmp_path):
    path = tmp_path / "map.toml"
    path.write_text('colour = "blue"\n[map]\nposition = 40\nfretz = 3\n', encoding="utf-8")
    assert fault_of(path) == (
        "map.toml: 'colour' is not known here: use map; map: 'fretz' is not known here: write 'frets'; "
        "map: position is a whole number from 1 to 30, not 40"
    )


def test_what_is_no_file_is_told_in_one_sentence(tmp_path):
    assert "cannot be read (No such file or directory)" in fault_of(tmp_path / "gone.toml")
    assert "is a folder" in fault_of(tmp_path)
    assert "cannot be read" in fault_of(tmp_path / "a\0b.toml")
    if hasattr(os, "mkfifo"):
        os.mkfifo(tmp_path / "pipe.toml")
        assert "is a pipe" in fault_of(tmp_path / "pipe.toml")


def test_a_file_that_may_not_be_read_is_told(tmp_path, monkeypatch):
    """Said by the system in the tests' stead: whoever runs them may be one who may read everything."""
    path = tmp_path / "map.toml"
    path.write_text(map_text(MAP), encoding="utf-8")

    def refused(*_args, **_named):
        raise PermissionError(errno.EACCES, "Permission denied")

    monkeypatch.setattr(Path, "open", refused)
    assert "cannot be read (Permission denied)" in fault_of(path)


@settings(max_examples=how_many(2000, by_default=150), deadline=None)
@given(maps(), st.integers(0, 400), st.integers(1, 40))
def test_a_file_that_was_cut_or_lost_signs_is_a_map_or_is_told(neck_map, start, length):
    text = map_text(neck_map)
    told = ""
    try:
        map_from_text(text[:start] + text[start + length :])
    except HomefretError as error:
        told = tell(error.message)
    assert "\n" not in told


@pytest.mark.parametrize(
    ("content", "alone"),
    [
        ("[map]", True),
        ("[map]\nposition = 99\n[colour]", True),
        ("title = 'x'\n[map]", False),
        ("", False),
        ("[", False),
    ],
)
def test_a_map_alone_is_told_from_an_assignment(tmp_path, content, alone):
    path = tmp_path / "map.toml"
    path.write_text(content, encoding="utf-8")
    assert holds_a_map_alone(path) is alone
    assert not holds_a_map_alone(tmp_path)

"""How commands answer."""

import argparse
import json
import os

import msgspec
import pytest

from game.commands.answers.kinds import Answer
from game.commands.printing import add_json_flag, print_json, print_table
from tests.speaking import speaking


class Told(Answer, frozen=True, kw_only=True):
    name: str
    value: float | msgspec.UnsetType = msgspec.UNSET


def test_json_is_one_object_readable_with_its_umlauts_and_without_what_is_unset(capsys):
    print_json(Told(name="Möwe"))
    out = capsys.readouterr().out
    assert out == '{\n  "name": "Möwe"\n}\n'
    print_json(Told(name="x", value=1.5))
    assert json.loads(capsys.readouterr().out) == {"name": "x", "value": 1.5}


def test_columns_are_as_wide_as_their_widest_entry_and_none_is_empty(capsys):
    print_table(("n", "written", ""), ((1, "C#4", "stretch"), (None, "D4", "")))
    assert capsys.readouterr().out.splitlines() == ["n  written", "1  C#4      stretch", "   D4"]


def test_headings_are_those_of_the_language(capsys):
    with speaking("de"):
        print_table(("string", "fret"), ((5, 7),))
    assert capsys.readouterr().out.splitlines() == ["Saite  Bund", "5      7"]


def test_a_heading_that_the_catalogue_lacks_is_a_fault():
    with pytest.raises(KeyError):
        print_table(("nothing_of_the_kind",), ())


def test_every_command_takes_json():
    parser = argparse.ArgumentParser()
    add_json_flag(parser)
    assert [parser.parse_args(words).json for words in ([], ["--json"])] == [False, True]


def test_a_path_that_is_no_utf8_stands_in_the_answer_as_python_has_it(capsys):
    """PEP 383: whoever reads it with Python finds the file."""
    path = os.fsdecode(b"/music/caf\xe9\n.abc")
    print_json(Told(name=path))
    assert json.loads(capsys.readouterr().out) == {"name": path}

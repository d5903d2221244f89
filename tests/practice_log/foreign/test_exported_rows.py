"""The rows of an export, as they are written one a line."""

import zipfile

import pytest

from game.practice_log.foreign import exported_rows as module
from game.practice_log.foreign.exported_rows import exported_rows


def rows_of(folder, text, shown=()):
    with zipfile.ZipFile(folder / "x.zip", "w") as archive:
        archive.writestr("take.jsonl", text)
    with zipfile.ZipFile(folder / "x.zip") as archive:
        return [row for rows in exported_rows(archive, "take", shown) for row in rows]


@pytest.mark.parametrize(
    ("text", "rows"),
    [
        ("", []),
        ("[1]\n", [[1]]),
        ('[1, 2.5, "x", null]\n[2, 1e-7, "é", true]\n', [[1, 2.5, "x", None], [2, 1e-7, "é", True]]),
        ("[1]\n[2]", [[1], [2]]),
    ],
)
def test_each_line_is_a_row(tmp_path, text, rows):
    assert rows_of(tmp_path, text) == rows


def test_lines_that_go_on_from_block_to_block_are_whole(tmp_path, monkeypatch):
    monkeypatch.setattr(module, "_BLOCK_BYTES", 7)
    rows = [[number, "x" * (number % 11)] for number in range(200)]
    text = "".join(f'[{number}, "{word}"]\n' for number, word in rows)
    assert rows_of(tmp_path, text) == rows


def test_text_that_people_will_see_is_made_clean_and_no_other(tmp_path):
    assert rows_of(tmp_path, '["a\\u0007b", "a\\u0007b"]\n[null, 3]\n', shown=[0]) == [["ab", "a\x07b"], ["None", 3]]


@pytest.mark.parametrize("number", ["NaN", "Infinity", "1180591620717411303424"])
def test_a_number_that_is_none_of_json_or_too_large_is_a_value_all_the_same(tmp_path, number):
    ((found, one),) = rows_of(tmp_path, f"[{number}, 1]\n")
    assert str(found) == {"NaN": "nan", "Infinity": "inf"}.get(number, number)
    assert one == 1


@pytest.mark.parametrize(
    ("text", "why"),
    [
        ('{"a": 1}\n', "a row that is none"),
        ("7\n", "a row that is none"),
        ("[1]\n\n[2]\n", "Expecting value"),
        ("[1][2]\n", "Extra data"),
        ("[1,\n2]\n", "Expecting value"),
        ("[1\n", "Expecting ',' delimiter"),
        ("[" * 100_000, "recursion"),
        ('["' + "x" * 5_000_000 + '"]\n', "Unterminated string"),
        ("[1]" + " " * 5_000_000 + "\n", "a line without end"),
    ],
    ids=lambda value: value[:12].replace("\n", "/"),
)
def test_what_is_no_row_is_an_error_that_says_why(tmp_path, text, why):
    with pytest.raises((ValueError, TypeError, RecursionError), match=why):
        rows_of(tmp_path, text)

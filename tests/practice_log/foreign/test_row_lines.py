"""Rows as lines, and back."""

import msgspec
import pytest

from game.practice_log.foreign.row_lines import FileHead, TableHead, decoded_lines, row_lines


def test_heads_and_rows_come_back_as_they_went():
    lines = [
        FileHead(migrations=["takes"], contents=msgspec.Raw(b'{"a":1}')),
        TableHead(table="take", columns=["take", "name"]),
        [1, "é\n"],
        [2, None],
    ]
    assert list(decoded_lines([row_lines(lines)])) == [lines]


@pytest.mark.parametrize("said", [b"{}", b"7", b'{"type": "other"}', b"[[1]]", b"[" * 5000, b"nonsense"])
def test_what_is_no_line_of_ours_is_an_error(said: bytes):
    with pytest.raises((msgspec.MsgspecError, RecursionError)):
        list(decoded_lines([said + b"\n"]))

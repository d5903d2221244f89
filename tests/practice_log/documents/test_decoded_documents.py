"""Lines from elsewhere as documents, whatever they hold."""

import json

import pytest

from game.practice_log.documents import decoded_documents as decoded_documents_module
from game.practice_log.documents.decoded_documents import AT_ONCE, MOST_LEFT_OUT, decoded, decoded_documents
from game.practice_log.documents.documents import FORM
from tests.practice_log.transfer.practised import Computer, changed, lines_of


def a_fact():
    computer = Computer(1)
    computer.say()
    return lines_of(computer.log)


@pytest.mark.parametrize(
    "line",
    [
        b"[" * 100_000,
        b'{"form":1,"kind":"fact","content":' + b'{"a":' * 5000,
        b"\xff\xfe",
        b"null",
        b"{} {}",
        b"1 2",
        b'"x"',
    ],
)
def test_lines_that_are_none_are_left_out(line):
    assert decoded(line + b"\n").left_out >= 1


def test_a_line_of_a_newer_form_or_an_unknown_kind_stays_as_it_came():
    newer, dreamt = changed(a_fact(), form=FORM + 1, content=7), changed(a_fact(), kind="dream")
    unknown = decoded(newer + dreamt + a_fact())
    assert [text.encode() + b"\n" for _, text in unknown.unknown] == [newer, dreamt]
    assert (len(unknown.known), unknown.left_out, len(unknown)) == (1, 0, 3)


@pytest.mark.parametrize(
    "fields",
    [
        {"sequence": -(2**54)},
        {"at": 2**62},
        {"zone": 1441},
        {"device": "../../etc"},
        {"player": None},
        {"content": []},
        {"about": ""},
        {"form": 0},
        {"form": "1"},
    ],
)
def test_a_key_zone_or_content_out_of_bounds_is_no_entry(fields):
    assert decoded(changed(a_fact(), **fields)).left_out == 1


def test_one_bad_line_does_not_take_the_others_along():
    found = decoded(a_fact() + b"nonsense\n" + a_fact())
    assert (len(found.known), found.left_out) == (2, 1)


def test_lines_come_some_thousand_at_a_time_and_none_is_lost():
    lines = a_fact() * (2 * AT_ONCE + 1)
    blocks = [line + b"\n" for line in lines.splitlines()]
    assert [len(found) for found in decoded_documents(blocks)] == [AT_ONCE, AT_ONCE, 1]
    assert json.loads(blocks[0])["kind"] == "fact"


def test_a_block_without_a_line_is_no_entry_that_makes_no_sense():
    came = list(decoded_documents([b"", a_fact(), b"", b""]))
    assert [(len(one), one.left_out) for one in came] == [(1, 0)]
    assert list(decoded_documents([b"", b""])) == []


def test_where_hardly_a_line_makes_sense_none_is_read():
    with pytest.raises(ValueError, match="make no sense"):
        decoded(b"\n" * (MOST_LEFT_OUT + 1))
    assert decoded(b"\n" * MOST_LEFT_OUT).left_out == MOST_LEFT_OUT


def test_there_is_an_end_to_lines(monkeypatch):
    monkeypatch.setattr(decoded_documents_module, "MOST_LINES", 10)
    with pytest.raises(ValueError, match="too many lines"):
        list(decoded_documents([a_fact()] * 11))

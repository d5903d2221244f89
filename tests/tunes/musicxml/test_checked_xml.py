"""MusicXML parsed safely."""

import pytest

from game.errors import TuneError
from game.tunes.musicxml import checked_xml
from game.tunes.musicxml.checked_xml import checked_tree
from game.tunes.sandbox.tune_source import TuneSource
from tests.refusing import refusal
from tests.tunes.hand_written import ATTRIBUTES, QUARTERS, pitch_names, score


def test_a_timewise_score_is_read_as_well(read):
    """Measures that hold parts."""
    text = (
        '<score-timewise><part-list><score-part id="P1"><part-name>M</part-name></score-part></part-list>'
        f'<measure number="1"><part id="P1">{ATTRIBUTES}{QUARTERS}</part></measure>'
        f'<measure number="2"><part id="P1">{QUARTERS}</part></measure></score-timewise>'
    )
    assert len(pitch_names(read(text.encode()))) == 8


def test_utf_16_is_read(read):
    """The encoding the file declares."""
    text = score(QUARTERS, head="<movement-title>Été</movement-title>").decode().replace("UTF-8", "UTF-16")
    assert read(text.encode("utf-16")).title == "Été"


@pytest.mark.parametrize("mark", [b"", b"\xef\xbb\xbf"])
@pytest.mark.parametrize("encoding", ["UTF-16", "utf-16", "UTF-16LE"])
def test_a_text_stored_anew_as_utf_8_is_read_though_it_calls_itself_utf_16(encoding: str, mark: bytes):
    """Finale and Sibelius export UTF-16; mail, version control and editors store it otherwise."""
    text = score(QUARTERS, head="<movement-title>Été</movement-title>").replace(b"UTF-8", encoding.encode())
    assert tree(mark + text).findtext("movement-title") == "Été"


def test_empty_lines_before_the_declaration_are_passed_over():
    assert tree(b"\n \r\n" + score(QUARTERS)).tag == "score-partwise"


def tree(content: bytes):
    return checked_tree(TuneSource(name="tune.xml", file_format="musicxml", content=content))


def test_a_namespace_that_some_programs_write_is_taken_off():
    root = tree(b'<score-partwise xmlns="http://www.musicxml.org/ns"><part id="P1"><measure/></part></score-partwise>')
    assert [element.tag for element in root.iter()] == ["score-partwise", "part", "measure"]


def test_a_timewise_score_is_turned_round_with_everything_else_left_in_place():
    root = tree(
        b'<score-timewise version="4.0"><work/><measure number="1"><part id="A"><x/></part><part id="B"/></measure>'
        b'<measure number="2"><part id="B"><y/></part></measure></score-timewise>'
    )
    assert (root.tag, root.get("version"), root[0].tag) == ("score-partwise", "4.0", "work")
    held = {
        part.get("id"): [(bar.get("number"), [one.tag for one in bar]) for bar in part] for part in root.findall("part")
    }
    assert held == {"A": [("1", ["x"])], "B": [("1", []), ("2", ["y"])]}


def test_a_document_type_is_allowed_and_never_fetched():
    assert tree(score(QUARTERS)).find("part") is not None


@pytest.mark.parametrize(
    ("content", "sentence"),
    [
        (b"<score-partwise><part></score-partwise>", r"tune\.xml: is broken XML at line 1, column 25"),
        (b"<opus/>", r"it begins with <opus>"),
        (b'<!DOCTYPE x [<!ENTITY a "b">]><score-partwise>&a;</score-partwise>', "defines XML entities of its own"),
        (b"<score-partwise>" + b"<a>" * 40 + b"</a>" * 40 + b"</score-partwise>", "nests deeper than any score"),
    ],
)
def test_what_is_no_score_is_refused(content: bytes, sentence: str):
    with refusal(TuneError, sentence):
        tree(content)


def test_forty_elements_deep_is_the_most():
    assert tree(b"<score-partwise>" + b"<a>" * 39 + b"</a>" * 39 + b"</score-partwise>").tag == "score-partwise"


def test_elements_are_counted_while_they_come_and_the_rest_is_not_waited_for(monkeypatch: pytest.MonkeyPatch):
    """A million is the most; here a thousand, for the test."""
    assert checked_xml.MAX_ELEMENTS == 1_000_000
    monkeypatch.setattr(checked_xml, "MAX_ELEMENTS", 1_000)
    assert tree(b"<score-partwise>" + b"<a/>" * 999 + b"</score-partwise>").tag == "score-partwise"
    with refusal(TuneError, r"tune\.xml: holds more than 1,000 XML elements"):
        tree(b"<score-partwise>" + b"<a/>" * 1_000 + b"never closed")

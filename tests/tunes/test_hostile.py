"""Hostile and broken files: each ends in one clear sentence, before anything heavy looks at it."""

import io
import struct
import zipfile

import pytest

from game.errors import TuneError
from game.tunes.limits import MAX_FILE_BYTES
from game.tunes.reading import read_tune
from game.tunes.reading_process import ReadingProcess

from .hand_written import ATTRIBUTES, measure, note, parts, score

QUARTERS = "".join(note(name) for name in ("C4", "D4", "E4", "F4"))


def changed(old: str, new: str, text: bytes | None = None) -> bytes:
    """A good score with one thing made bad."""
    good = (text or score(QUARTERS)).decode()
    assert old in good
    return good.replace(old, new).encode()


def zipped(*members: tuple[str, bytes]) -> bytes:
    buffer = io.BytesIO()
    with zipfile.ZipFile(buffer, "w", zipfile.ZIP_DEFLATED) as archive:
        for name, content in members:
            archive.writestr(name, content)
    return buffer.getvalue()


def lying_zip() -> bytes:
    """A member that says it unpacks to ten bytes and unpacks to 30 MB."""
    content = bytearray(zipped(("tune.xml", b"<" * 30_000_000)))
    directory = content.rindex(b"PK\x01\x02")
    content[directory + 24 : directory + 28] = struct.pack("<I", 10)
    return bytes(content)


BOMB = (
    '<!DOCTYPE score-partwise [<!ENTITY a "aaaaaaaaaa"><!ENTITY b "&a;&a;&a;&a;&a;&a;&a;&a;&a;&a;">'
    '<!ENTITY c "&b;&b;&b;&b;&b;&b;&b;&b;&b;&b;">]>'
)
EXTERNAL = '<!DOCTYPE score-partwise [<!ENTITY x SYSTEM "file:///etc/hostname">]>'
REPEATED = '<barline location="right"><repeat direction="backward" times="{}"/></barline>'

CASES = {
    "prose": (b"Dear reader, this is a letter.", "is not a music file we know"),
    "empty": (b"", "is empty"),
    "only spaces": (b" \n\t ", "is empty"),
    "binary": (bytes(range(256)) * 20, "is not a music file we know"),
    "a picture": (b"\x89PNG\r\n\x1a\n" + b"\x00" * 100, "is not a music file we know"),
    "a MIDI file": (b"MThd\x00\x00\x00\x06\x00\x00\x00\x01\x00\x60", "is a (broken )?MIDI file"),
    "huge": (b"<score-partwise>" + b" " * MAX_FILE_BYTES, "is larger than 5 MB"),
    "HTML": (b"<html><body>tune</body></html>", r"not a MusicXML score \(it begins with <html>\)"),
    "broken XML": (score(QUARTERS)[:-30], "is broken XML at line"),
    "two roots": (score(QUARTERS) + b"<more/>", "is broken XML"),
    "an unknown encoding": (
        b'<?xml version="1.0" encoding="x-none"?><score-partwise/>',
        "encoding|broken XML",
    ),
    "entities": (score("&c;", doctype=BOMB), "defines XML entities of its own"),
    "an entity from a file": (score("&x;", doctype=EXTERNAL), "defines XML entities of its own"),
    "deep nesting": (b"<score-partwise>" + b"<a>" * 100_000, "nests deeper than any score"),
    "too many elements": (b"<score-partwise>" + b"<a/>" * 1_000_001, "more than 1,000,000 XML elements"),
    "no part": (b"<score-partwise/>", "without a part"),
    "no bars": (parts(("M", "")), "has no bars"),
    "no notes": (score("<note><rest/><duration>16</duration></note>"), "has no pitched notes"),
    "cue notes only": (score(note("C4", 16, before="<cue/>")), "has no notes to play"),
    "10,000 bars": (parts(("M", measure(ATTRIBUTES + QUARTERS) + measure("") * 9_999)), "has 10,000 bars"),
    "10,001 notes": (score(note("C4") * 10_001), "has 10,001 notes"),
    "zero divisions": (changed("<divisions>4<", "<divisions>0<"), r"bar 1 divides .* into 0 parts"),
    "negative divisions": (changed("<divisions>4<", "<divisions>-4<"), "divisions of '-4'"),
    "divisions by word": (changed("<divisions>4<", "<divisions>many<"), "divisions of 'many'"),
    "endless divisions": (changed("<divisions>4<", "<divisions>1e999999999<"), "divisions of '1e999999999'"),
    "no divisions text": (changed("<divisions>4<", "<divisions><"), "divisions of ''"),
    "octave 99": (changed("<octave>4<", "<octave>99<"), "bar 1 has a octave of '99'|an octave of '99'"),
    "no octave": (changed("<octave>4</octave>", ""), "without an octave"),
    "alter 12": (score(note("C4", 16)).replace(b"<octave>", b"<alter>12</alter><octave>"), "alter of '12'"),
    "alter 3": (score(note("C4", 16)).replace(b"<octave>", b"<alter>3</alter><octave>"), "alter of '3'"),
    "step H": (changed("<step>C<", "<step>H<"), "a note called 'H'"),
    "0 beats": (changed("<beats>4<", "<beats>0<"), "metre of '0' beats"),
    "a billion beats": (changed("<beats>4<", "<beats>1000000000<"), "metre of '1000000000' beats"),
    "beats by word": (changed("<beats>4<", "<beats>four<"), "metre of 'four' beats"),
    "unit 5": (changed("<beat-type>4<", "<beat-type>5<"), "units of '5'"),
    "99 sharps": (changed("<fifths>0<", "<fifths>99<"), "fifths of '99'"),
    "a negative length": (changed("<duration>4<", "<duration>-4<"), "duration of '-4'"),
    "an endless length": (changed("<duration>4<", "<duration>99999999<"), "duration of '99999999'"),
    "no length": (changed("<duration>4</duration>", ""), "without a duration"),
    "a billion times": (
        score(QUARTERS + REPEATED.format(10**9)),
        "repeated 1,?000,?000,?000 times|'1000000000'",
    ),
    "times by word": (score(QUARTERS + REPEATED.format("ever")), "repeated 'ever' times"),
    "64 times, again and again": (score(*[QUARTERS + REPEATED.format(64)] * 90), "more than 5,000 bars"),
    "0 in the time of 0": (
        score(
            note(
                "C4",
                16,
                "<time-modification><actual-notes>0</actual-notes><normal-notes>0</normal-notes></time-modification>",
            )
        ),
        "actual-notes of '0'",
    ),
    "a broken archive": (b"PK\x03\x04" + b"\x00" * 50, "cannot be unpacked"),
    "an archive cut short": (zipped(("tune.xml", score(QUARTERS)))[:-40], "cannot be unpacked"),
    "an archive without a score": (zipped(("readme.txt", b"hello")), "holds no score"),
    "an archive with two scores": (
        zipped(("a.xml", score(QUARTERS)), ("b.xml", score(QUARTERS))),
        "2 scores and does not say which",
    ),
    "an archive of many files": (zipped(*[(f"{n}.txt", b"") for n in range(300)]), "packs 300 files"),
    "a zip bomb": (zipped(("tune.xml", b" " * 60_000_000)), "unpacks to more than"),
    "a zip bomb that lies": (lying_zip(), "unpacks to more than|cannot be unpacked"),
    "an archive in an archive": (
        zipped(("tune.xml", zipped(("tune.xml", score(QUARTERS))))),
        "is broken XML",
    ),
}


@pytest.mark.parametrize(("content", "sentence"), CASES.values(), ids=CASES)
def test_a_hostile_file_ends_in_one_clear_sentence(read, content, sentence):
    """What is wrong, where, and what to do, on one line, without a traceback."""
    with pytest.raises(TuneError, match=sentence) as caught:
        read(content, name="tune.xml")
    said = str(caught.value)
    assert said.startswith(("tune.xml: ", "the repeats of this tune"))
    assert "\n" not in said
    assert len(said) < 300


def test_members_with_paths_out_of_the_archive_are_never_written_anywhere(read, tmp_path, monkeypatch):
    """A member called ../../evil.xml is read in memory like any other."""
    monkeypatch.chdir(tmp_path)
    content = zipped(("../../evil.xml", score(QUARTERS)), ("/etc/other.txt", b""))
    assert len(read(content).bars) == 1
    assert list(tmp_path.iterdir()) == []


def test_a_missing_file_and_a_folder_are_said_plainly(tmp_path):
    """No traceback for a slip of the finger."""
    for path in (tmp_path / "nowhere.xml", tmp_path):
        with pytest.raises(TuneError, match="there is no such file"):
            read_tune(path)


def test_a_hostile_file_name_is_cleaned_before_it_is_shown(tmp_path):
    """Control characters of the name stay out of the message."""
    path = tmp_path / "a\x1b[31m\nb.xml"
    path.write_bytes(b"nothing")
    with pytest.raises(TuneError, match=r"^a\[31m b\.xml: is not a music file"):
        read_tune(path)


def test_titles_with_control_characters_and_markup_come_out_as_one_clean_line(read):
    """They are escaped where they are shown; here they only lose what no title has."""
    head = "<movement-title>&lt;script&gt;alert(1)&lt;/script&gt; &#x202E;evil&#x200B;\n\ttitle</movement-title>"
    assert read(score(QUARTERS, head=head)).title == "<script>alert(1)</script> evil title"


def test_a_very_long_title_is_cut(read):
    """Nobody's page has a title of a million letters."""
    title = read(score(QUARTERS, head=f"<movement-title>{'la ' * 100_000}</movement-title>")).title
    assert len(title) <= 200
    assert title.endswith("…")


def test_a_reader_that_takes_too_long_is_ended():
    """The wall limit ends the process, and the sentence says so."""
    with ReadingProcess(wall_s=0.01) as process, pytest.raises(TuneError, match="could not be read within"):
        process.read(score(QUARTERS), "tune.xml")


def test_a_reader_that_fails_is_reported_in_one_sentence():
    """What music21 raises is worded for the player; the process goes on."""
    with ReadingProcess() as process:
        with pytest.raises(TuneError, match="its notes make no sense to the reader"):
            process.read(b"<nothing", "tune.xml")
        assert len(process.read(score(QUARTERS), "tune.xml").bars) == 1


def test_the_reader_may_not_take_all_memory():
    """The limit of 1 GB holds in the reading process (where the system has such limits)."""
    resource = pytest.importorskip("resource")
    with ReadingProcess() as process:
        process.read(score(QUARTERS), "tune.xml")
        pid = process._process.pid
        assert resource.prlimit(pid, resource.RLIMIT_AS) == (1_000_000_000, 1_000_000_000)
        assert resource.prlimit(pid, resource.RLIMIT_CPU) == (30, 30)

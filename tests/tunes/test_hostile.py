"""Hostile and broken files of all kinds: each ends in one clear sentence, under the limits, the library unharmed."""

import json
import struct
import subprocess
import sys
from pathlib import Path

import pytest

from game.errors import TuneError
from game.text.catalogue import tell
from game.tunes.library.adding import Adder, files_in
from game.tunes.library.import_results import Added
from game.tunes.limits import MAX_FILE_BYTES
from game.tunes.read_tune import read_tune
from tests.refusing import refusal
from tests.sampling import how_many, sample
from tests.tunes.fuzzing import KINDS
from tests.tunes.hand_written import ATTRIBUTES, measure, note, parts, score, zipped
from tests.tunes.hostile_tunes import HOSTILE_TUNES

ROOT = Path(__file__).parents[2]
QUARTERS = "".join(note(name) for name in ("C4", "D4", "E4", "F4"))


def changed(old: str, new: str, text: bytes | None = None) -> bytes:
    """A good score with one thing made bad."""
    good = (text or score(QUARTERS)).decode()
    assert old in good
    return good.replace(old, new).encode()


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
    "a packed folder of tunes": (
        zipped(("reels/1.ABC", b"X:1"), ("reels/2.mid", b"MThd")),
        "is a packed folder of tunes",
    ),
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
    with refusal(TuneError, sentence) as caught:
        read(content, name="tune.xml")
    said = tell(caught.value.message)
    assert said.startswith(("tune.xml: ", "the repeats of this tune"))
    assert "\n" not in said
    assert len(said) < 300


def test_titles_with_control_characters_and_markup_come_out_as_one_clean_line(read):
    """They are escaped where they are shown; here they only lose what no title has."""
    head = "<movement-title>&lt;script&gt;alert(1)&lt;/script&gt; &#x202E;evil&#x200B;\n\ttitle</movement-title>"
    assert read(score(QUARTERS, head=head)).title == "<script>alert(1)</script> evil title"


def test_a_very_long_title_is_cut(read):
    """Nobody's page has a title of a million letters."""
    title = read(score(QUARTERS, head=f"<movement-title>{'la ' * 100_000}</movement-title>")).title
    assert len(title) <= 200
    assert title.endswith("…")


HEADER = b"X:1\nT:T\nM:4/4\nL:1/4\nK:C\n"
MANY = 900_000


def midi(*tracks: bytes, division: bytes = b"\x01\xe0", count: int | None = None) -> bytes:
    """A MIDI file of raw tracks."""
    head = b"MThd\x00\x00\x00\x06\x00\x01" + (len(tracks) if count is None else count).to_bytes(2, "big") + division
    return head + b"".join(b"MTrk" + len(track).to_bytes(4, "big") + track for track in tracks)


NOTE = b"\x00\x90\x3c\x40\x83\x60\x80\x3c\x40"
END = b"\x00\xff\x2f\x00"

# Text and bytes that ABC and MIDI readers could choke on; the part of the sentence that must be there.
OTHER_CASES = {
    "ABC: 2 MB": (HEADER + b"C" * 2_000_000, "is larger than 1 MB"),
    "ABC: no key": (b"X:1\nT:Ford\nM:4/4\nCDEF\n", "is not a music file we know"),
    "ABC: no music": (HEADER, "has no notes to play"),
    "ABC: only rests": (HEADER + b"z4|z4|", "has no notes to play"),
    "ABC: brackets": (HEADER + b"[" * MANY, "holds more than 60,000 signs"),
    "ABC: quotes": (HEADER + b'"' * MANY, "holds more than 60,000 signs"),
    "ABC: braces": (HEADER + b"{" * MANY, "has no notes to play"),
    "ABC: accidentals": (HEADER + b"^" * MANY, "holds more than 60,000 signs"),
    "ABC: tuplets": (HEADER + b"(9:9:9" * (MANY // 6), "holds more than 60,000 signs"),
    "ABC: bars": (HEADER + b"C|" * 1_001, "more than 1,000 bars"),
    "ABC: notes": (HEADER + b"CCCCCCCCCCCC|" * 900, "more than 10,000 notes"),
    "ABC: graces": (HEADER + b"{" + b"c" * MANY + b"}C", "more than 10,000 notes"),
    "ABC: one endless bar": (HEADER + b"C" * 9_000, "bar 1 lasts 9000 quarter notes"),
    "ABC: rests of bars": (HEADER + b"Z9999", "line 6 has a rest of 9,999 bars"),
    "ABC: a long note": (HEADER + b"C99999", "line 6 has a note length of 99999"),
    "ABC: a note of nothing": (HEADER + b"C0", "line 6 has a note length of 0"),
    "ABC: divided by nothing": (HEADER + b"C/0", "line 6 has a note length of /0"),
    "ABC: slashes": (HEADER + b"C" + b"/" * MANY, "line 6 has a note length of ////////,"),
    "ABC: commas": (HEADER + b"C" + b"," * MANY, "out of all octaves"),
    "ABC: a metre of 0": (HEADER.replace(b"4/4", b"0/4") + b"C", "the header has a metre of 0/4"),
    "ABC: a metre of a million": (HEADER.replace(b"4/4", b"1000000/4") + b"C", "has a metre of 1000000/4"),
    "ABC: fifths of a whole": (HEADER.replace(b"4/4", b"4/5") + b"C", "has a metre of 4/5"),
    "ABC: an unheard length": (HEADER.replace(b"1/4", b"99/1") + b"C", "has a default length of '99/1'"),
    "ABC: endless repeats": (HEADER + b"|:C[1-64 C:|" * 300, "more than 5,000 bars when written out"),
    "ABC: endless parts": (b"X:1\nP:(A99)99\nL:1/4\nK:C\nP:A\nC|C|\n", "its parts come to .* more than 1,000"),
    "ABC: tunes": (b"X:1\nK:C\nC\n\n" * 6_000, "holds 6,000 tunes, more than 5,000"),
    "MIDI: 2 MB": (midi(NOTE * 250_000), "is larger than 1 MB"),
    "MIDI: no tracks": (midi(), "without notes"),
    "MIDI: a promise of tracks": (midi(count=65_535), "without notes"),
    "MIDI: cut short": (midi(NOTE + END)[:-6], "is a broken MIDI file"),
    "MIDI: header alone": (b"MThd", "is a broken MIDI file"),
    "MIDI: counts in nothing": (midi(NOTE + END, division=b"\x00\x00"), "counts in nothing"),
    "MIDI: an endless number": (midi(b"\x81" * 20_000 + b"\x00\x90\x3c\x40" + END), "holds a number without end"),
    "MIDI: a long number": (midi(b"\x81" * 4_000 + b"\x00\x90\x3c\x40" + END), "a number without end"),
    "MIDI: a note in a thousand years": (midi(b"\xff\xff\xff\x7f\x90\x3c\x40" * 9 + END), "far longer than a tune"),
    "MIDI: a long message": (midi(b"\x00\xff\x01\xff\xff\xff\x7fabc"), "is a broken MIDI file"),
    "MIDI: notes": (midi(NOTE * 10_001 + END), "more than 10,000 notes"),
    "MIDI: messages": (midi(b"\x00\xb0\x07\x40" + b"\x00\x07\x40" * 100_100 + END), "far longer than a tune"),
    "MIDI: bars": (midi(b"\x00\xff\x58\x04\x01\x06\x18\x08" + NOTE * 100 + END), "has 1,001 bars"),
    "MIDI: a metre every tick": (
        midi(b"\x01\xff\x58\x04\x04\x02\x18\x08" * 1_100 + NOTE + END),
        "changes its metre or key more often than 1,000 times",
    ),
    "MIDI: drums": (midi(NOTE.replace(b"\x90", b"\x99").replace(b"\x80", b"\x89") + END), "without notes"),
    "MIDI: an impossible key": (midi(b"\x00\xff\x59\x02\x63\x07" + NOTE + END), "is a broken MIDI file"),
}


@pytest.mark.parametrize("name", sample(OTHER_CASES, by_default=20))
def test_a_hostile_abc_or_midi_file_ends_in_one_clear_sentence(name, reading_process):
    """What is wrong and what to do, with the file's name, read in the watched process."""
    content, sentence = OTHER_CASES[name]
    with refusal(TuneError, sentence) as caught:
        read_tune(content, name="tune.abc", process=reading_process)
    said = tell(caught.value.message)
    assert said.startswith(("tune.abc: ", "the repeats of this tune"))
    assert "\n" not in said
    assert len(said) < 300
    assert not reading_process.ended


GOOD_ALL_THE_SAME = {
    "an unknown field": HEADER + b"Q:fast\nCDEF|",
    "bytes of no encoding": HEADER + bytes(range(128, 256)) * 100 + b"C",
    "a key of nonsense": HEADER.replace(b"K:C", b"K:" + b"^a" * 50_000) + b"CDEF|",
    "lines without end": HEADER + b"C|" + b"\\\n" * 50_000,
    "chords without end": HEADER + b'"C"' * 50_000 + b"C",
    "voices without end": HEADER + b"".join(b"V:%d\nC\n" % voice for voice in range(20_000)),
    "MIDI notes that never end": midi(b"\x00\x90\x3c\x40\x83\x60\x90\x3e\x40" + END),
    "MIDI with system exclusive": midi(b"\x00\xf0\x03\x01\x02\xf7" + NOTE + END),
    "MIDI in film frames": midi(NOTE + END, division=b"\xe8\x28"),
}


@pytest.mark.parametrize("name", sample(GOOD_ALL_THE_SAME, by_default=5))
def test_what_is_only_strange_is_read(name, reading_process):
    """With what can be made of it."""
    assert read_tune(GOOD_ALL_THE_SAME[name], name="odd", process=reading_process).bars


def test_an_abc_text_is_never_taken_for_a_path_or_an_address(tmp_path, monkeypatch, reading_process):
    """Its text holds both; nothing is opened beside it, nothing written."""
    monkeypatch.chdir(tmp_path)
    head = b"X:1\nT:/etc/hostname\nF:http://localhost:1/x.abc\nM:4/4\nL:1/4\nK:C\n"
    text = head + b"%%abc-include /etc/hostname\nI:abc-include x\nC4|\n"
    assert read_tune(text, name="tune.abc", process=reading_process).title == "/etc/hostname"
    assert list(tmp_path.iterdir()) == []


REASONS = {
    "prime divisions in a bar": "bar 1 divides .* nothing in common with those before",
    "prime divisions in bars": "bar 2 divides .* nothing in common with those before",
    "divisions of many decimals": "bar 1 divides .* nothing in common with those before",
    "a bar of 2,500 quarters": "bar 1 is longer than 1,?024 quarter notes",
    "an archive with damaged bytes": "compressed file that cannot be unpacked",
    "an encrypted archive": "is locked with a password",
    "an archive packed otherwise": "compressed file that cannot be unpacked",
    "65,000 members": "packs 65,000 files",
    "numbers of five bytes": "a number without end",
}


@pytest.mark.parametrize("name", sample([name for name in HOSTILE_TUNES if name not in REASONS], by_default=4))
def test_a_file_made_to_hold_up_its_reader_is_read_or_refused_in_one_sentence(name, reading_process):
    """`python -m tests.bench.hostile_tunes` measures what each of them costs."""
    try:
        said = f"read: {read_tune(HOSTILE_TUNES[name](), name='x', part=1, process=reading_process).file_format}"
    except TuneError as refused:
        said = tell(refused.message)
    assert said.startswith(("read: ", "x: ", "the repeats of this tune"))
    assert "\n" not in said
    assert len(said) < 300


@pytest.mark.parametrize("name", REASONS)
def test_what_cannot_be_counted_or_unpacked_is_refused_for_that(read, name):
    with refusal(TuneError, f"^tune.xml: .*{REASONS[name]}"):
        read(HOSTILE_TUNES[name](), name="tune.xml")


FINER_BAR = "<attributes><divisions>{}</divisions></attributes>"


def test_two_voices_and_divisions_that_change_from_bar_to_bar_are_read(read):
    """As programs write them."""
    assert read(score(QUARTERS + "<backup><duration>16</duration></backup>" + QUARTERS)).bars
    changing = [FINER_BAR.format(by) + note("C4", by) * 4 for by in (1, 2, 3, 4, 480, 768, 1024, 10080)]
    assert [len(bar.notes) for bar in read(score(*changing)).bars] == [4] * 8


def test_hostile_files_leave_the_library_as_it_was(tmp_path):
    """All of them in one folder, and one good tune among them."""
    home, folder = tmp_path / "library", tmp_path / "in"
    folder.mkdir()
    chosen = [content for content, _ in (*OTHER_CASES.values(), *CASES.values()) if len(content) < 20_000]
    for number, content in enumerate(chosen):
        (folder / f"{number:02}.abc").write_bytes(content)
    (folder / "good.abc").write_bytes(HEADER + b"CDEF|")
    with Adder(folder=home) as adder:
        came = [one for path in files_in([folder]).files for one in adder.added(path)]
    assert [one.path.name for one in came if isinstance(one, Added)] == ["good.abc"]
    assert all("\n" not in tell(one.fault) for one in came if not isinstance(one, Added))
    assert len(list(home.iterdir())) == 3


def test_mutated_files_are_read_or_refused_and_nothing_else():
    """Each in a forked child; `python -m tests.bench.fuzz` does ten thousand of each kind."""
    count = how_many(100, by_default=10)
    command = [sys.executable, "-m", "tests.tunes.fuzzing", "all", str(count), "20261125"]
    done = subprocess.run(command, cwd=ROOT, capture_output=True, text=True, check=False, timeout=300)
    assert done.returncode == 0, done.stderr
    results = [json.loads(line) for line in done.stdout.splitlines()]
    assert [told["kind"] for told in results] == list(KINDS)
    for told in results:
        assert told["faults"] == [], done.stderr
        assert told["read"] + told["refused"] == count
        assert told["read"] >= count // 5
        assert told["worst_mb"] < 1_000

"""Which octave a file means."""

from xml.etree import ElementTree as ET

import pytest

from game.message import message
from game.music.score import Note, Reading
from game.music.written import written_notes
from game.text.catalogue import tell
from game.tunes.musicxml.reading_octave import octave_shifted_bar, settled_octave
from tests.made import bar as made_bar
from tests.tunes.hand_written import ATTRIBUTES, measure, note, pitch_names, score
from tests.tunes.told import warnings_told

CLEF = "<clef><sign>G</sign><line>2</line>"


OCTAVE_CLEF = ATTRIBUTES.replace(CLEF, f"{CLEF}<clef-octave-change>-1</clef-octave-change>")


TRANSPOSED = ATTRIBUTES.replace(
    "</attributes>",
    "<transpose><chromatic>0</chromatic><octave-change>-1</octave-change></transpose></attributes>",
)


# Source: MusicXML 4.0, clef-octave-change and transpose; design contract for the page.
@pytest.mark.parametrize(
    ("attributes", "choice", "page", "sounding"),
    [
        (ATTRIBUTES, None, "C5", 60),
        (ATTRIBUTES, Reading.GUITAR, "C5", 60),
        (ATTRIBUTES, Reading.CONCERT, "C5", 72),
        (OCTAVE_CLEF, None, "C6", 72),
        (OCTAVE_CLEF, Reading.CONCERT, "C5", 72),
        (TRANSPOSED, None, "C5", 60),
        (TRANSPOSED, Reading.CONCERT, "C4", 60),
    ],
)
def test_the_octave_is_settled_by_clef_and_transposition(read, attributes, choice, page, sounding):
    """A file that fixes the sound keeps it and the page moves; a lead sheet keeps its page."""
    tune = read(score(note("C5", 16), attributes=attributes), read=choice)
    (only,) = written_notes(tune.bars, tune.reading)
    assert (str(only.pitch), only.sounding) == (page, sounding)
    assert tell(tune.octave_reason).endswith(".")


def test_a_part_for_a_transposing_instrument_keeps_its_page_and_says_so(read):
    """B♭ clarinet: two semitones below the page."""
    attributes = ATTRIBUTES.replace(
        "</attributes>",
        "<transpose><diatonic>-1</diatonic><chromatic>-2</chromatic></transpose></attributes>",
    )
    tune = read(score(note("C5", 16), attributes=attributes))
    assert pitch_names(tune) == ["C5"]
    assert any("2 semitones below the page" in warning for warning in warnings_told(tune))


def settled(attributes: str, read: Reading | None = None):
    return settled_octave(ET.fromstring(f"<part>{measure(attributes)}</part>"), read)


@pytest.mark.parametrize(
    ("clef_octaves", "transpose", "warnings"),
    [
        (0, "", []),
        (1, "", ["octave.clef_as_written"]),
        (-1, "<chromatic>-2</chromatic>", ["octave.instrument_below", "octave.clef_and_transposition"]),
        (0, "<chromatic>3</chromatic>", ["octave.instrument_above"]),
        (0, "<octave-change>-2</octave-change>", ["octave.part_shifted"]),
    ],
)
def test_what_is_unusual_is_said(clef_octaves: int, transpose: str, warnings: list[str]):
    """MusicXML 4.0: chromatic in semitones, octave-change on top of them."""
    clef = f"<clef><sign>G</sign><clef-octave-change>{clef_octaves}</clef-octave-change></clef>"
    octave = settled(f"<attributes>{clef}<transpose>{transpose}</transpose></attributes>")
    assert [warning.key for warning in octave.warnings] == warnings


def test_a_part_in_a_clef_that_is_not_read_here_is_said_with_it():
    (warning,) = settled("<attributes><clef><sign>C</sign></clef></attributes>").warnings
    assert dict(warning.values)["clef"] == message("clef.c")


BASS_CLEF = ATTRIBUTES.replace(CLEF, "<clef><sign>F</sign><line>4</line>")
BASS_OCTAVE_CLEF = OCTAVE_CLEF.replace(CLEF, "<clef><sign>F</sign><line>4</line>")
BASS_TRANSPOSED = TRANSPOSED.replace(CLEF, "<clef><sign>F</sign><line>4</line>")


# Source: MusicXML 4.0, clef-octave-change and transpose. E1 sounds from the open E of a bass, written E2 (trade).
@pytest.mark.parametrize(
    ("attributes", "in_file", "choice", "reading", "page", "sounding"),
    [
        (BASS_OCTAVE_CLEF, "E1", None, Reading.BASS, "E2", 28),
        (BASS_OCTAVE_CLEF, "E1", Reading.GUITAR, Reading.BASS, "E2", 28),
        (BASS_OCTAVE_CLEF, "E1", Reading.CONCERT_BASS, Reading.CONCERT_BASS, "E1", 28),
        (BASS_TRANSPOSED, "E2", None, Reading.BASS, "E2", 28),
        (BASS_CLEF, "E2", None, Reading.CONCERT_BASS, "E2", 40),
        (BASS_CLEF, "E2", Reading.BASS, Reading.BASS, "E2", 28),
        (BASS_CLEF, "E2", Reading.CONCERT, Reading.CONCERT_BASS, "E2", 40),
        (ATTRIBUTES, "C5", Reading.BASS, Reading.GUITAR, "C5", 60),
    ],
)
def test_a_file_keeps_its_clef_and_is_read_as_the_player_reads_there(
    read, attributes, in_file, choice, reading, page, sounding
):
    tune = read(score(note(in_file, 16), attributes=attributes), read=choice)
    (only,) = written_notes(tune.bars, tune.reading)
    assert (tune.reading, str(only.pitch), only.sounding) == (reading, page, sounding)
    assert tell(tune.octave_reason).endswith(".")


def test_only_the_clef_of_the_first_staff_counts():
    octave = settled('<attributes><clef number="2"><sign>F</sign></clef></attributes>')
    assert (octave.warnings, octave.sound_fixed) == ((), False)


def test_a_bar_is_moved_by_octaves_with_its_grace_notes_and_left_as_it_is_by_none():
    bar = made_bar("gF4 e, F#4 h, r h")
    moved = octave_shifted_bar(bar, -1)
    assert [str(one.pitch) for one in moved.events if isinstance(one, Note)] == ["F3", "F#3"]
    assert octave_shifted_bar(moved, 1) == bar
    assert octave_shifted_bar(bar, 0) is bar

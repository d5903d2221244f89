"""Which octave a file means: settled on import and said in one sentence.

In MusicXML a pitch under an octave clef is the sound and the page lies an octave above (clef-octave-change
-1); under a plain clef with a `transpose` of a whole octave the pitch is the page and the sound lies below;
with neither the file is a lead sheet, whose page stands and is read at the octave of the player's choice
(MusicXML 4.0; the last is trade).

A file keeps its clef, treble or bass: who reads in the other one gets its page by `game.music.at_reading`. A plain bass
clef that nobody said anything about is taken as trombones and cellos read it, sounding as written (trade).
"""

from dataclasses import dataclass, replace
from fractions import Fraction
from xml.etree.ElementTree import Element

from game.message import Message, message
from game.music.clef import Clef
from game.music.score import Bar, Note, Reading
from game.tunes.musicxml.staves import holds_for_staff, staff_read

_OCTAVE = 12


@dataclass(frozen=True, slots=True, kw_only=True)
class SettledOctave:
    """`up` is in octaves, from the file to the page; `reason` and each warning is one sentence. `sound_fixed` when the
    file settles what sounds, so that the page moves to fit the reading.
    """

    reading: Reading
    up: int
    reason: Message
    sound_fixed: bool = False
    warnings: tuple[Message, ...] = ()


def settled_octave(part: Element, read: Reading | None) -> SettledOctave:
    """Settle the octave of a checked part from its first clef and transposition, and `read` if the player
    chose.
    """
    clef = _first_clef(part)
    clef_octaves = int(Fraction((clef.findtext("clef-octave-change") or "0").strip())) if clef is not None else 0
    transpose = _first(part, "transpose")
    semitones = _semitones(transpose)
    warnings = _warnings(clef, clef_octaves, semitones)
    in_clef = Clef.BASS if _sign_of(clef) == Clef.BASS.sign else Clef.TREBLE
    if clef_octaves == -1:
        return _fixed(reading_in(in_clef, read), file_to_sound=0, sign="clef", warnings=warnings)
    if semitones == -_OCTAVE:
        return _fixed(reading_in(in_clef, read), file_to_sound=-1, sign="transposition", warnings=warnings)
    settled = open_octave(reading_in(in_clef, read, said=False))
    return replace(settled, up=0 if clef_octaves == 0 else -clef_octaves, warnings=warnings)


def reading_in(clef: Clef, read: Reading | None, *, said: bool = True) -> Reading:
    """How a file in `clef` is read: as the player reads, where that is their clef; else as guitars do, as bass guitars
    do where the file has `said` that it sounds an octave down, and a bass clef as written where it has not.
    """
    if read is not None and read.clef is clef:
        return read
    if clef is Clef.TREBLE:
        return Reading.GUITAR
    return Reading.BASS if said else Reading.CONCERT_BASS


def open_octave(reading: Reading) -> SettledOctave:
    """A file that says nothing about the octave: its page stands, and is read as the player reads."""
    return SettledOctave(reading=reading, up=0, reason=message(f"octave.unsaid_{reading.value}"))


def fixed_octave(reading: Reading, *, file_to_sound: int, sign: str) -> SettledOctave:
    """A file that settles what sounds, `file_to_sound` octaves from its pitches; `sign` says by what: the sentences
    are `octave.by_{sign}_guitar` for a page an octave above the sound, and `octave.by_{sign}_concert`.
    """
    return _fixed(reading, file_to_sound=file_to_sound, sign=sign, warnings=())


def octave_shifted_bar(bar: Bar, up: int) -> Bar:
    """The bar with its notes `up` octaves higher."""
    if not up:
        return bar
    events = (
        replace(event, pitch=event.pitch.up_octaves(up)) if isinstance(event, Note) else event for event in bar.events
    )
    return replace(bar, events=tuple(events))


def _fixed(reading: Reading, *, file_to_sound: int, sign: str, warnings: tuple[Message, ...]) -> SettledOctave:
    """The file fixes the sound: the page moves to fit the reading."""
    up = file_to_sound + reading.octaves_down
    reason = message(f"octave.by_{sign}_{'guitar' if reading.octaves_down else 'concert'}")
    return SettledOctave(reading=reading, up=up, reason=reason, sound_fixed=True, warnings=warnings)


def _warnings(clef: Element | None, clef_octaves: int, semitones: int) -> tuple[Message, ...]:
    warnings = []
    if semitones % _OCTAVE:
        key = "octave.instrument_below" if semitones < 0 else "octave.instrument_above"
        warnings.append(message(key, count=abs(semitones)))
    elif semitones not in (0, -_OCTAVE):
        warnings.append(message("octave.part_shifted", semitones=semitones))
    if clef_octaves == -1 and semitones:
        warnings.append(message("octave.clef_and_transposition"))
    if clef_octaves not in (0, -1):
        warnings.append(message("octave.clef_as_written"))
    if _sign_of(clef) == "C":
        warnings.append(message("octave.part_in_clef", clef=message("clef.c")))
    return tuple(warnings)


def _sign_of(clef: Element | None) -> str:
    return (clef.findtext("sign") or "G").strip() if clef is not None else "G"


def _semitones(transpose: Element | None) -> int:
    """From the page to the sound. A fraction of a semitone is dropped."""
    if transpose is None:
        return 0
    chromatic = Fraction((transpose.findtext("chromatic") or "0").strip())
    octaves = Fraction((transpose.findtext("octave-change") or "0").strip())
    return int(chromatic + _OCTAVE * octaves)


def _first_clef(part: Element) -> Element | None:
    return _first(part, "clef")


def _first(part: Element, tag: str) -> Element | None:
    """The first of its kind that holds for the staff that is read."""
    staff = staff_read(part) or "1"
    signs = part.iterfind(f"measure/attributes/{tag}")
    return next((sign for sign in signs if holds_for_staff(sign, staff)), None)

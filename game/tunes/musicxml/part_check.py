"""Range checks on one part of a MusicXML score, before a reader builds anything from it.

Ranges follow the MusicXML 4.0 schema where it has them (octave 0-9, step A-G, positive divisions); the rest
are ours.
"""

from fractions import Fraction
from math import lcm
from xml.etree.ElementTree import Element

from game.errors import TuneError
from game.message import message
from game.music.keys import MAX_FIFTHS
from game.music.meter import MAX_BEATS, UNITS
from game.music.pitch import MAX_ALTER, STEPS
from game.text.clean_text import cleaned
from game.tunes.limits import (
    MAX_BAR_QUARTERS,
    MAX_BARS,
    MAX_DIVISIONS,
    MAX_GRID,
    MAX_NOTES,
    MAX_OCTAVE,
    MAX_TIMES,
    MAX_TRANSPOSE_SEMITONES,
    MIN_OCTAVE,
)
from game.tunes.musicxml.bar_times import advance_of

_LONGEST_NUMBER = 20
# Quarter notes of a bar that is far longer than its metre.
_LONGEST_BAR = 4 * MAX_BAR_QUARTERS


def check_part(part: Element, file_name: str) -> None:
    """Raise `TuneError` with the first thing in `part` that is out of range, and its bar."""
    bars = part.findall("measure")
    if not bars:
        raise TuneError("musicxml.no_bars", file=file_name)
    if len(bars) > MAX_BARS:
        raise TuneError("musicxml.too_many_bars", file=file_name, count=len(bars), limit=MAX_BARS)
    notes = sum(len(bar.findall("note")) for bar in bars)
    if notes > MAX_NOTES:
        raise TuneError("musicxml.too_many_notes", file=file_name, count=notes, limit=MAX_NOTES)
    if not any(bar.find("note/pitch") is not None for bar in bars):
        raise TuneError("musicxml.no_pitched_notes", file=file_name)
    _BarChecks(file_name).check(bars)


class _BarChecks:
    """Walks the bars, keeping the divisions in force and the place for the messages."""

    def __init__(self, file_name: str) -> None:
        self._file_name = file_name
        self._bar = ""
        self._divisions = Fraction(1)
        self._grid = 1
        self._reached = Fraction(0)

    def check(self, bars: list[Element]) -> None:
        for index, bar in enumerate(bars, start=1):
            self._bar = cleaned(bar.get("number") or str(index), 20)
            self._reached = Fraction(0)
            for element in bar:
                if element.tag == "attributes":
                    self._check_attributes(element)
                elif element.tag == "note":
                    self._check_note(element)
                elif element.tag in {"backup", "forward"}:
                    self._check_duration(element)
                elif element.tag == "barline":
                    self._check_barline(element)

    def _check_attributes(self, attributes: Element) -> None:
        divisions = self._number(attributes, "divisions", low=0, high=MAX_DIVISIONS)
        if divisions is not None:
            if divisions == 0:
                raise self._fault("musicxml.no_divisions")
            self._divisions = divisions
            self._count_in(divisions.numerator)
        for key in attributes.findall("key"):
            self._number(key, "fifths", low=-MAX_FIFTHS, high=MAX_FIFTHS, whole=True)
        for meter in attributes.findall("time"):
            self._check_meter(meter)
        for transpose in attributes.findall("transpose"):
            self._number(transpose, "chromatic", low=-MAX_TRANSPOSE_SEMITONES, high=MAX_TRANSPOSE_SEMITONES)
            self._number(transpose, "diatonic", low=-MAX_TRANSPOSE_SEMITONES, high=MAX_TRANSPOSE_SEMITONES)
            self._number(transpose, "octave-change", low=-4, high=4, whole=True)
        for clef in attributes.findall("clef"):
            self._number(clef, "clef-octave-change", low=-4, high=4, whole=True)
            self._number(clef, "line", low=-10, high=20, whole=True)
        self._number(attributes, "staves", low=1, high=8, whole=True)

    def _check_meter(self, meter: Element) -> None:
        for beats in meter.findall("beats"):
            words = (beats.text or "").split("+")
            if not all(word.strip().isascii() and word.strip().isdecimal() and len(word) <= 3 for word in words):
                raise self._fault("musicxml.beats_no_number", beats=_shown(beats.text))
            if not 1 <= sum(int(word) for word in words) <= MAX_BEATS:
                raise self._fault("musicxml.beats_out_of_range", beats=_shown(beats.text), most=MAX_BEATS)
        for unit in meter.findall("beat-type"):
            if (unit.text or "").strip() not in {str(known) for known in UNITS}:
                raise self._fault("musicxml.unknown_metre_unit", unit=_shown(unit.text))

    def _check_note(self, note: Element) -> None:
        if note.find("grace") is None:
            self._check_duration(note)
        pitch = note.find("pitch")
        if pitch is not None:
            step = (pitch.findtext("step") or "").strip()
            if len(step) != 1 or step not in STEPS:
                raise self._fault("musicxml.unknown_letter", letter=_shown(step))
            if self._number(pitch, "octave", low=MIN_OCTAVE, high=MAX_OCTAVE, whole=True) is None:
                raise self._fault("musicxml.no_octave", lowest=MIN_OCTAVE, highest=MAX_OCTAVE)
            self._number(pitch, "alter", low=-MAX_ALTER, high=MAX_ALTER)
        for change in note.findall("time-modification"):
            for side in ("actual-notes", "normal-notes"):
                self._number(change, side, low=1, high=1000, whole=True)

    def _check_duration(self, element: Element) -> None:
        duration = self._number(element, "duration", low=0, high=MAX_BAR_QUARTERS * self._divisions)
        if duration is None:
            raise self._fault("musicxml.no_duration", element=element.tag)
        self._count_in(duration.denominator)
        self._reached = max(self._reached + advance_of(element) / self._divisions, Fraction(0))
        if self._reached > _LONGEST_BAR:
            raise self._fault("musicxml.bar_too_long", limit=_LONGEST_BAR)

    def _count_in(self, parts: int) -> None:
        """Bear in mind that something falls on one of so many parts, of a quarter note or of a division."""
        self._grid = lcm(self._grid, parts)
        if self._grid > MAX_GRID:
            raise self._fault("musicxml.nothing_in_common")

    def _check_barline(self, barline: Element) -> None:
        for repeat in barline.findall("repeat"):
            times = repeat.get("times")
            if times is not None and not (times.isascii() and times.isdecimal() and len(times) <= 9):
                raise self._fault("musicxml.times_no_number", times=_shown(times), most=MAX_TIMES)
            if times is not None and not 0 <= int(times) <= MAX_TIMES:
                raise self._fault("musicxml.times_out_of_range", times=int(times), most=MAX_TIMES)

    def _number(
        self, parent: Element, tag: str, *, low: Fraction | int, high: Fraction | int, whole: bool = False
    ) -> Fraction | None:
        """The number in the child called `tag`, None when there is no such child."""
        child = parent.find(tag)
        if child is None:
            return None
        words = (child.text or "").strip()
        try:
            number = Fraction(words) if _plain(words) else None
        except (ValueError, ZeroDivisionError):
            number = None
        if number is None or not low <= number <= high or (whole and number.denominator != 1):
            raise self._fault(
                "musicxml.no_whole_number" if whole else "musicxml.no_number",
                element=tag,
                given=_shown(words),
                lowest=low,
                highest=high,
            )
        return number

    def _fault(self, key: str, **values: object) -> TuneError:
        return TuneError(message(key, file=self._file_name, bar=self._bar, **values))


def _plain(words: str) -> bool:
    """Whether this is a short decimal: `1e9999999` and long digits cost time and memory."""
    return len(words) <= _LONGEST_NUMBER and words.isascii() and set(words) <= set("+-.0123456789")


def _shown(text: str | None) -> str:
    return cleaned(text, 30)

"""A map as a table of TOML: that of an assignment, and that of a file of its own.

    [map]
    position = 5
    tuning = "standard"
    frets = 22
    read = "guitar"
    span = 4
    stretch = "both"
    open_strings = false
    second = 12
    seam = "A5"
    [[map.home]]
    written = "E3"
    string = 6
    fret = 0

Whatever is left out is as usual. Homes are those chosen by hand, each with its written note.
"""

import json
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import Any, Final

from game.assignments.fields import Fields
from game.errors import MapError
from game.message import Message, message
from game.music.keys import Key, spelled
from game.music.pitch import Pitch, pitch
from game.music.score import Reading
from game.neck.hand import USUAL_HAND, WIDEST_SPAN, FrettingHand
from game.neck.neck_map import (
    DEFAULT_POSITION,
    FEWEST_FRETS,
    NeckMap,
    SecondRegion,
    highest_position,
    standard_map,
)
from game.neck.tuning import DEFAULT_FRETS, MAX_FRETS, MOST_STRINGS, STANDARD, Place, Tuning, tuning_named

STRETCHES: Final = {"both": (1, 1), "back": (1, 0), "on": (0, 1), "none": (0, 0)}
"""How far the first finger reaches back and the fourth on, in frets, by the word for it."""

MOST_HOMES: Final = 200
"""Every place of a neck of six strings, and more."""

_MAP: Final = ("position", "tuning", "frets", "read", "span", "stretch", "open_strings", "second", "seam", "home")
_HOME: Final = ("written", "string", "fret")
_AT_MAP: Final = message("assignment.at_map")


def map_of(table: object, faults: list[Message]) -> NeckMap | None:
    """The map in such a table; None where anything is wrong, which is then among `faults`, each with its place."""
    if not isinstance(table, dict):
        faults.append(message("assignment.no_map_table"))
        return None
    before = len(faults)
    fields = Fields(table, _AT_MAP, faults, known=_MAP)
    neck = _Neck(
        reading=_reading(fields),
        tuning=_tuning(fields),
        frets=_or_usual(fields, "frets", FEWEST_FRETS, MAX_FRETS, DEFAULT_FRETS),
    )
    position = _or_usual(fields, "position", 1, MAX_FRETS, DEFAULT_POSITION)
    hand, second = _hand(fields), _second(fields, neck)
    choices = _choices(table.get("home", []), neck, faults)
    _check_positions(fields, neck, hand, {"position": position, "second": second.position if second else None})
    if len(faults) > before:
        return None
    assert position is not None
    assert hand is not None
    assert neck.reading is not None
    assert neck.tuning is not None
    assert neck.frets is not None
    return standard_map(
        position=position,
        tuning=neck.tuning,
        frets=neck.frets,
        reading=neck.reading,
        choices=choices,
        hand=hand,
        second=second,
    )


def map_rows(neck_map: NeckMap) -> list[str]:
    """The lines of the table of a map, its heading first. Of the hand only what is not usual is written. Raises
    `ValueError` for a hand that reaches two frets out of its position, which no table can say.
    """
    rows = [
        "[map]",
        f"position = {neck_map.position}",
        f"tuning = {quoted(neck_map.tuning.name)}",
        f"frets = {neck_map.frets}",
        f"read = {quoted(neck_map.reading.value)}",
        *_hand_rows(neck_map.hand),
    ]
    if neck_map.second is not None:
        seam = _written(neck_map.second.seam, neck_map.reading)
        rows += [f"second = {neck_map.second.position}", f"seam = {quoted(seam.name)}"]
    for sounding, place in sorted(neck_map.choices.items()):
        written = _written(sounding, neck_map.reading)
        rows += ["", "[[map.home]]", f"written = {quoted(written.name)}"]
        rows += [f"string = {place.string}", f"fret = {place.fret}"]
    return rows


def quoted(text: str) -> str:
    """A TOML basic string: the escapes of JSON are among its own (TOML 1.0, String)."""
    return json.dumps(text, ensure_ascii=False).replace("\x7f", "\\u007f")


def stretch_word(hand: FrettingHand) -> str:
    """The word for how far a hand reaches. Raises `ValueError` where there is none."""
    for word, reaches in STRETCHES.items():
        if reaches == (hand.back, hand.on):
            return word
    raise ValueError(f"no word says that a hand reaches {hand.back} frets back and {hand.on} on")


def seam_of(written: Pitch, reading: Reading) -> int:
    """The sounding pitch (MIDI number) of a written note, as a seam has it."""
    return written.midi - 12 * reading.octaves_down


def seam_fault(seam: int, tuning: Tuning, frets: int, reading: Reading) -> Message | None:
    """What is wrong with the lowest pitch of a higher region; None where it lies on the neck, or right above it."""
    lowest, highest = min(tuning.open_strings), max(tuning.open_strings) + frets
    if lowest <= seam <= highest + 1:
        return None
    given, low, high = (_written(sounding, reading).name for sounding in (seam, lowest, highest))
    return message("map_file.seam_off_neck", given=given, lowest=low, highest=high)


@dataclass(frozen=True, slots=True)
class _Neck:
    """What the rest of a table is held against; None for what makes no sense itself."""

    reading: Reading | None
    tuning: Tuning | None
    frets: int | None

    def sounding(self, written: Pitch) -> int | None:
        return None if self.reading is None else seam_of(written, self.reading)


def _hand_rows(hand: FrettingHand) -> Iterator[str]:
    if hand.span != USUAL_HAND.span:
        yield f"span = {hand.span}"
    if (hand.back, hand.on) != (USUAL_HAND.back, USUAL_HAND.on):
        yield f"stretch = {quoted(stretch_word(hand))}"
    if hand.open_strings:
        yield "open_strings = true"


def _written(sounding: int, reading: Reading) -> Pitch:
    return spelled(sounding + 12 * reading.octaves_down, Key(0))


def _or_usual(fields: Fields, name: str, lowest: int, highest: int, usual: int) -> int | None:
    """A number; the usual one where it is left out, None where it makes no sense."""
    number = fields.number(name, lowest, highest)
    return usual if number is None and not fields.has(name) else number


def _reading(fields: Fields) -> Reading | None:
    read = fields.text("read", Reading.GUITAR.value)
    try:
        return Reading(read)
    except ValueError:
        fields.fault("assignment.unknown_reading", readings=[reading.value for reading in Reading], given=read)
        return None


def _tuning(fields: Fields) -> Tuning | None:
    try:
        return tuning_named(fields.text("tuning", STANDARD.name))
    except MapError as error:
        fields.add(error.message)
        return None


def _hand(fields: Fields) -> FrettingHand | None:
    span = _or_usual(fields, "span", 1, WIDEST_SPAN, USUAL_HAND.span)
    word, open_strings = fields.text("stretch", stretch_word(USUAL_HAND)), fields.yes("open_strings")
    if word not in STRETCHES:
        fields.fault("map_file.unknown_stretch", words=tuple(STRETCHES), given=word)
        return None
    back, on = STRETCHES[word]
    return None if span is None else FrettingHand(span=span, back=back, on=on, open_strings=open_strings)


def _second(fields: Fields, neck: _Neck) -> SecondRegion | None:
    position, seam = fields.number("second", 1, MAX_FRETS), _pitch(fields, "seam")
    if fields.has("second") != fields.has("seam"):
        fields.fault("map_file.second_and_seam")
    sounding = None if seam is None else neck.sounding(seam)
    if sounding is None:
        return None
    if neck.reading and neck.tuning and neck.frets is not None:
        fault = seam_fault(sounding, neck.tuning, neck.frets, neck.reading)
        if fault is not None:
            fields.add(fault)
    return None if position is None else SecondRegion(position=position, seam=sounding)


def _check_positions(
    fields: Fields, neck: _Neck, hand: FrettingHand | None, positions: Mapping[str, int | None]
) -> None:
    """Whether the hand has room on the neck in each position. Of a neck or a hand that makes no sense nothing is told
    twice.
    """
    if neck.frets is None or hand is None:
        return
    highest = highest_position(neck.frets, hand)
    for position in positions.values():
        if position is not None and position > highest:
            fields.fault("map.position_off_neck", position=position, highest=highest)


def _choices(entries: Any, neck: _Neck, faults: list[Message]) -> dict[int, Place]:
    """The homes chosen by hand, by sounding pitch."""
    if not isinstance(entries, list) or not all(isinstance(entry, dict) for entry in entries):
        faults.append(message("assignment.no_tables", name="map.home"))
        return {}
    if len(entries) > MOST_HOMES:
        faults.append(message("assignment.too_many_tables", name="map.home", count=len(entries), limit=MOST_HOMES))
        return {}
    choices: dict[int, Place] = {}
    numbers: dict[int, int] = {}
    for number, entry in enumerate(entries, start=1):
        fields = Fields(entry, message("map_file.at_home", number=number), faults, known=_HOME)
        written, place = _pitch(fields, "written", needed=True), _place(fields, neck)
        sounding = None if written is None else neck.sounding(written)
        if written is None or sounding is None:
            continue
        if sounding in numbers:
            fields.fault("map_file.two_homes", written=written.name, other=numbers[sounding])
            continue
        numbers[sounding] = number
        if place is None or neck.tuning is None or neck.reading is None:
            continue
        there = neck.tuning.sounding(place)
        if there == sounding:
            choices[sounding] = place
        else:
            fields.fault(
                "map_file.other_pitch",
                string=place.string,
                fret=place.fret,
                there=_written(there, neck.reading).name,
                written=written.name,
            )
    return choices


def _place(fields: Fields, neck: _Neck) -> Place | None:
    for name in ("string", "fret"):
        if not fields.has(name):
            fields.fault("map_file.missing", field=name)
    strings = neck.tuning.strings if neck.tuning else MOST_STRINGS
    string = fields.number("string", 1, strings)
    fret = fields.number("fret", 0, MAX_FRETS if neck.frets is None else neck.frets)
    return None if string is None or fret is None else Place(string, fret)


def _pitch(fields: Fields, name: str, *, needed: bool = False) -> Pitch | None:
    if not fields.has(name):
        if needed:
            fields.fault("map_file.missing", field=name)
        return None
    given = fields.text(name)
    try:
        return pitch(given.replace("♯", "#").replace("♭", "b"))
    except ValueError:
        fields.fault("map_file.no_note", field=name, given=given)
        return None

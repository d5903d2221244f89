"""Kinds of values that several answers have, with what their schemas say of them."""

from typing import Annotated

import msgspec
from msgspec import Meta


class Answer(msgspec.Struct, frozen=True, kw_only=True):
    """An answer, or a part of one. Optional fields are left out of the JSON where they are `UNSET`."""


Count = Annotated[int, Meta(ge=0)]
Ordinal = Annotated[int, Meta(ge=1)]
Words = Annotated[str, Meta(min_length=1)]
Share = Annotated[float, Meta(ge=0, le=1)]
Day = Annotated[str, Meta(extra_json_schema={"format": "date"})]
Interval = Annotated[list[Share], Meta(min_length=2, max_length=2)]
Days = Annotated[list[Day], Meta(min_length=2, max_length=2)]
BarNumbers = Annotated[list[str], Meta(min_length=2, max_length=2, description="the first and the last, as printed")]

QuarterNotes = Annotated[str, Meta(pattern="^[0-9]+(/[1-9][0-9]*)?$", description="quarter notes as a fraction")]
Fifths = Annotated[int, Meta(ge=-7, le=7, description="sharps, flats negative")]
Meter = Annotated[str, Meta(pattern="^[0-9]+/[0-9]+$")]
Written = Annotated[str, Meta(pattern="^[A-G](#{0,2}|b{0,2})-?[0-9]+$", description="the note on the page")]
Sounding = Annotated[int, Meta(ge=0, le=127, description="MIDI number")]
String = Annotated[int, Meta(ge=1, le=12, description="1 is the highest-sounding")]
Fret = Annotated[int, Meta(ge=0, le=30, description="0 is the open string")]
Frets = Annotated[int, Meta(ge=4, le=30)]
Channel = Annotated[int, Meta(ge=1, le=16)]
Velocity = Annotated[int, Meta(ge=1, le=127)]
LineLevel = Annotated[int, Meta(ge=1, le=8)]

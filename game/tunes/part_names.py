"""What parts, voices and tunes without a name of their own are called: by number, in files and answers in English, to
people in their language.
"""

import re
from collections.abc import Sequence

from game.errors import TuneError
from game.message import Message, message, verbatim
from game.text.clean_text import cleaned

_MOST_LISTED = 12
_LONGEST_NAME = 40
_UNNAMED = re.compile(r"(part|track|voice|tune) (\d{1,6})")
_CHANNEL = re.compile(r"(.*), channel (\d{1,2})", re.DOTALL)


def default_name(kind: str, number: int) -> str:
    """The name of a "part", "track", "voice" or "tune" that has none, as it is kept: "part 2". Counted from 1."""
    return f"{kind} {number}"


def channel_name(track: str, channel: int) -> str:
    """The name of a track with its MIDI channel, 1 to 16, as it is kept: "Lead, channel 3"."""
    return f"{track}, channel {channel}"


def part_told(name: str) -> Message:
    """A name as people read it: its own, or by number in their language."""
    if found := _UNNAMED.fullmatch(name):
        return message(f"part.{found[1]}", number=int(found[2]))
    if found := _CHANNEL.fullmatch(name):
        return message("part.of_channel", track=part_told(found[1]), channel=int(found[2]))
    return verbatim(cleaned(name, _LONGEST_NAME))


def parts_listed(names: Sequence[str]) -> Message:
    """The names with their numbers from 1, no more of them than can be read."""
    shown = tuple(
        message("part.numbered", number=number, name=part_told(name))
        for number, name in enumerate(names[:_MOST_LISTED], start=1)
    )
    if len(names) > _MOST_LISTED:
        return message("part.listed_and_more", parts=shown, more=len(names) - _MOST_LISTED)
    return message("part.listed", parts=shown)


def no_such_part(names: Sequence[str], number: int, file_name: str) -> TuneError:
    """A part was asked for by a number, counted from 1, that none of `names` has."""
    if len(names) == 1:
        return TuneError("tune.only_one_part", file=file_name, number=number)
    return TuneError("tune.no_such_part", file=file_name, count=len(names), parts=parts_listed(names), number=number)

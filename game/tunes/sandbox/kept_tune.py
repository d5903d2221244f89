"""What is kept of a tune that comes on the shelf, as the reading process hands it over: its entry, its compact form,
and the file as it was read.
"""

from dataclasses import dataclass

import msgspec

from game.music.score import Score
from game.tunes.library.shelf_entry import ShelfEntry, entry_of

_LENGTH_BYTES = 4


@dataclass(frozen=True, slots=True, kw_only=True)
class KeptTune:
    """`entry` without its name in the library, which is made of `original`; `packed` is the compact form as it came:
    whoever opens the tune looks whether it is one.
    """

    entry: ShelfEntry
    packed: bytes
    original: bytes


def packed_up(score: Score, file_name: str, packed: bytes, original: bytes) -> bytes:
    """A tune for `unpacked_tune`; `file_name` is safe to show."""
    entry = msgspec.json.encode(entry_of(score, name="", file_name=file_name))
    return b"".join((*(len(part).to_bytes(_LENGTH_BYTES, "big") + part for part in (entry, packed)), original))


def unpacked_tune(told: bytes) -> KeptTune:
    """What `packed_up` was given. Raises `ValueError` for what it never made."""
    entry, rest = _part(told)
    packed, original = _part(rest)
    if not packed or not original:
        raise ValueError("something is missing")
    return KeptTune(entry=msgspec.json.decode(entry, type=ShelfEntry), packed=packed, original=original)


def _part(told: bytes) -> tuple[bytes, bytes]:
    length = int.from_bytes(told[:_LENGTH_BYTES], "big")
    return told[_LENGTH_BYTES : _LENGTH_BYTES + length], told[_LENGTH_BYTES + length :]

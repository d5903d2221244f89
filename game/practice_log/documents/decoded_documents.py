"""Lines from elsewhere as documents, some thousand at a time, with all that is hostile in them left out."""

import gc
from collections.abc import Iterable, Iterator
from contextlib import contextmanager
from dataclasses import dataclass, field
from typing import get_args

import msgspec

from game.practice_log.documents.documents import FORM, Line, UnknownLine
from game.practice_log.transfer.contents import LONGEST_LINE

MOST_LINES, MOST_LEFT_OUT = 1_000_000, 1_000
"""Of one file: a life of practice has fewer lines, and where so many make no sense, none does."""

AT_ONCE = 2_000
_BYTES_AT_ONCE = 4_000_000
_KINDS = frozenset(kind.__struct_config__.tag for kind in get_args(Line))
_LINES: msgspec.json.Decoder[Line] = msgspec.json.Decoder(Line)
_UNKNOWN = msgspec.json.Decoder(UnknownLine)
_FAULTS = (msgspec.MsgspecError, ValueError, RecursionError)


@dataclass(frozen=True, slots=True)
class Documents:
    """What some lines say. `unknown` are those of a newer program, as they came; `left_out` counts the senseless."""

    known: list[Line] = field(default_factory=list)
    unknown: list[tuple[UnknownLine, str]] = field(default_factory=list)
    left_out: int = 0

    def __len__(self) -> int:
        return len(self.known) + len(self.unknown)


def decoded_documents(blocks: Iterable[bytes]) -> Iterator[Documents]:
    """Whole lines, in blocks, as documents: some thousand at a time. Raises `ValueError` for more than anybody writes,
    or where hardly any make sense.
    """
    waiting: list[bytes] = []
    lines = length = in_all = 0
    for block in filter(None, blocks):
        waiting.append(block)
        in_block = block.count(b"\n")
        lines += in_block
        length += len(block)
        in_all += in_block
        if in_all > MOST_LINES:
            raise ValueError("too many lines")
        if lines >= AT_ONCE or length >= _BYTES_AT_ONCE:
            yield decoded(b"".join(waiting))
            waiting, lines, length = [], 0, 0
    if waiting:
        yield decoded(b"".join(waiting))


@contextmanager
def nothing_collected() -> Iterator[None]:
    """Documents hold no circles and go by themselves: to look for some takes a tenth of the time."""
    was_on = gc.isenabled()
    gc.disable()
    try:
        yield
    finally:
        if was_on:
            gc.enable()


def decoded(text: bytes) -> Documents:
    """The documents of whole lines, each with its end. Raises `ValueError` where hardly any make sense."""
    try:
        known = _LINES.decode_lines(text)
    except _FAULTS:
        known = []
    # Two documents on a line, or a line without one, are not as we write them.
    if len(known) == text.count(b"\n") and known:
        return Documents(known)
    return _one_by_one(text)


def _one_by_one(text: bytes) -> Documents:
    known: list[Line] = []
    unknown: list[tuple[UnknownLine, str]] = []
    left_out = 0
    for line in text.removesuffix(b"\n").split(b"\n"):
        found = _decoded_line(line)
        if isinstance(found, UnknownLine):
            unknown.append((found, line.decode(errors="replace")))
        elif found is not None:
            known.append(found)
        else:
            left_out += 1
            if left_out > MOST_LEFT_OUT:
                raise ValueError("too many lines make no sense")
    return Documents(known, unknown, left_out)


def _decoded_line(line: bytes) -> Line | UnknownLine | None:
    if len(line) > LONGEST_LINE:
        return None
    try:
        return _LINES.decode(line)
    except _FAULTS:
        pass
    try:
        told = _UNKNOWN.decode(line)
    except _FAULTS:
        return None
    return told if told.form > FORM or told.kind not in _KINDS else None

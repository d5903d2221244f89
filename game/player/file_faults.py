"""What is wrong in a file that a person may mend: where, what stands there, what should, and what is used for now."""

from dataclasses import dataclass
from typing import Any, Final, TypeAlias

from msgspec.inspect import Type

from game.message import Message, message
from game.player.value_kinds import LONGEST_SHOWN, as_in_file, expected_words
from game.text.clean_text import cleaned

LEFT_OUT: Final = object()
"""Used in the stead of what nothing can be made of."""

# A table with thousands of faults is told by its first ones and their number.
MOST_TOLD_OF_A_TABLE = 3

At: TypeAlias = tuple[str, ...]
"""A place of a file: the names on the way to it. Items of a list count from 1."""


@dataclass(frozen=True, slots=True)
class Fault:
    """One thing that is wrong: `at` a place of the file stands `got`, expected was a kind of value, and `used` is the
    value that was taken instead, or `LEFT_OUT`.
    """

    at: At
    got: Any
    expected: Type | Message
    used: Any = LEFT_OUT

    @property
    def count(self) -> int:
        """How many entries of the file it speaks of."""
        return 1

    @property
    def told(self) -> Message:
        """For whoever mends the file."""
        words = self.expected if isinstance(self.expected, Message) else expected_words(self.expected)
        return message("player.file_fault", at=_place(self.at), expected=words, got=as_in_file(self.got))

    @property
    def mended(self) -> Message:
        """For whoever goes on without mending it."""
        at, got = _place(self.at), as_in_file(self.got)
        if self.used is LEFT_OUT:
            return message("player.file_fault_left_out", at=at, got=got)
        return message("player.file_fault_mended", at=at, got=got, used=as_in_file(self.used))


@dataclass(frozen=True, slots=True)
class MoreFaults:
    """So many entries of a list or table are as faulty as those told before."""

    at: At
    count: int

    @property
    def told(self) -> Message:
        """How many."""
        return message("player.file_faults_more", at=_place(self.at), count=self.count)

    @property
    def mended(self) -> Message:
        """How many."""
        return self.told


AnyFault: TypeAlias = Fault | MoreFaults


def _place(at: At) -> str:
    return " / ".join(cleaned(name, LONGEST_SHOWN) for name in at)

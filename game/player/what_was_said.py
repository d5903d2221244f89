"""What the facts of a player come to: tunes opened and known by ear, lines met, bars heard.

Facts are handed in one by one, in the order of everything; of what was said about one thing the newest holds. What
makes no sense is passed over: it may have been gathered from anywhere.
"""

import re
from typing import Any, TypeGuard

from game.player.assignment_facts import AssignmentFacts
from game.player.desk_facts import DeskFacts
from game.player.from_paper import paper_take
from game.player.map_facts import MapFacts
from game.practice.paper_practice import PaperTake
from game.practice_log.queries.facts import Fact
from game.practice_log.rows.bar_contents import Stretch
from game.practice_log.rows.entry_rows import About

MOST_LINES = 20_000
"""Fingerprints of lines, the newest: of some six thousand lines of eight bars, years of practice. Ours."""

_TUNE_NAME = re.compile(r"[0-9a-z-]{1,80}")
# A tune known by ear, a fingerprint of a line, a bar.
_MARK = re.compile(r"[0-9a-f]{32}")
_MOST_BARS = 10_000


class WhatWasSaid:
    """All that the facts handed in so far come to. `assignments` are those of teachers, `desk` is what the desk
    keeps, `maps` are the player's maps.
    """

    def __init__(self) -> None:
        self._opened: dict[str, None] = {}
        self._lines: dict[str, None] = {}
        self.heard: dict[Stretch, None] = {}
        self.assignments = AssignmentFacts()
        self._paper: dict[str, PaperTake] = {}
        self._ear: dict[str, tuple[int, bool]] = {}
        self.desk = DeskFacts()
        self.maps = MapFacts()

    def hear(self, fact: Fact) -> None:
        """Another fact."""
        match fact.about:
            case About.OPENED_TUNE:
                self._open(fact.content.get("tune"))
            case About.KNOWN_BY_EAR:
                self._know(fact.content.get("tune"), fact.content.get("known"), fact.moment_us)
            case About.MET_LINE:
                self._meet(fact.content.get("fingerprints"))
            case About.HEARD:
                self._listen(fact.content.get("start"), fact.content.get("bars"))
            case About.FROM_PAPER:
                self._practise_from_paper(fact.content)
            case About.ASSIGNMENT:
                self.assignments.hear(fact.content, fact.moment_us)
            case About.MAP:
                self.maps.hear(fact.content)
            case _:
                self.desk.hear(fact)

    @property
    def opened(self) -> frozenset[str]:
        """The tunes that were opened."""
        return frozenset(self._opened)

    @property
    def opened_in_order(self) -> tuple[str, ...]:
        """The same, the one that was opened first at the head."""
        return tuple(self._opened)

    @property
    def lines(self) -> frozenset[str]:
        """The fingerprints of the lines that were met; of too many the newest."""
        return frozenset(list(self._lines)[-MOST_LINES:])

    @property
    def paper_takes(self) -> tuple[PaperTake, ...]:
        """The last take of each piece that was practised from paper, the newest piece first."""
        return tuple(reversed(self._paper.values()))

    def knows_by_ear(self, tune: str) -> bool:
        """Whether the player said last that they know a tune."""
        return tune in self._ear and self._ear[tune][1]

    def has_heard(self, bars: Stretch) -> bool:
        """Whether these bars were played to the player, or others that share some."""
        return any(bars.shared(heard) for heard in self.heard)

    def holds(self, fact: Fact) -> bool:
        """Whether nothing new is said by a fact about a tune opened, known by ear, or a line: it was said before, or
        something newer in its stead.
        """
        tune = fact.content.get("tune")
        if fact.about is About.OPENED_TUNE:
            return tune in self._opened
        if fact.about is About.KNOWN_BY_EAR:
            return tune in self._ear and self._ear[tune][0] >= fact.moment_us
        return all(mark in self._lines for mark in fact.content["fingerprints"])

    def _practise_from_paper(self, content: dict[str, Any]) -> None:
        take = paper_take(content)
        if take is not None:
            self._paper.pop(take.piece.title, None)
            self._paper[take.piece.title] = take

    def _open(self, tune: Any) -> None:
        if isinstance(tune, str) and _TUNE_NAME.fullmatch(tune):
            self._opened.setdefault(tune)

    def _know(self, tune: Any, known: Any, moment_us: int) -> None:
        if _is_mark(tune) and isinstance(known, bool) and moment_us >= self._ear.get(tune, (moment_us, known))[0]:
            self._ear[tune] = moment_us, known

    def _meet(self, marks: Any) -> None:
        if _are_marks(marks):
            self._lines |= dict.fromkeys(marks)

    def _listen(self, start: Any, bars: Any) -> None:
        if type(start) is int and 0 <= start < _MOST_BARS and _are_marks(bars) and bars:
            self.heard[Stretch(start, tuple(bars))] = None


def _is_mark(value: Any) -> TypeGuard[str]:
    return isinstance(value, str) and _MARK.fullmatch(value) is not None


def _are_marks(values: Any) -> TypeGuard[list[str]]:
    return isinstance(values, list) and all(map(_is_mark, values))

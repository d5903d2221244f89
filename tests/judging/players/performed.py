"""A take as a simulated player played it, and the truth about it.

A *script* says what the player does, step by step; `perform` gives it times by the player's pulse and hands. Nothing
here asks the judge anything.
"""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from enum import Enum
from itertools import pairwise
from random import Random

from game.instrument.decoding.played import PlayedNote
from game.judging.verdicts import EventKind, Verdict
from game.neck.tuning import Place
from tests.judging.made_takes import played_note
from tests.judging.players.hands import Hands, Keeping
from tests.judging.players.material import Material
from tests.judging.players.pulses import PulseKind

_APART_S = 0.012
_NEAR_BEAT_S = 0.05


class Fate(Enum):
    """What became of a written note when it was first come to."""

    RIGHT = "right"
    WRONG = "wrong"
    MISSED = "missed"
    SKIPPED = "skipped"
    LEFT_OUT = "left out"


class NoRoomError(Exception):
    """What a player is to do does not fit this line: another is to be drawn."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Step:
    """One thing a player does: to come to the written note `index`, and to play `sounding`, or nothing (None).

    `wait_s` goes by before it beyond what is written, and from then on the player is so much later; `lost_s` goes by
    after it in the same way. `aside_s` makes only this note later (earlier below 0). `event` is what a judge may tell
    of this step. `extras` are notes that answer nothing: how long after this note's time, in shares of the gap to the
    next, and their pitch; `extras_s` the same in seconds. `repair` is a second answer so many seconds later, `slide` a
    pluck so many seconds before (below 0) that leads to the note.
    """

    index: int
    sounding: int | None
    wait_s: float = 0.0
    lost_s: float = 0.0
    aside_s: float = 0.0
    event: EventKind | None = None
    extras: tuple[tuple[float, int], ...] = ()
    extras_s: tuple[tuple[float, int], ...] = ()
    repair: tuple[float, int] | None = None
    slide: tuple[float, int, Place] | None = None
    place: Place | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Performance:
    """What was played, in order of time, and the truth of it.

    `meant[at]` is the index of the written note that played note `at` was for, None for one too many; `first[i]` the
    played note at the first reading of written note i, None where nothing was played then; `behind_s[i]` how far
    behind the click the player's own beat was at that reading, by jumps alone, in whole beats where it was within
    50 ms of one. `repaired` are written notes wrong at first and put right. `events` are kind and written note;
    `jumps` says how often the player went elsewhere in the music or in time.
    """

    material: Material
    played: tuple[PlayedNote, ...]
    meant: tuple[int | None, ...]
    first: tuple[int | None, ...]
    fates: tuple[Fate, ...]
    behind_s: tuple[float, ...]
    repaired: frozenset[int] = frozenset()
    events: tuple[tuple[EventKind, int], ...] = ()
    jumps: int = 0

    def offset_s(self, index: int) -> float:
        """How far from its place by the click, moved where the player jumped, a note was first played."""
        at = self.first[index]
        assert at is not None
        return self.played[at].started_s - self.material.grid.onsets_s[index] - self.behind_s[index]

    def word(self, index: int) -> Verdict:
        """The verdict that tells the truth; in `rhythm`, where pitches do not count, ask `in_time_word`."""
        fate = self.fates[index]
        if fate is Fate.WRONG:
            return Verdict.WRONG_PITCH
        if fate is Fate.RIGHT:
            return self.in_time_word(index)
        return Verdict.UNREAD if fate is Fate.LEFT_OUT else Verdict.MISSED

    def in_time_word(self, index: int) -> Verdict:
        """Clean, early or late as made."""
        offset_s, grid = self.offset_s(index), self.material.grid
        if -grid.early_s[index] <= offset_s <= grid.late_s[index]:
            return Verdict.CLEAN
        return Verdict.EARLY if offset_s < 0 else Verdict.LATE


@dataclass(slots=True, kw_only=True)
class _Sound:
    at_s: float
    sounding: int
    meant: int | None
    place: Place | None = None
    first: bool = False


def perform(material: Material, script: Sequence[Step], pulse: PulseKind, hands: Hands, rng: Random) -> Performance:
    """Play a script. What was meant for a written note keeps its order; notes are at least 12 ms apart."""
    line, due_s = material.line, material.grid.onsets_s
    curve = pulse(float(line[-1].note.onset + line[-1].note.length), rng)
    keeping = Keeping(hands, rng)
    sounds: list[_Sound] = []
    nominal_s, last_s, before = due_s[script[0].index], -1e9, None
    behind_s: dict[int, float] = {}
    fates: dict[int, Fate] = {}
    events, repaired, jumps = [], set[int](), 0
    for at, step in enumerate(script):
        index = step.index
        gap_s = 0.0 if before is None else _gap_s(material, before, index)
        nominal_s += gap_s + step.wait_s
        position = float(line[index].note.onset)
        extra = 0.0 if before is None else curve(float(line[before].note.onset))
        off_s = keeping.next_s(gap_s, extra, position)
        started_s = max(nominal_s + off_s + step.aside_s, last_s + _APART_S)
        if step.event is not None:
            events.append((step.event, index))
        jumps += step.wait_s != 0 or (before is not None and index != before + 1)
        fresh = index not in fates
        if fresh:
            behind_s[index] = _on_a_beat(nominal_s - due_s[index], material.grid.beats_s[index])
            fates[index] = _fate(line[index].sounding, step.sounding)
        until_s = _gap_s(material, index, script[at + 1].index) if at + 1 < len(script) else material.quarter_s
        if step.sounding is not None:
            sounds.append(_Sound(at_s=started_s, sounding=step.sounding, meant=index, place=step.place, first=fresh))
            last_s = started_s
        if step.slide is not None:
            pluck_s, pitch, place = step.slide
            sounds.append(_Sound(at_s=started_s + pluck_s, sounding=pitch, meant=index, place=place))
        if step.repair is not None:
            repaired.add(index)
            last_s = started_s + step.repair[0]
            sounds.append(_Sound(at_s=last_s, sounding=step.repair[1], meant=index))
        sounds += [_Sound(at_s=started_s + share * until_s, sounding=pitch, meant=None) for share, pitch in step.extras]
        sounds += [_Sound(at_s=started_s + later_s, sounding=pitch, meant=None) for later_s, pitch in step.extras_s]
        nominal_s += step.lost_s
        jumps += step.lost_s != 0
        before = index
    return replace(
        _told(material, sounds, fates, behind_s), repaired=frozenset(repaired), events=tuple(events), jumps=jumps
    )


def _gap_s(material: Material, before: int, index: int) -> float:
    """The written time from one step to the next: over what is next on the page, wherever the player goes."""
    due_s = material.grid.onsets_s
    if index > before and index - before <= 1:
        return due_s[index] - due_s[before]
    if before + 1 < len(due_s):
        return due_s[before + 1] - due_s[before]
    return min(float(material.line[before].note.length) * material.quarter_s, 2 * material.quarter_s)


def _on_a_beat(behind_s: float, beat_s: float) -> float:
    """In whole beats, where it is near one."""
    whole_s = round(behind_s / beat_s) * beat_s
    return whole_s if abs(behind_s - whole_s) < _NEAR_BEAT_S else behind_s


def _fate(asked: int, sounding: int | None) -> Fate:
    if sounding is None:
        return Fate.MISSED
    return Fate.RIGHT if sounding == asked else Fate.WRONG


def _told(
    material: Material,
    sounds: list[_Sound],
    fates: dict[int, Fate],
    behind_s: dict[int, float],
) -> Performance:
    sounds.sort(key=lambda sound: sound.at_s)
    for earlier, later in pairwise(sounds):
        later.at_s = max(later.at_s, earlier.at_s + 1e-4)
    count, last = len(material.line), max(fates)
    first: list[int | None] = [None] * count
    for at, sound in enumerate(sounds):
        if sound.first and sound.meant is not None:
            first[sound.meant] = at
    for index in range(count):
        fates.setdefault(index, Fate.LEFT_OUT if index > last else Fate.SKIPPED)
    behind = 0.0
    all_behind_s = [behind := behind_s.get(index, behind) for index in range(count)]
    return Performance(
        material=material,
        played=tuple(_note(sound) for sound in sounds),
        meant=tuple(sound.meant for sound in sounds),
        first=tuple(first),
        fates=tuple(fates[index] for index in range(count)),
        behind_s=tuple(all_behind_s),
    )


def _note(sound: _Sound) -> PlayedNote:
    return played_note(sound.sounding, sound.at_s, sound.place)

"""Which move may follow which: the weights of intervals and the hard rules of a line.

A note outside the scale of its chord owes a way on: to a neighbour, at once or after the note on the goal's other side;
what colours its chord may also go to a chord tone (trade).
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field

from game.lines.footing import Footing
from game.lines.line_weights import Idiom, weights_of
from game.lines.scale import Scale

_WIDEST_KNOWN = 8
_OCTAVE, _FIFTH, _TRITONE, _WHOLE_TONE = 12, 7, 6, 2
# A seventh in steps of the scale: songs have none.
_SEVENTH_STEPS = 6
_QUARTER = 12
# How much likelier a leap is answered by a step back.
_LEAP, _ANSWERED = 5, 1.25
# The same finger on another string, at once after.
_SAME_FINGER = 0.35
# Once more after so many of the same note.
_DRONE, _DRONES = 3, {Idiom.FOLK: 0.15, Idiom.LEAD: 0.15, Idiom.SOLO: 0.03}
# Back to the note before last, and to and fro between two notes.
_BACK, _TO_AND_FRO, _SWING = 0.7, {Idiom.FOLK: 0.15, Idiom.LEAD: 0.25, Idiom.SOLO: 0.25}, 2


@dataclass(frozen=True, slots=True)
class Owed:
    """The MIDI number of a note that has not gone on yet, and its goal where that is settled. A `colour` of its chord
    may go to any chord tone close by.
    """

    pitch: int
    goal: int | None = None
    colour: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class MoveRules:
    """The rules of one line. `scale` are the MIDI numbers of the key in rising order, `steps` their places in it.
    `widest` is the largest move in steps of the scale (None: an octave). `fingers` are finger and
    string by MIDI number. `tilt` is how much likelier this line makes intervals of so many semitones.
    """

    idiom: Idiom
    key: Scale
    scale: tuple[int, ...]
    steps: Mapping[int, int]
    widest: int | None
    tritones: float
    fingers: Mapping[int, tuple[int, int]]
    tilt: tuple[float, ...]
    rows: dict[tuple[str, int | None], dict[int, float]] = field(default_factory=dict)

    def onward(self, footing: Footing, line: Sequence[int]) -> dict[int, float]:
        """The pitches that may come next in a line with their weights."""
        if not line:
            return dict(footing.pitches)
        before = line[-1]
        behind = line[-2] if len(line) > 1 else None
        drones = len(line) >= _DRONE and line[-_DRONE:].count(before) == _DRONE
        swings = len(line) > _SWING and line[-1] == line[-3]
        row = self.row(footing, None if behind is None else before - behind)
        found: dict[int, float] = {}
        for by, weight in row.items():
            pitch = before + by
            stands = footing.pitches.get(pitch)
            if stands and self.reaches(before, pitch):
                back = (_TO_AND_FRO[self.idiom] if swings else _BACK) if pitch == behind and by else 1.0
                back *= _DRONES[self.idiom] if drones and not by else 1.0
                found[pitch] = weight * stands * back * self.hand(footing, before, pitch)
        return found or {
            pitch: stands / (1 + abs(pitch - before)) ** 2
            for pitch, stands in footing.pitches.items() if self.reaches(before, pitch)
        }  # fmt: skip

    def row(self, footing: Footing, interval: int | None) -> dict[int, float]:
        """The weights of the next interval in semitones."""
        known = None if interval is None or footing.after_gap else max(-_WIDEST_KNOWN, min(_WIDEST_KNOWN, interval))
        at = (footing.place, known)
        if at not in self.rows:
            table = weights_of(self.idiom).intervals
            row = table.get(f"{footing.place}|{known}") if known is not None else None
            row = row or table[f"long|{footing.place}"]
            tilt = self.tilt
            self.rows[at] = {
                by: weight
                * tilt[min(abs(by), len(tilt) - 1)]
                * (self.tritones if abs(by) == _TRITONE else 1.0)
                * (_ANSWERED if known and abs(known) >= _LEAP and by * known < 0 and abs(by) <= _WHOLE_TONE else 1.0)
                for by, weight in row.items()
            }
        return self.rows[at]

    def join(self, footing: Footing, line: Sequence[int], pitch: int) -> float:
        """How likely the interval from the end of a line to a pitch is, beside the likeliest; at least a little."""
        row = self.row(footing, line[-1] - line[-2] if len(line) > 1 else None)
        return max(row.get(pitch - line[-1], 0.0), 1.0) / max(row.values())

    def reaches(self, before: int, pitch: int) -> bool:
        """Whether the line may go from one pitch to the other."""
        if self.widest is not None:
            here, there = self.steps[before], self.steps[pitch]
            away = abs(there - here)
            return away <= self.widest and away != _SEVENTH_STEPS and abs(pitch - before) != _TRITONE
        away = abs(pitch - before)
        if away == _TRITONE and not self.tritones:
            return False
        return away <= _OCTAVE

    def hand(self, footing: Footing, before: int, pitch: int) -> float:
        """What the fingers think of it: not the same one on another string within an eighth."""
        if not footing.quick:
            return 1.0
        finger, string = self.fingers[before]
        other, on = self.fingers[pitch]
        return _SAME_FINGER if finger == other and string != on else 1.0

    def allows(
        self, footings: Sequence[Footing], at: int, pitch: int, before: int | None, owed: Owed | None
    ) -> tuple[bool, Owed | None]:
        """Whether a pitch may stand there by what is owed, and what is owed after it."""
        footing = footings[at]
        if footing.over is None:
            return True, None
        inside = pitch in footing.over.midis
        if owed is not None:
            return self._goes_on(footings, at, pitch, owed)
        if inside:
            return True, None
        last = at + 1 >= len(footings) or footings[at + 1].after_gap
        if last or footing.ticks > _QUARTER or before == pitch:
            return False, None
        return True, Owed(pitch, colour=pitch in footing.colours)

    def _goes_on(self, footings: Sequence[Footing], at: int, pitch: int, owed: Owed) -> tuple[bool, Owed | None]:
        footing = footings[at]
        assert footing.over is not None
        if owed.goal is not None:
            return pitch == owed.goal and self._leads(footing, owed.pitch, pitch), None
        if owed.colour and pitch % 12 in footing.tones and 0 < abs(pitch - owed.pitch) <= _FIFTH:
            return True, None
        if 0 < abs(pitch - owed.pitch) <= _WHOLE_TONE and self._leads(footing, owed.pitch, pitch):
            return True, None
        if at + 1 >= len(footings) or footings[at + 1].after_gap or pitch not in footing.over.midis:
            return False, None
        goal = owed.pitch + (1 if pitch > owed.pitch else -1)
        beyond = abs(pitch - goal)
        return 0 < beyond <= 2 and pitch != owed.pitch and self._leads(footings[at + 1], owed.pitch, goal), Owed(
            owed.pitch, goal
        )

    def _leads(self, footing: Footing, pitch: int, goal: int) -> bool:
        """Whether `pitch` is a neighbour of `goal` that can be spelled."""
        assert footing.over is not None
        target = footing.over.midis.get(goal)
        if target is None:
            return False
        return self.key.neighbour(target, above=pitch > goal, semitones=abs(pitch - goal)) is not None

    def owed_after(self, footings: Sequence[Footing], line: Sequence[int], notes: Sequence[int]) -> Owed | None:
        """What is owed after the notes were added to the line."""
        owed: Owed | None = None
        before = line[-1] if line else None
        for place, pitch in enumerate(notes):
            _, owed = self.allows(footings, len(line) + place, pitch, before, owed)
            before = pitch
        return owed

    def nearest(self, footing: Footing, line: Sequence[int]) -> int:
        """The pitch of a footing nearest to the end of a line."""
        here = line[-1] if line else next(iter(footing.pitches))
        inside = [pitch for pitch in footing.pitches if footing.over is None or pitch in footing.over.midis]
        return min(inside, key=lambda pitch: abs(pitch - here))

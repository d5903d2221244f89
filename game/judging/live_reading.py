"""Where a player is while they play: the follower, fed note by note and without looking ahead.

    begin_reading -> read_note*

While note follows note there is one hypothesis; at trouble there are several, until one has won. A fold: who goes on
from an earlier reading gets what they would have got then.
"""

from dataclasses import dataclass, replace

from game.instrument.decoding.played import PlayedNote
from game.judging.following.follow_numbers import GATE, LIVE_BEAM
from game.judging.following.followed import FollowedStep, TakeRows
from game.judging.following.player_clock import AT_THE_START, PlayerClock
from game.judging.following.search import Hypothesis, Trail, after_note, is_settled


@dataclass(frozen=True, slots=True, kw_only=True)
class LiveReading:
    """So much of a take was read: `heard` notes, and what may have become of them, the likeliest first."""

    rows: TakeRows
    heard: int
    beam: tuple[Hypothesis, ...]

    @property
    def top(self) -> Hypothesis:
        """The likeliest."""
        return self.beam[0]

    @property
    def settled(self) -> bool:
        """Whether there is no doubt."""
        return len(self.beam) == 1

    @property
    def lead(self) -> float:
        """By how much the likeliest is likelier than the next that reads another note as the last one."""
        top = self.beam[0]
        others = (guess.cost - top.cost for guess in self.beam[1:] if abs(guess.written - top.written) > 1)
        return min(others, default=99.0)


def begin_reading(rows: TakeRows) -> LiveReading:
    """Of a take of which nothing was played yet."""
    return LiveReading(rows=rows, heard=0, beam=(Hypothesis(0.0, -1, AT_THE_START, 0, 0.0, None),))


def read_note(reading: LiveReading, played: PlayedNote, *, pitch_counts: bool) -> LiveReading:
    """The reading with one more note."""
    rows, j = _with_note(reading, played, pitch_counts=pitch_counts), reading.heard
    if reading.settled:
        further = _straight_on(rows, reading.top, j)
        if further is not None:
            return LiveReading(rows=rows, heard=j + 1, beam=(further,))
    beam = after_note(rows, reading.beam, j, LIVE_BEAM)
    return LiveReading(rows=rows, heard=j + 1, beam=(beam[0],) if is_settled(beam) else tuple(beam))


def _with_note(reading: LiveReading, played: PlayedNote, *, pitch_counts: bool) -> TakeRows:
    """The rows with the note: the same lists, which only grow, or copies for who goes on from an earlier reading."""
    rows, heard = reading.rows, reading.heard
    if len(rows.times_s) != heard:
        places = None if rows.places is None else list(rows.places[:heard])
        rows = replace(rows, times_s=list(rows.times_s[:heard]), sounding=list(rows.sounding[:heard]), places=places)
    assert isinstance(rows.times_s, list)
    assert isinstance(rows.sounding, list)
    rows.times_s.append(played.started_s)
    rows.sounding.append(played.sounding if pitch_counts else 0)
    if isinstance(rows.places, list):
        rows.places.append(played.place)
    return rows


def _straight_on(rows: TakeRows, guess: Hypothesis, j: int) -> Hypothesis | None:
    """The note that was due next, near its time; None where there is any doubt."""
    i, k = guess.written, guess.written + 1
    if k >= len(rows.due_s) or rows.asked[k] != rows.sounding[j]:
        return None
    moved: PlayerClock = guess.clock.moved(rows.due_s[k] - rows.due_s[i] if k else 0.0)
    off_s = rows.times_s[j] - rows.due_s[k]
    surprise = moved.surprise(off_s)
    if surprise > GATE:
        return None
    after = moved.corrected(off_s)
    step = FollowedStep(j, k, None, after, surprise, guess.home_s)
    return Hypothesis(guess.cost, k, after, guess.right + 1, guess.home_s, Trail(guess.trail, step))

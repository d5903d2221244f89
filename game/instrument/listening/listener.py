"""A guitar of one line heard live: samples in, notes out, as they are told. Pure.

Each step of 5.8 ms a spectrum tells whether a string may have been plucked; from 28 ms after its attack on the pitch
is looked for in a growing window, and told as soon as it is clear. Until 150 ms after the pluck it may be revised, then
it is settled. While a note sounds its pitch is followed: where it changes for good a new one was slurred.
"""

from collections.abc import Iterable
from typing import TypeGuard, Unpack

import numpy as np
from numpy.typing import NDArray

from game.instrument.listening.attack import Attack, bright_at_once, last_attack
from game.instrument.listening.change_kind import ChangeKind, change_kind
from game.instrument.listening.difference_function import Estimate, estimate_near, peaks_of, periodic_power
from game.instrument.listening.heard import Telling, Told
from game.instrument.listening.pitch_track import PitchChange, PitchTrack
from game.instrument.listening.plucked_pitch import SKIPPED_S, PluckedPitch, followed, pitch_now
from game.instrument.listening.put_right import put_higher_by, put_right_by
from game.instrument.listening.range_heard import LOWEST_PITCH
from game.instrument.listening.sample_history import SampleHistory, Samples
from game.instrument.listening.semitones import SAME_PITCH, period_of
from game.instrument.listening.sounding_note import Known, SoundingNote
from game.instrument.listening.spectral_flux import SpectralFlux
from game.instrument.listening.stepped_sound import STEP_S, SteppedSound, rms
from game.instrument.listening.struck_again import is_struck_again
from game.instrument.listening.sureness import (
    Kept,
    Still,
    is_like_pluck,
    is_sure_pluck,
    is_sure_slur,
    kept,
    may_be_knock,
)

_FIRST_S, _LAST_S = 0.024, 0.075
"""The shortest window of a new note, and the age at which it is given up."""
_LONGEST_S = 0.036
_TOUCH_S, _TOUCH_RATIO = 0.006, 2.0
"""An attack so much stronger, so long after one that is being looked into, is the pluck, the other the pick's touch."""
_REST_S = 0.045
"""No second pluck so soon after one."""
_YOUNG_S = 0.080
"""So long a pluck's pitch is looked for anew."""
_SETTLED_S = 0.150
_GONE_S = 0.2
"""What has lost its pitch by then was no note; before, the next one may just have been plucked."""
_KNOCK_S = 0.07
"""What is silent so soon was a knock or a click."""
_UNHEARD_S = 0.2
"""A pluck that gave no note so long ago began the one whose pitch is heard now."""
_BEFORE_CHANGE_S, _LOOKED_AT_S = 0.01, 0.015
"""So long before a slur, and for so long, it is looked how loud the note was."""
_NEAR = 0.8
_DOUBTED_S = 0.040
"""A pitch told so late began later where another was clear soon after the pluck."""
_FADES = 0.06
"""What has less than this share of its power left in the second half of the window is no string."""


class Listener:
    """Hears what it is fed. `rate` is in samples a second, 16,000 to 192,000; what is quieter than `floor_db` against
    full scale is no note, and so is what is lower than the pitch `lowest` (see `lowest_looked_for`). Times are seconds
    of the stream: of the samples fed, the first at 0.
    """

    def __init__(self, rate: int, *, floor_db: float = -58.0, lowest: float = LOWEST_PITCH) -> None:
        self._sound = SteppedSound(rate, lowest)
        self._flux = SpectralFlux(self._sound.rate, self._sound.step)
        self._floor = 10 ** (floor_db / 20)
        self._lowest = lowest
        self._expected: tuple[int, ...] = ()
        self._count = 0
        self._note: SoundingNote | None = None
        self._before: SoundingNote | None = None
        self._plucked: PluckedPitch | None = None
        self._unheard: Attack | None = None
        self._told: list[Told] = []

    @property
    def now_s(self) -> float:
        """The time of the next sample that is fed."""
        return self._sound.now_s

    def expect(self, pitches: Iterable[int]) -> None:
        """The MIDI numbers that may come next: they hasten the telling of a note that sounds like one of them, and
        never decide what it is.
        """
        self._expected = tuple(pitches)

    def feed(self, samples: NDArray[np.float32]) -> tuple[Told, ...]:
        """Samples of one channel, any number of them; what they bring to be told, in order. How the stream is cut makes
        no difference. What is no number counts as silence.
        """
        for _ in self._sound.steps(samples):
            self._hear_step()
        return self._take_told()

    def finish(self) -> tuple[Told, ...]:
        """The end of the stream: what is still to be told, and every note's end."""
        for _ in range(round(_LAST_S / STEP_S) + 3):
            if self._plucked is not None:
                self._sound.step_of_silence()
                self._hear_step()
        if self._note is not None:
            self._settle(self._note)
            self._end()
        return self._take_told()

    def _take_told(self) -> tuple[Told, ...]:
        told, self._told = tuple(self._told), []
        return told

    def _hear_step(self) -> None:
        self._look_for_pluck()
        if self._plucked is not None:
            self._decide(self._plucked)
        elif self._note is not None:
            self._follow(self._note)

    # Plucks

    def _look_for_pluck(self) -> None:
        is_top = self._flux.hear(self._history.last(self._flux.frame))
        newest = self._history.last(2 * self._sound.step)
        if not is_top or rms(newest) < self._floor:
            return
        attack = last_attack(self._history, self._sound.rate)
        if attack.adds_nothing:
            note = self._note
            if self._plucked is None and note is not None and attack.at - note.began > self._samples(_REST_S):
                self._unheard = attack
            return
        if self._is_new(attack):
            self._plucked, self._unheard = PluckedPitch(attack), None
        elif self._is_pluck_of(self._note, attack):
            self._note.began, self._note.strength = attack.at, attack.strength
            self._tell(Telling.REVISED, self._note)

    def _is_new(self, attack: Attack) -> bool:
        """Whether it is no part of the pluck that is being looked into, nor of the note that has just begun."""
        if self._plucked is not None:
            pluck = self._plucked.pluck
            return self._is_stronger(attack, pluck.at, pluck.strength)
        return self._note is None or self._note.slurred or attack.at - self._note.began > self._samples(_REST_S)

    def _is_pluck_of(self, note: SoundingNote | None, attack: Attack) -> TypeGuard[SoundingNote]:
        """Whether a note was told by the pick's touch, and this is its pluck."""
        return self._plucked is None and note is not None and self._is_stronger(attack, note.began, note.strength)

    def _is_stronger(self, attack: Attack, at: int, strength: float) -> bool:
        return attack.at - at > self._samples(_TOUCH_S) and attack.strength > _TOUCH_RATIO * strength

    # A new note

    def _decide(self, plucked: PluckedPitch) -> None:
        history, pluck = self._history, plucked.pluck
        began = pluck.at + self._samples(SKIPPED_S)
        age = history.end - began
        if age < self._samples(_FIRST_S):
            return
        raw = history.last(history.end - max(began, history.end - self._samples(_LONGEST_S)))
        estimate, clean = pitch_now(self._sound, raw, pluck.at, self._note, self._lowest)
        plucked.guesses.append(estimate)
        enough = plucked.is_enough(self._expected)
        late = age > self._samples(_LAST_S)
        if enough and _fades(clean):
            enough, late = False, True
        told = enough and self._tell_pluck(plucked, raw, clean)
        if late and not told:
            self._plucked, self._unheard = None, pluck

    def _tell_pluck(self, plucked: PluckedPitch, raw: Samples, clean: Samples) -> bool:
        """Tell what was plucked, if it is a note."""
        pluck, estimate = plucked.pluck, plucked.guesses[-1]
        is_late = self._history.end - pluck.at > self._samples(_DOUBTED_S + SKIPPED_S)
        if not estimate.is_in_range:
            return False
        if is_late and not pluck.is_loud and plucked.came_later(self._sound, self._lowest):
            return False
        period = period_of(estimate.pitch, self._sound.rate)
        power = max(periodic_power(raw, period), periodic_power(clean, period))
        if power < (1.5 * self._floor) ** 2:
            return False
        old = self._note
        rings_already = old is not None and abs(old.estimate.pitch - estimate.pitch) < SAME_PITCH
        is_sure = is_sure_pluck(pluck, estimate, rings_already=rings_already)
        if rings_already:
            until = pluck.at - self._samples(0.002)
            if not is_struck_again(raw, clean, self._history.between(until - len(raw), until), period):
                return False
        known = Known(strength=pluck.strength, is_faint=not pluck.is_loud, sure=is_sure, clears=not rings_already)
        self._start(pluck.at, estimate, power, **known)
        return True

    def _start(self, began: int, estimate: Estimate, power: float, **known: Unpack[Known]) -> None:
        before = None if known.get("slurred") else self._note
        if self._note is not None:
            self._settle(self._note)
            self._end()
        self._before = before
        self._count += 1
        track = PitchTrack(estimate.pitch, self._sound.rate)
        self._note = SoundingNote(self._count, began, estimate, power, track, **known)
        self._plucked = self._unheard = None
        self._tell(Telling.STARTED, self._note)

    # The note that sounds

    def _follow(self, note: SoundingNote) -> None:
        window = self._history.last(followed(self._sound, note.track.pitch))
        if rms(window) < self._floor:
            self._hear_quiet(note)
            return
        note.quiet_steps = 0
        age = self._history.end - note.began
        if age < self._samples(_YOUNG_S) and not note.slurred:
            self._look_again(note, age)
        if age >= self._samples(_YOUNG_S) or note.slurred or note.is_faint:
            self._track(note, window)
            if age > self._samples(_SETTLED_S) and self._note is note and not note.is_settled:
                self._settle_or_withdraw(note)

    def _hear_quiet(self, note: SoundingNote) -> None:
        """A step under the floor: the third ends the note, or shows that it was only a knock."""
        note.quiet_steps += 1
        if note.quiet_steps <= 2:
            return
        if self._history.end - note.began < self._samples(_KNOCK_S):
            self._withdraw(note)
            return
        if not note.is_settled and may_be_knock(note.estimate.pitch):
            note.sure = False
        self._settle(note)
        self._end()

    def _settle_or_withdraw(self, note: SoundingNote) -> None:
        window = self._history.last(followed(self._sound, note.track.pitch))
        near = [
            peak.clarity
            for peak in peaks_of(window, self._sound.rate, self._lowest)
            if abs(peak.pitch - note.track.pitch) < _NEAR
        ]
        power = periodic_power(window, period_of(note.track.pitch, self._sound.rate))
        still = Still(max(near, default=0.0), power, rms(window) ** 2, note.track.wandered())
        what = kept(note.estimate.pitch, note.power, still)
        if what is Kept.NO_NOTE:
            if self._history.end - note.began > self._samples(_GONE_S):
                self._withdraw(note)
            return
        note.sure = (note.sure or note.clears) and what is Kept.SURE
        self._settle(note)

    def _look_again(self, note: SoundingNote, age: int) -> None:
        """A young note's pitch put right, as more of it is heard."""
        length = min(max(age - self._samples(SKIPPED_S), self._samples(0.026)), self._samples(0.040))
        window = self._history.last(length)
        estimate, _ = pitch_now(self._sound, window, note.began, self._before, self._lowest)
        better = put_right_by(note, estimate)
        if better is not None:
            self._put_right(note, better)

    def _put_right(self, note: SoundingNote, estimate: Estimate, arrived: int | None = None) -> None:
        is_other = arrived is not None or round(estimate.pitch) != round(note.estimate.pitch)
        if arrived is not None:
            note.began, note.slurred = arrived, True
        note.estimate = estimate
        note.track = PitchTrack(estimate.pitch, self._sound.rate)
        note.elsewhere.clear()
        if is_other:
            self._tell(Telling.REVISED, note)

    def _track(self, note: SoundingNote, window: Samples) -> None:
        peaks = peaks_of(window, self._sound.rate, self._lowest)
        higher = None if note.is_settled else put_higher_by(note, peaks)
        if higher is not None:
            self._put_right(note, higher)
        estimate = estimate_near(peaks, note.track.pitch)
        if not estimate.is_in_range:
            return
        before = note.track.pitch
        change = note.track.hear(self._history.end - len(window) // 2, estimate)
        if change is None:
            return
        heard = Estimate(change.pitch, estimate.clarity)
        power = periodic_power(window, period_of(heard.pitch, self._sound.rate))
        self._tell_change(note, change, before, heard, power)

    def _tell_change(self, note: SoundingNote, change: PitchChange, left: float, heard: Estimate, power: float) -> None:
        """The note had the pitch `left`, and what sounds now is `heard`, with a power."""
        unheard = self._unheard
        if unheard is not None and self._history.end - unheard.at > self._samples(_UNHEARD_S):
            unheard = None
        match change_kind(note, change, left=left, unheard=unheard, sound=self._sound):
            case ChangeKind.PARTIAL:
                note.track.pitch = left
            case ChangeKind.PLUCK:
                assert unheard is not None, "only such a pluck is told by its pitch alone"
                self._start(unheard.at, heard, power, strength=unheard.strength, sure=False)
            case ChangeKind.PASSED:
                self._put_right(note, heard, change.at)
            case ChangeKind.ARRIVED:
                self._put_right(note, heard)
            case ChangeKind.SLUR:
                self._settle(note, is_left=True)
                is_sure = note.sure and is_sure_slur(power, self._power_before(change), is_mixed=change.is_mixed)
                self._start(change.at, heard, power, strength=note.strength, slurred=True, sure=is_sure)
            case ChangeKind.BEND:
                pass

    def _power_before(self, change: PitchChange) -> float:
        until = change.at - self._samples(_BEFORE_CHANGE_S)
        return rms(self._history.between(until - self._samples(_LOOKED_AT_S), until)) ** 2

    # Telling

    def _settle(self, note: SoundingNote, *, is_left: bool = False) -> None:
        """A note as it stays; `is_left` where its string goes on at another pitch."""
        if not note.is_settled:
            if not note.slurred:
                at_once = bright_at_once(self._history, self._sound.rate, note.began)
                wandered = 0.0 if is_left else note.track.wandered()
                note.sure = note.sure and is_like_pluck(at_once, wandered)
            steady = note.track.steady()
            if steady is not None and abs(steady - note.estimate.pitch) < _NEAR:
                note.estimate = Estimate(steady, note.estimate.clarity)
            note.is_settled = True
            self._tell(Telling.SETTLED, note)

    def _withdraw(self, note: SoundingNote) -> None:
        self._tell(Telling.WITHDRAWN, note)
        self._note = None

    def _end(self) -> None:
        if self._note is not None:
            self._tell(Telling.ENDED, self._note)
            self._note = None

    def _tell(self, telling: Telling, note: SoundingNote) -> None:
        started_s = self._sound.heard_at_s(note.began)
        at_s = self._history.end / self._sound.rate
        self._told.append(Told(telling=telling, note=note.heard(started_s), at_s=at_s))

    @property
    def _history(self) -> SampleHistory:
        return self._sound.history

    def _samples(self, seconds: float) -> int:
        return self._sound.count(seconds)


def _fades(window: Samples) -> bool:
    """Gone within the window, as a click is and no string."""
    half = len(window) // 2
    first, second = window[:half], window[half:]
    return float(second @ second) < _FADES * float(first @ first)

"""A guitar of one line heard live: samples in, notes out, as they are told. Pure.

Each step of 5.8 ms a spectrum tells whether a string may have been plucked; from 28 ms after its attack on the pitch
is looked for in a growing window, and told as soon as it is clear. Until 110 ms after the pluck it may be revised, then
it is settled. While a note sounds its pitch is followed: where it changes for good a new one was slurred.
"""

from collections.abc import Iterable

import numpy as np
from numpy.typing import NDArray

from game.instrument.listening.attack import Attack, last_attack
from game.instrument.listening.decimation import Decimation
from game.instrument.listening.difference_function import Estimate, estimate_of, periodic_power
from game.instrument.listening.early_pitch import new_estimate
from game.instrument.listening.heard import Telling, Told
from game.instrument.listening.high_pass import HighPass
from game.instrument.listening.old_note import without_old_note
from game.instrument.listening.sample_history import SampleHistory, Samples
from game.instrument.listening.semitones import period_of
from game.instrument.listening.sounding_note import SoundingNote
from game.instrument.listening.spectral_flux import SpectralFlux
from game.instrument.listening.struck_again import is_struck_again

LOWEST_RATE, HIGHEST_RATE = 16_000, 192_000
_STEP_S = 0.0058
_HISTORY_S = 0.37
_CORNER_HZ = 68.0
"""Under the low E (82.4 Hz)."""
_LOUDEST = 16.0
"""Samples beyond it are faults of whoever gives them."""
_SKIPPED_S = 0.004
"""The attack itself, left out of windows for the pitch."""
_FIRST_S, _LAST_S = 0.024, 0.075
"""The shortest window of a new note, and the age at which it is given up."""
_LONGEST_S = 0.036
_CLEAR, _VERY_CLEAR = 0.88, 0.93
_HOPED_CLEAR = 0.78
"""What is expected may be told from this clarity on: earlier, and never as anything else than it sounds."""
_AGREE_CLEAR = 0.7
_SAME = 0.6
"""Semitones within which a pitch is the same."""
_TOUCH_S, _TOUCH_RATIO = 0.006, 2.0
"""An attack so much stronger, so long after one that is being looked into, is the pluck, the other the pick's touch."""
_REST_S = 0.045
"""No second pluck so soon after one."""
_YOUNG_S = 0.110
_OLD_NOTE_S = 0.075
"""What sounded for less before the pluck is not known well enough to be taken out."""
_FADES = 0.06
"""What has less than this share of its power left in the second half of the window is no string."""


class Listener:
    """Hears what it is fed. `rate` is in samples a second, 16,000 to 192,000; what is quieter than `floor_db` against
    full scale is no note. Times are seconds of the stream: of the samples fed, the first at 0.
    """

    def __init__(self, rate: int, *, floor_db: float = -58.0) -> None:
        if not LOWEST_RATE <= rate <= HIGHEST_RATE:
            raise ValueError(f"cannot listen at {rate} samples a second: only at {LOWEST_RATE} to {HIGHEST_RATE}")
        self._rate = rate
        self._decimation = Decimation(rate)
        self._working = self._decimation.working_rate
        self._step = 16 * round(_STEP_S * self._working / 16)
        self._block = self._step * round(rate / self._working)
        self._waiting = np.zeros(0)
        self._fed = 0
        self._high_pass = HighPass(_CORNER_HZ, self._working, self._step)
        self._history = SampleHistory(round(_HISTORY_S * self._working))
        self._flux = SpectralFlux(self._working, self._step)
        self._floor = 10 ** (floor_db / 20)
        self._expected: tuple[int, ...] = ()
        self._count = 0
        self._note: SoundingNote | None = None
        self._before: SoundingNote | None = None
        self._pluck: Attack | None = None
        self._last_pluck = -round(self._working)
        self._guesses: list[Estimate] = []
        self._told: list[Told] = []

    @property
    def now_s(self) -> float:
        """The time of the next sample that is fed."""
        return self._fed / self._rate

    def expect(self, pitches: Iterable[int]) -> None:
        """The MIDI numbers that may come next: they hasten the telling of a note that sounds like one of them, and
        never decide what it is.
        """
        self._expected = tuple(pitches)

    def feed(self, samples: NDArray[np.float32]) -> tuple[Told, ...]:
        """Samples of one channel, any number of them; what they bring to be told, in order. How the stream is cut makes
        no difference. What is no number counts as silence.
        """
        sound = np.nan_to_num(np.asarray(samples, dtype=np.float64), nan=0.0, posinf=1.0, neginf=-1.0)
        self._fed += len(sound)
        waiting = np.concatenate((self._waiting, np.clip(sound, -_LOUDEST, _LOUDEST)))
        whole = len(waiting) // self._block * self._block
        for begin in range(0, whole, self._block):
            self._hear(waiting[begin : begin + self._block])
        self._waiting = waiting[whole:]
        return self._take_told()

    def finish(self) -> tuple[Told, ...]:
        """The end of the stream: what is still to be told, and every note's end."""
        fed = self._fed
        for _ in range(round(_LAST_S / _STEP_S) + 3):
            if self._pluck is not None:
                self._hear(np.zeros(self._block))
        self._fed = fed
        if self._note is not None:
            self._settle(self._note)
            self._end()
        return self._take_told()

    def _take_told(self) -> tuple[Told, ...]:
        told, self._told = tuple(self._told), []
        return told

    def _hear(self, block: Samples) -> None:
        self._history.add(self._high_pass.feed(self._decimation.feed(block)))
        self._look_for_pluck()
        if self._pluck is not None:
            self._decide(self._pluck)
        elif self._note is not None:
            self._follow(self._note)

    # Plucks

    def _look_for_pluck(self) -> None:
        is_top = self._flux.hear(self._history.last(self._flux.frame))
        newest = self._history.last(2 * self._step)
        if not is_top or _rms(newest) < self._floor:
            return
        attack = last_attack(self._history, self._working)
        if self._is_new(attack):
            self._pluck, self._last_pluck, self._guesses = attack, attack.at, []

    def _is_new(self, attack: Attack) -> bool:
        if self._pluck is not None and attack.at - self._pluck.at > self._samples(_TOUCH_S):
            return attack.strength > _TOUCH_RATIO * self._pluck.strength
        return attack.at - self._last_pluck > self._samples(_REST_S)

    # A new note

    def _decide(self, pluck: Attack) -> None:
        skipped = self._samples(_SKIPPED_S)
        age = self._history.end - pluck.at - skipped
        if age < self._samples(_FIRST_S):
            return
        first = max(pluck.at + skipped, self._history.end - self._samples(_LONGEST_S))
        raw = self._history.last(self._history.end - first)
        clean = self._without_old(raw, pluck.at, self._note)
        estimate = self._new_estimate(raw, clean, age, self._note)
        self._guesses.append(estimate)
        enough = self._is_enough(estimate)
        late = age > self._samples(_LAST_S)
        if enough and _fades(clean):
            enough, late = False, True
        if not enough and not late:
            return
        self._pluck = None
        if enough and estimate.is_in_range:
            self._tell_pluck(pluck, estimate, raw, clean)

    def _is_enough(self, estimate: Estimate) -> bool:
        agreeing = sum(abs(guess.pitch - estimate.pitch) < 0.5 for guess in self._guesses[-3:])
        hoped = any(abs(estimate.pitch - pitch) < 0.4 for pitch in self._expected)
        return (
            estimate.clarity >= _VERY_CLEAR
            or (estimate.clarity >= _CLEAR and agreeing > 1)
            or (estimate.clarity > _AGREE_CLEAR and agreeing > 2)
            or (estimate.clarity > _HOPED_CLEAR and hoped)
        )

    def _tell_pluck(self, pluck: Attack, estimate: Estimate, raw: Samples, clean: Samples) -> None:
        period = period_of(estimate.pitch, self._working)
        power = periodic_power(raw, period)
        if power < (1.5 * self._floor) ** 2:
            return
        old = self._note
        if old is not None and abs(old.estimate.pitch - estimate.pitch) < _SAME:
            until = pluck.at - self._samples(0.002)
            if not is_struck_again(raw, clean, self._history.between(until - len(raw), until), period):
                return
        self._start(pluck.at, estimate, power)

    def _without_old(self, window: Samples, pluck: int, old: SoundingNote | None) -> Samples:
        if old is None or pluck - old.began < self._samples(_OLD_NOTE_S):
            return window
        known = (old.began, period_of(old.estimate.pitch, self._working))
        return without_old_note(self._history, window, pluck=pluck, old=known, rate=self._working)

    def _new_estimate(self, raw: Samples, clean: Samples, age: int, old: SoundingNote | None) -> Estimate:
        old_pitch = old.estimate.pitch if old is not None else 0.0
        return new_estimate(raw, clean, rate=self._working, age_s=age / self._working, old_pitch=old_pitch)

    def _start(self, began: int, estimate: Estimate, power: float, *, slurred: bool = False) -> None:
        before = None if slurred else self._note
        if self._note is not None:
            self._settle(self._note)
            self._end()
        self._before = before
        self._count += 1
        self._note = SoundingNote(self._count, began, estimate, power, slurred=slurred)
        self._pluck = None
        self._tell(Telling.STARTED, self._note)

    # The note that sounds

    def _follow(self, note: SoundingNote) -> None:
        age = self._history.end - note.began
        young = age < self._samples(_YOUNG_S) and not note.is_settled
        length = self._window_length(note, age, young=young)
        window = self._history.last(length)
        if _rms(window) < self._floor:
            note.quiet_steps += 1
            if note.quiet_steps > 2:
                self._settle(note)
                self._end()
            return
        note.quiet_steps = 0
        if young and not note.slurred:
            clean = self._without_old(window, note.began, self._before)
            estimate = self._new_estimate(window, clean, age, self._before)
        else:
            estimate = estimate_of(window, self._working)
        if not young:
            self._settle(note)
        self._compare(note, estimate, window, young=young)

    def _window_length(self, note: SoundingNote, age: int, *, young: bool) -> int:
        if young:
            return min(max(age - self._samples(_SKIPPED_S), self._samples(0.026)), self._samples(0.040))
        return round(
            min(max(0.030 * self._working, 2.6 * period_of(note.estimate.pitch, self._working)), 0.045 * self._working)
        )

    def _compare(self, note: SoundingNote, estimate: Estimate, window: Samples, *, young: bool) -> None:
        same = abs(estimate.pitch - note.estimate.pitch) < _SAME
        if estimate.clarity < (_CLEAR if young else _VERY_CLEAR) or not estimate.is_in_range or same:
            note.elsewhere.clear()
            if same and estimate.clarity > note.estimate.clarity:
                note.estimate = estimate
            return
        if note.elsewhere and abs(estimate.pitch - note.elsewhere[-1]) >= 0.35:
            note.elsewhere.clear()
        note.elsewhere.append(estimate.pitch)
        if young:
            if len(note.elsewhere) >= 2:
                note.estimate = estimate
                note.elsewhere.clear()
                self._tell(Telling.REVISED, note)
            return
        self._look_for_slur(note, estimate, window)

    def _look_for_slur(self, note: SoundingNote, estimate: Estimate, window: Samples) -> None:
        since = self._history.end - self._last_pluck
        unheard = since < self._samples(0.14) and self._last_pluck > note.began + self._samples(0.03)
        interval = abs(estimate.pitch - note.estimate.pitch)
        far = abs(interval - 12) < _SAME or interval > 13
        if len(note.elsewhere) < (3 if unheard else 9 if far else 5):
            return
        began = self._last_pluck
        if not unheard:
            began = self._history.end - len(note.elsewhere) * self._step - round(0.6 * len(window))
        power = periodic_power(window, period_of(estimate.pitch, self._working))
        self._start(began, estimate, power, slurred=not unheard)

    # Telling

    def _settle(self, note: SoundingNote) -> None:
        if not note.is_settled:
            note.is_settled = True
            self._tell(Telling.SETTLED, note)

    def _end(self) -> None:
        if self._note is not None:
            self._tell(Telling.ENDED, self._note)
            self._note = None

    def _tell(self, telling: Telling, note: SoundingNote) -> None:
        started_s = max(note.began / self._working - self._decimation.delay_s, 0.0)
        at_s = self._history.end / self._working
        self._told.append(Told(telling=telling, note=note.heard(started_s), at_s=at_s))

    def _samples(self, seconds: float) -> int:
        return round(seconds * self._working)


def _rms(samples: Samples) -> float:
    return float(np.sqrt(samples @ samples / max(len(samples), 1)))


def _fades(window: Samples) -> bool:
    """Gone within the window, as a click is and no string."""
    half = len(window) // 2
    first, second = window[:half], window[half:]
    return float(second @ second) < _FADES * float(first @ first)

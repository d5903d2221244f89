"""What a listener told of a recording beside what was played, counted as `mir_eval.transcription` does."""

import time
from collections.abc import Sequence
from dataclasses import dataclass, field

import mir_eval
import numpy as np

from game.instrument.listening.heard import HeardNote, Telling, Told
from game.instrument.listening.listener import Listener
from game.instrument.listening.range_heard import lowest_looked_for
from tests.bench.listening_rows import Recording
from tests.instrument.listening.played_lines import TrueNote

BLOCK = 256
ONSET_S = 0.05
CENTS = 50.0
ACCEPTED_S = 0.1
"""A wrong note counts as accepted when the written pitch is told so near to it."""


def fed(recording: Recording, expected: Sequence[int] | None = None) -> tuple[Told, ...]:
    """All that is told, fed in the blocks of a device; `expected` gives for each note what is written there."""
    listener = Listener(recording.rate, lowest=lowest_looked_for(recording.lowest_string))
    told: list[Told] = []
    samples = recording.samples.astype(np.float32)
    changes = [] if expected is None else [int((note.start_s - 0.15) * recording.rate) for note in recording.notes]
    waiting = 0
    for begin in range(0, len(samples), BLOCK):
        while expected is not None and waiting < len(changes) and begin >= changes[waiting]:
            listener.expect((expected[waiting],))
            waiting += 1
        told += listener.feed(samples[begin : begin + BLOCK])
    return (*told, *listener.finish())


def notes_of(told: Sequence[Told]) -> list[HeardNote]:
    """What each note was in the end; those taken back are left out."""
    last: dict[int, HeardNote] = {}
    for each in told:
        if each.telling is Telling.WITHDRAWN:
            last.pop(each.note.number, None)
        else:
            last[each.note.number] = each.note
    return sorted(last.values(), key=lambda note: note.started_s)


def matched(true: Sequence[TrueNote], heard: Sequence[HeardNote]) -> list[tuple[int, int]]:
    """Pairs of places in both by `mir_eval`: onsets within 50 ms, pitch within half a semitone."""
    if not true or not heard:
        return []
    pairs: list[tuple[int, int]] = mir_eval.transcription.match_notes(
        np.array([[note.start_s, note.start_s + 0.1] for note in true]),
        np.array([_hertz(note.pitch) for note in true]),
        np.array([[max(note.started_s, 0.0), max(note.started_s, 0.0) + 0.1] for note in heard]),
        np.array([_hertz(note.pitch) for note in heard]),
        onset_tolerance=ONSET_S,
        pitch_tolerance=CENTS,
        offset_ratio=None,
    )
    return pairs


def _hertz(pitch: float) -> float:
    return 440.0 * 2 ** ((pitch - 69) / 12)


@dataclass
class Counts:
    """Sums over recordings."""

    true: int = 0
    heard: int = 0
    right: int = 0
    octaves: int = 0
    repeats: int = 0
    repeats_found: int = 0
    slurred: int = 0
    unsure_right: int = 0
    unsure_wrong: int = 0
    onsets_ms: list[float] = field(default_factory=list)
    told_ms: list[float] = field(default_factory=list)
    by_guitar: dict[str, list[int]] = field(default_factory=dict)

    @property
    def f_measure(self) -> float:
        return 2 * self.right / max(self.true + self.heard, 1)

    @property
    def recall(self) -> float:
        return self.right / max(self.true, 1)

    @property
    def precision(self) -> float:
        return self.right / max(self.heard, 1)

    def add(self, other: "Counts") -> None:
        for name in ("true", "heard", "right", "octaves", "repeats", "repeats_found", "unsure_right", "unsure_wrong"):
            setattr(self, name, getattr(self, name) + getattr(other, name))
        self.onsets_ms += other.onsets_ms
        self.told_ms += other.told_ms
        for guitar, counts in other.by_guitar.items():
            mine = self.by_guitar.setdefault(guitar, [0, 0, 0])
            self.by_guitar[guitar] = [a + b for a, b in zip(mine, counts, strict=True)]


def counted(recording: Recording, expected: Sequence[int] | None = None) -> Counts:
    """One recording, listened to and compared."""
    told = fed(recording, expected)
    heard = notes_of(told)
    pairs = matched(recording.notes, heard)
    counts = Counts(true=len(recording.notes), heard=len(heard), right=len(pairs))
    counts.by_guitar[recording.guitar] = [counts.true, counts.heard, counts.right]
    found, right = {pair[0] for pair in pairs}, {pair[1] for pair in pairs}
    for number, note in enumerate(recording.notes):
        before = recording.notes[number - 1] if number else None
        if before is not None and before.pitch == note.pitch and note.start_s - before.start_s < 1.5:
            counts.repeats += 1
            counts.repeats_found += number in found
        if number not in found and any(
            abs(each.started_s - note.start_s) <= ONSET_S and abs(abs(each.pitch - note.pitch) - octave) <= 0.5
            for each in heard
            for octave in (12, 24)
        ):
            counts.octaves += 1
    for place, each in enumerate(heard):
        if not each.sure:
            counts.unsure_right += place in right
            counts.unsure_wrong += place not in right
    for of_true, of_heard in pairs:
        note = recording.notes[of_true]
        counts.onsets_ms.append((heard[of_heard].started_s - note.start_s) * 1000)
        counts.told_ms.append((_told_right_s(told, heard[of_heard].number, note.pitch) - note.start_s) * 1000)
    return counts


def _told_right_s(told: Sequence[Told], number: int, pitch: int) -> float:
    """When the note was last told with a pitch that is not its own, or first at all: from then on it was right."""
    right_s = 0.0
    was_right = False
    for each in told:
        if each.note.number != number or each.telling in (Telling.WITHDRAWN, Telling.ENDED):
            continue
        is_right = round(each.note.pitch) == pitch or abs(each.note.pitch - pitch) <= CENTS / 100
        if is_right and not was_right:
            right_s = each.at_s
        was_right = is_right
    return right_s


@dataclass
class Accepted:
    """Wrong notes, and how many of them were taken for what was written: in the end and sure, in the end, ever."""

    notes: int = 0
    sure: int = 0
    finally_: int = 0
    ever: int = 0
    found: int = 0
    flagged: int = 0


def accepted(recording: Recording, written: Sequence[int]) -> Accepted:
    """Wrong notes with the written one expected."""
    told = fed(recording, written)
    heard = notes_of(told)
    result = Accepted(notes=len(written))
    for note, wanted in zip(recording.notes, written, strict=True):
        near = [each for each in heard if abs(each.started_s - note.start_s) <= ACCEPTED_S]
        # A neighbour of the line that is of this very pitch was played, and may be heard.
        played = [
            other
            for other in recording.notes
            if other.pitch == wanted and abs(other.start_s - note.start_s) <= ACCEPTED_S + ONSET_S
        ]
        if played:
            result.notes -= 1
            continue
        as_written = [each for each in near if round(each.pitch) == wanted]
        result.finally_ += bool(as_written)
        result.sure += any(each.sure for each in as_written)
        result.ever += any(
            round(each.note.pitch) == wanted and abs(each.note.started_s - note.start_s) <= ACCEPTED_S for each in told
        )
        as_played = [each for each in near if round(each.pitch) == note.pitch]
        result.found += bool(as_played)
        result.flagged += bool(as_played) and not any(each.sure for each in as_played)
    return result


@dataclass(frozen=True)
class Costs:
    """Of one core, fed in blocks of `BLOCK`; milliseconds a block, by the clock and of the processor's own time, which
    a busy machine does not lengthen; and of a reference.
    """

    share: float
    median_ms: float
    p99_ms: float
    worst_ms: float
    own_p99_ms: float
    own_worst_ms: float
    reference_median_ms: float
    reference_p99_ms: float


def costs(recording: Recording) -> Costs:
    """What feeding costs, beside a transform of 4,096 samples in the same run."""
    listener = Listener(recording.rate, lowest=lowest_looked_for(recording.lowest_string))
    samples = recording.samples.astype(np.float32)
    took, own, reference = [], [], []
    work = np.random.default_rng(0).standard_normal(4_096)
    for begin in range(0, len(samples) - BLOCK, BLOCK):
        block = samples[begin : begin + BLOCK]
        spent_before = time.process_time()
        before = time.perf_counter()
        listener.feed(block)
        took.append((time.perf_counter() - before) * 1000)
        own.append((time.process_time() - spent_before) * 1000)
        if begin // BLOCK % 4 == 0:
            before = time.perf_counter()
            np.fft.irfft(np.abs(np.fft.rfft(work)))
            reference.append((time.perf_counter() - before) * 1000)
    return Costs(
        share=sum(own) / 1000 / (len(samples) / recording.rate),
        median_ms=float(np.median(took)),
        p99_ms=float(np.quantile(took, 0.99)),
        worst_ms=max(took),
        own_p99_ms=float(np.quantile(own, 0.99)),
        own_worst_ms=max(own),
        reference_median_ms=float(np.median(reference)),
        reference_p99_ms=float(np.quantile(reference, 0.99)),
    )

"""What could have happened at one wrong note: each story with the cause it stands for and how well it fits.

A story is generative: it says what somebody to whom this happened would have played, and where. A misreading is
played at the home of the note that was read; a slip of the hand lands one fret or string beside the home of the note
that was meant.
"""

from collections import Counter
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import NamedTuple

from game.instrument.decoding.played import PlayedNote
from game.judging.causes.cause_numbers import CAUSE_NUMBERS, CauseNumbers
from game.judging.causes.misreadings import NoteAsRead, on_ledger
from game.judging.causes.signs import Signature, signature_of, signs_before
from game.judging.causes.take_map import TakeMap, take_map
from game.judging.expected import ExpectedNote
from game.judging.verdicts import Cause
from game.music.clef import Clef
from game.music.pitch import STEPS

Kind = tuple[str, int, int]
"""A way of going wrong that can be a habit: its word in the table of rates, and two numbers, which are a letter and a
distance, or a string and a fret.
"""


class Story(NamedTuple):
    """One story of a wrong note.

    `share` is how large a part of its cause this kind is, `chance` how likely it gives just what was played, and
    `exposure` at how many notes of the take it could have happened.
    """

    cause: Cause
    kind: Kind
    share: float
    chance: float
    exposure: int


@dataclass(frozen=True, slots=True)
class Counts:
    """Notes of a take: in all, by letter, on ledger lines, altered by the signature, altered against it."""

    notes: int
    letters: tuple[int, ...]
    ledger: int
    signature: int
    accidental: int

    def of(self, word: str) -> int:
        """At how many notes a story of this word can have happened."""
        of_some = {"ledger": self.ledger, "signature": self.signature, "accidental": self.accidental}
        return of_some.get(word, self.notes)


@dataclass(frozen=True, slots=True)
class StoryTeller:
    """What of a take as a whole the stories of its notes rest on."""

    expected: Sequence[ExpectedNote]
    signature: Signature
    homes: TakeMap
    counts: Counts
    numbers: CauseNumbers

    def stories(self, index: int, played: PlayedNote) -> list[Story]:
        """Every story of a wrong pitch that was played for the note at `index`. Never none: it may be unknown."""
        asked = self.expected[index]
        note = asked.note
        read = NoteAsRead(
            note, note.pitch.staff_step, self.signature.at(index), signs_before(self.expected, index), self.numbers
        )
        off = played.sounding - note.sounding
        reading_chance = self.homes.chance_at(played.sounding, played.place, self.numbers)
        found = list(self._misreadings(read, note.pitch.midi + off, reading_chance))
        letter, alter = read.line % len(STEPS), note.pitch.alter + off
        if -2 <= alter <= 2:
            chance = max(reading_chance, self.numbers.forgotten_elsewhere)
            forgot = read.forgot_signature(alter)
            if forgot:
                kind = ("signature", letter, alter)
                found.append(Story(Cause.SIGNATURE, kind, forgot, chance, self.counts.letters[letter]))
            forgot = read.forgot_accidental(alter)
            if forgot:
                kind = ("accidental", 0, 0)
                found.append(Story(Cause.ACCIDENTAL, kind, forgot, chance, self.counts.accidental))
        found.extend(self._slips(asked, played, off))
        chance = self.numbers.unknown_chance
        found.append(Story(Cause.UNKNOWN, ("unknown", 0, 0), 1.0, chance, self.counts.notes))
        return found

    def _misreadings(self, read: NoteAsRead, midi: int, reading_chance: float) -> Iterator[Story]:
        """A line or space taken for another one."""
        letter, clef = read.line % len(STEPS), read.note.clef
        of_letter = self.counts.letters[letter]
        ledger = on_ledger(read.line, clef)
        for distance, read_so in read.other_lines(midi):
            apart = abs(distance)
            chance = read_so * reading_chance
            if ledger:
                # Whatever else is misread on ledger lines, the lines are what has to be learned.
                share = self.numbers.ledger_distances[apart]
                kind = ("ledger", read.line > clef.middle_step, distance)
                yield Story(Cause.LEDGER, kind, share, chance, self.counts.ledger)
            elif apart == 1:
                yield Story(Cause.NEIGHBOUR, ("neighbour", letter, distance), 0.5, chance, of_letter)
            elif apart == 2:
                yield Story(Cause.THIRD, ("third", letter, distance), 0.5, chance, of_letter)

    def _slips(self, asked: ExpectedNote, played: PlayedNote, off: int) -> Iterator[Story]:
        """The hand that meant the home and landed beside it."""
        home, place, notes = asked.home, played.place, self.counts.notes
        if home is not None and place is not None:
            strings, frets = place.string - home.place.string, place.fret - home.place.fret
            if abs(strings) + abs(frets) == 1:
                share = self.numbers.fret_slip if frets else self.numbers.string_slip
                yield Story(Cause.SLIP, ("slip", strings, frets), share, 1.0, notes)
            return
        if abs(off) == 1:
            yield Story(Cause.SLIP, ("slip", 0, off), self.numbers.fret_slip, 1.0, notes)
        elif home is not None:
            for strings in (-1, 1):
                if off == self.homes.string_over(home.place.string, strings):
                    yield Story(Cause.SLIP, ("slip", strings, 0), self.numbers.string_slip, 1.0, notes)


def story_teller(expected: Sequence[ExpectedNote], numbers: CauseNumbers = CAUSE_NUMBERS) -> StoryTeller:
    """What the stories of these notes rest on."""
    seen = Counter(
        (asked.note.pitch.step, asked.note.pitch.octave, asked.note.pitch.alter, asked.note.signature)
        for asked in expected
    )
    return StoryTeller(
        expected=expected,
        signature=signature_of(expected, {(step, signature) for step, _, _, signature in seen}),
        homes=take_map(asked.home for asked in expected),
        counts=_counts(seen, expected[0].note.clef if expected else Clef.TREBLE),
        numbers=numbers,
    )


def _counts(seen: Counter[tuple[str, int, int, int]], clef: Clef) -> Counts:
    letters = [0] * len(STEPS)
    ledger = signature = accidental = 0
    for (step, octave, alter, by_signature), count in seen.items():
        letter = STEPS.index(step)
        letters[letter] += count
        if on_ledger(len(STEPS) * octave + letter, clef):
            ledger += count
        if alter != by_signature:
            accidental += count
        elif alter:
            signature += count
    return Counts(seen.total(), tuple(letters), ledger, signature, accidental)

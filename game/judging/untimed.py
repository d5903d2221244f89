"""Untimed takes, live: a note waits until it is found, and the take is a fold over what happens.

    begin -> (hear | hint)* -> finish

`hear` answers at once and for good when the page waits, for then the page itself settled which note was asked. When
the player goes on anyway an extra note would shift all the rest: there the live answer is provisional and the whole
take is aligned again at the end.

A note that was heard unsurely, and has the pitch that is asked, moves the page on without counting. Played once more
because the player did not see that, and heard surely, it is still the answer to the note that was left. An unsure note
of another pitch leaves the page where it is; if the page does not wait, and the next sure note is the one after the
note asked, it stood for that.
"""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from enum import Enum

from game.instrument.decoding.played import PlayedNote
from game.judging.alignment import align
from game.judging.cause import with_causes
from game.judging.expected import ExpectedNote
from game.judging.untimed_verdict import untimed_verdict
from game.judging.verdicts import Judgement, NoteVerdict, Verdict


@dataclass(frozen=True, slots=True, kw_only=True)
class UntimedRules:
    """`waits`: a note stays until its pitch is played. `wants_home`: it stays until it is played at its home."""

    waits: bool = True
    wants_home: bool = False


class HintStep(Enum):
    """How far the help for a note has gone."""

    NONE = 0
    LETTER = 1
    PLACE = 2


@dataclass(frozen=True, slots=True, kw_only=True)
class UntimedTake:
    """An untimed take under way.

    `at` is the index of the note asked for, `len(expected)` when all are done; `asked_s` when it was asked.
    `answers` are what was played for it so far, `hint` how much it was helped. `given` holds the answers and the
    hint step of each note already left; `heard` all played notes in order.
    """

    expected: tuple[ExpectedNote, ...]
    rules: UntimedRules
    started_s: float
    at: int = 0
    asked_s: float = 0.0
    answers: tuple[PlayedNote, ...] = ()
    hint: HintStep = HintStep.NONE
    live: tuple[NoteVerdict, ...] = ()
    heard: tuple[PlayedNote, ...] = ()
    hinted: frozenset[int] = frozenset()

    @property
    def done(self) -> bool:
        """Whether every note has been answered."""
        return self.at >= len(self.expected)

    @property
    def asked(self) -> ExpectedNote | None:
        """The note the page waits for."""
        return None if self.done else self.expected[self.at]

    @property
    def searched_since_s(self) -> float | None:
        """Since when the player looks for it: None where nobody knows, for the note before was heard unsurely."""
        return None if self.left_unsure else self.asked_s

    @property
    def left_unsure(self) -> bool:
        """Whether the note before was left with nothing sure heard for it."""
        return bool(self.live) and self.live[-1].verdict is Verdict.UNSURE

    @property
    def so_far(self) -> NoteVerdict | None:
        """The verdict on the asked note as far as it was answered, None before its first answer."""
        if self.asked is None or not self.answers:
            return None
        return self._verdict(self.asked, self.answers)

    def _verdict(self, asked: ExpectedNote, answers: tuple[PlayedNote, ...]) -> NoteVerdict:
        helped = self.hint is not HintStep.NONE
        return untimed_verdict(asked, answers, asked_s=self.searched_since_s, hinted=helped)


@dataclass(frozen=True, slots=True, kw_only=True)
class Answered:
    """What a played note came to: the verdict on note `verdict.n` so far, and whether the page moves on."""

    verdict: NoteVerdict
    moved_on: bool


def begin(expected: Sequence[ExpectedNote], *, now_s: float, rules: UntimedRules | None = None) -> UntimedTake:
    """A take that starts now, asking for the first note."""
    return UntimedTake(expected=tuple(expected), rules=rules or UntimedRules(), started_s=now_s, asked_s=now_s)


def hear(take: UntimedTake, played: PlayedNote) -> tuple[UntimedTake, Answered | None]:
    """Take a played note into account. After the last note nothing is asked and nothing answered (None)."""
    if _once_more(take, played):
        return _told_surely(take, played)
    take = _gone_on(take, played)
    asked = take.asked
    if asked is None:
        return take, None
    after = replace(take, answers=(*take.answers, played), heard=(*take.heard, played))
    verdict = after.so_far
    assert verdict is not None
    if not _moves_on(asked, played, take.rules):
        return after, Answered(verdict=verdict, moved_on=False)
    return _left(after, verdict, played.started_s), Answered(verdict=verdict, moved_on=True)


def _left(take: UntimedTake, verdict: NoteVerdict, at_s: float) -> UntimedTake:
    """The take asking for the next note."""
    return replace(take, at=take.at + 1, asked_s=at_s, answers=(), hint=HintStep.NONE, live=(*take.live, verdict))


def _once_more(take: UntimedTake, played: PlayedNote) -> bool:
    """Whether a sure note is the one before, which was left with nothing sure heard for it."""
    if not (played.sure and take.left_unsure and not take.answers):
        return False
    before = take.expected[take.at - 1]
    return played.sounding == before.sounding and (take.asked is None or played.sounding != take.asked.sounding)


def _told_surely(take: UntimedTake, played: PlayedNote) -> tuple[UntimedTake, Answered]:
    """The note before gets its sure answer; nobody knows how long it was looked for."""
    *live, before = take.live
    verdict = untimed_verdict(
        take.expected[take.at - 1], (*before.answers, played), asked_s=None, hinted=before.n in take.hinted
    )
    after = replace(take, asked_s=played.started_s, live=(*live, verdict), heard=(*take.heard, played))
    return after, Answered(verdict=verdict, moved_on=False)


def _gone_on(take: UntimedTake, played: PlayedNote) -> UntimedTake:
    """The take, one note on where its player has gone on without being heard surely, though the page would not wait."""
    following = take.expected[take.at + 1 : take.at + 2]
    verdict = take.so_far
    if take.rules.waits or not played.sure or verdict is None or verdict.verdict is not Verdict.UNSURE or not following:
        return take
    asked, then = take.expected[take.at], following[0]
    if played.sounding == asked.sounding or played.sounding != then.sounding:
        return take
    return _left(take, verdict, take.answers[-1].started_s)


def hint(take: UntimedTake, step: HintStep) -> UntimedTake:
    """Help with the note asked for, up to `step`; help once given is not taken back."""
    if take.asked is None or step.value <= take.hint.value:
        return take
    return replace(take, hint=step, hinted=take.hinted | {take.asked.n})


def finish(take: UntimedTake) -> Judgement:
    """The judgement of the whole take, finished or broken off. Notes not reached are unread."""
    if not take.rules.waits:
        return judge_untimed(take.expected, take.heard, started_s=take.started_s, hinted=take.hinted)
    verdicts = list(take.live)
    for index, note in enumerate(take.expected[take.at :]):
        so_far = take.so_far if index == 0 else None
        verdicts.append(so_far or NoteVerdict(n=note.n, verdict=Verdict.UNREAD))
    return Judgement(verdicts=with_causes(take.expected, verdicts))


def judge_untimed(
    expected: Sequence[ExpectedNote],
    played: Sequence[PlayedNote],
    *,
    started_s: float | None = None,
    hinted: frozenset[int] = frozenset(),
) -> Judgement:
    """Judge a whole untimed take from its played notes alone, whether the player waited or went on.

    Played notes are aligned with the written ones as a whole. What was played between two answers is a try at the
    note that follows. `started_s` None means nobody knows when the first note was asked.
    """
    unsure = frozenset(at for at, note in enumerate(played) if not note.sure)
    alignment = align([note.sounding for note in expected], [note.sounding for note in played], unsure)
    verdicts = []
    asked_s = started_s
    for note, answer_indices in zip(expected, alignment.answers, strict=True):
        answers = tuple(played[index] for index in answer_indices)
        if answers:
            verdict = untimed_verdict(note, answers, asked_s=asked_s, hinted=note.n in hinted)
            verdicts.append(verdict)
            asked_s = None if verdict.verdict is Verdict.UNSURE else answers[-1].started_s
        else:
            word = Verdict.UNREAD if note.n > alignment.read else Verdict.MISSED
            verdicts.append(NoteVerdict(n=note.n, verdict=word))
    extra = tuple(played[index] for index in alignment.extra if index not in unsure)
    return Judgement(verdicts=with_causes(expected, verdicts), extra=extra)


def _moves_on(asked: ExpectedNote, played: PlayedNote, rules: UntimedRules) -> bool:
    if not rules.waits and played.sure:
        return True
    if played.sounding != asked.sounding:
        return False
    at_home = played.place is None or asked.home is None or played.place == asked.home.place
    return at_home or not rules.wants_home

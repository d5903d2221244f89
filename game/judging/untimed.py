"""Untimed takes, live: a note waits until it is found, and the take is a fold over what happens.

    begin -> (hear | hint)* -> finish

`hear` answers at once and for good when the page waits, for then the page itself settled which note was asked. When
the player goes on anyway an extra note would shift all the rest: there the live answer is provisional and the whole
take is aligned again at the end.
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
    asked = take.asked
    if asked is None:
        return take, None
    answers = (*take.answers, played)
    verdict = untimed_verdict(asked, answers, asked_s=take.asked_s, hinted=take.hint is not HintStep.NONE)
    heard = (*take.heard, played)
    if not _moves_on(asked, played, take.rules):
        return replace(take, answers=answers, heard=heard), Answered(verdict=verdict, moved_on=False)
    moved = replace(
        take,
        at=take.at + 1,
        asked_s=played.started_s,
        answers=(),
        hint=HintStep.NONE,
        live=(*take.live, verdict),
        heard=heard,
    )
    return moved, Answered(verdict=verdict, moved_on=True)


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
        if index == 0 and take.answers:
            verdicts.append(
                untimed_verdict(note, take.answers, asked_s=take.asked_s, hinted=take.hint is not HintStep.NONE)
            )
        else:
            verdicts.append(NoteVerdict(n=note.n, verdict=Verdict.UNREAD))
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
    alignment = align([note.sounding for note in expected], [note.sounding for note in played])
    verdicts = []
    asked_s = started_s
    for note, answer_indices in zip(expected, alignment.answers, strict=True):
        answers = tuple(played[index] for index in answer_indices)
        if answers:
            verdicts.append(untimed_verdict(note, answers, asked_s=asked_s, hinted=note.n in hinted))
            asked_s = answers[-1].started_s
        else:
            word = Verdict.UNREAD if note.n > alignment.read else Verdict.MISSED
            verdicts.append(NoteVerdict(n=note.n, verdict=word))
    extra = tuple(played[index] for index in alignment.extra)
    return Judgement(verdicts=with_causes(expected, verdicts), extra=extra)


def _moves_on(asked: ExpectedNote, played: PlayedNote, rules: UntimedRules) -> bool:
    if not rules.waits:
        return True
    if played.sounding != asked.sounding:
        return False
    at_home = played.place is None or asked.home is None or played.place == asked.home.place
    return at_home or not rules.wants_home

"""What a timed page shows of the way to signing: the ladder of its passage, and the marks it has earned."""

from dataclasses import dataclass

from game.coach.decisions import Decision, Offer
from game.coach.marks import Mark
from game.coach.stages import Stage
from game.coach.tempo_ladder import LadderRung, RungNote, rungs_to_signing
from game.desk.kit.mark_words import WordedMark
from game.practice.take_request import TakeRequest
from game.screens.context import ScreenContext
from game.screens.reading.ladder_rungs import ladder_rungs
from game.text.catalogue import say

_TOLD = 5
"""So many tempi are told one by one; of more the first ones and the last."""


@dataclass(frozen=True, slots=True, kw_only=True)
class PassageClimb:
    """The rungs, slowest first, the tempi that are still to be kept, the marks and those of them that rest on the
    player's own word, and the player's own pace, None where it is not known. Tempi are in the metre's own beat.
    """

    rungs: tuple[LadderRung, ...]
    to_signing: tuple[int, ...]
    marks: tuple[Mark, ...]
    own_pace_bpm: int | None
    marks_by_word: tuple[Mark, ...] = ()

    @property
    def target_bpm(self) -> int | None:
        """The tempo of signing, None where nobody set one."""
        return next((rung.tempo_bpm for rung in self.rungs if rung.target), None)


def climb_of(context: ScreenContext, request: TakeRequest) -> PassageClimb | None:
    """The climb of a request in time with the click; None for another, and for bars the coach does not know. Some
    milliseconds' work: once for a page.
    """
    if request.stage is not Stage.TIME or request.tempo_bpm is None or request.one_a_click or request.free_reading:
        return None
    coach = context.session.coach
    state, name = coach.state, coach.facts(request.passage).name
    record = state.records.get(name)
    if record is None:
        return None
    asked = Decision(
        passage=name,
        offer=Offer.AGAIN,
        stage=request.stage,
        pulse=request.pulse,
        tempo_bpm=request.tempo_bpm,
        reason=(),
        settling=request.settling,
    )
    rungs = ladder_rungs(coach, asked, request.passage, request.neck_map)
    if not rungs:
        return None
    notes = sum(request.neck_map.home_of(note.sounding) is not None for note in request.passage.notes)
    return PassageClimb(
        rungs=rungs,
        to_signing=rungs_to_signing(state, asked, notes=notes),
        marks=record.marks,
        own_pace_bpm=record.own_pace_bpm,
        marks_by_word=record.marks_by_word,
    )


def distance_in_words(climb: PassageClimb) -> str:
    """How far it is to signing, in one sentence; "" where there is nothing to sign for."""
    if Mark.SIGNED_OFF in climb.marks or climb.target_bpm is None:
        return ""
    count = len(climb.to_signing)
    if not count:
        return say("page.to_sign", bpm=climb.target_bpm)
    tempi = [str(bpm) for bpm in climb.to_signing]
    told = tempi if count <= _TOLD else [*tempi[: _TOLD - 2], "…", tempi[-1]]
    return say("page.rungs", count=count, tempi=", ".join(told))


def below_ladder(climb: PassageClimb) -> tuple[str, ...]:
    """What stands below the ladder: the player's own pace, and what the next take is besides its tempo."""
    notes = {rung.note for rung in climb.rungs}
    told = [say("page.own_pace", bpm=climb.own_pace_bpm)] if climb.own_pace_bpm else []
    if RungNote.SETTLING in notes:
        told.append(say("page.settling"))
    elif RungNote.FIRST_OF_DAY in notes:
        told.append(say("page.first_of_day"))
    return tuple(told)


def marks_in_words(climb: PassageClimb) -> tuple[WordedMark, ...]:
    """The three marks of practice, earned or not."""
    return tuple(
        WordedMark(say(f"book.{mark.value}"), earned=mark in climb.marks, by_word=mark in climb.marks_by_word)
        for mark in Mark
    )

"""The player overrules the coach, and the coach learns from it."""

from dataclasses import replace

from game.coach import reasons
from game.coach.decisions import Offer
from game.coach.events import Overruled, Wish
from game.coach.numbers import CoachNumbers
from game.coach.records import PassageRecord
from game.coach.stage_steps import StageStep
from game.coach.stages import Pulse, Stage


def granted(record: PassageRecord, event: Overruled, bpm: int, numbers: CoachNumbers) -> StageStep:
    """The step the player asked for. `bpm` is the tempo that stood before the wish.

    A named tempo is kept within the lowest and highest of the table.
    """
    stage, before = record.stage, bpm
    match event.wish:
        case Wish.ANOTHER_PASSAGE:
            return StageStep(record=record, bpm=bpm, said=(reasons.ANOTHER_AS_WISHED,), offer=Offer.SIBLING)
        case Wish.NO_METRONOME:
            free = replace(record, pulse=Pulse.FREE, tries=0)
            return StageStep(record=free, bpm=None, said=(reasons.FREE_AS_WISHED,))
        case Wish.METRONOME_NOW:
            stage = stage if stage in (Stage.RHYTHM, Stage.SIGHT) else Stage.TIME
            bpm = event.tempo_bpm or bpm
        case Wish.SLOWER:
            bpm = int(bpm * (1 - numbers.wish_step))
        case Wish.FASTER:
            bpm = int(bpm * (1 + numbers.wish_step))
    timed = record.pulse is Pulse.METRONOME or event.wish is Wish.METRONOME_NOW
    bpm = min(max(bpm, numbers.lowest_bpm), numbers.highest_bpm)
    pulse = Pulse.METRONOME if timed else Pulse.FREE
    said = reasons.wished(reasons.begun(stage, pulse, bpm if timed else None))
    if timed and event.wish is Wish.SLOWER and before <= numbers.lowest_bpm:
        said = reasons.no_slower(numbers.lowest_bpm)
    if timed and event.wish is Wish.FASTER and before >= numbers.highest_bpm:
        said = reasons.no_faster(numbers.highest_bpm)
    wished = bpm if timed and stage is Stage.TIME and bpm != before and bpm not in record.kept_bpms else None
    asked = replace(record, stage=stage, pulse=pulse, tries=0, wished_bpm=wished)
    return StageStep(record=asked, bpm=bpm, said=said)


def wish_after(wish: float, asked: Wish, numbers: CoachNumbers) -> float:
    """What is left of wishes for faster or slower, in log tempo, after one more."""
    if asked is Wish.SLOWER:
        return max(wish - numbers.wish_learned, -numbers.wish_most)
    if asked is Wish.FASTER:
        return min(wish + numbers.wish_learned, numbers.wish_most)
    return wish

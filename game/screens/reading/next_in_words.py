"""What comes after a take: where Enter leads, and the same in words, read off the way itself."""

from dataclasses import replace
from typing import Final

from game.coach import reasons
from game.coach.decisions import Decision, Offer
from game.coach.plan.plan_onward import Onward, PlannedNext
from game.coach.stages import Pulse, Stage
from game.message import Message, message
from game.practice.failed_bars import failed_bars
from game.practice.finished_take import Finished, FinishedTake
from game.practice.take_request import TakeRequest
from game.screens.reading.bars_in_words import bars_in_words
from game.screens.reading.why_in_words import is_clean_take
from game.screens.routes import Back, Route, ToFreshLine, ToPage, ToPlanned, ToProgramme, ToShelf, ToSibling

_NOW = {
    "rung_up": "now.rung_up",
    "same_rung": "now.same_rung",
    "down": "now.down",
    "down_in_bars": "now.down_in_bars",
    "all_bars": "now.all_bars",
    "settling": "now.settling",
    "metronome": "now.metronome",
    "own_pace": "now.own_pace",
    "any_place": "now.any_place",
    "places": "now.places",
    "rhythm": "now.rhythm",
    "rhythm_at": "now.rhythm_at",
    "letters": "now.letters",
    "sight": "now.sight",
    "bars": "now.bars",
    "sibling": "now.sibling",
    "line": "now.line",
    "shelf": "now.shelf",
    "evening": "now.evening",
    "assignment": "now.assignment",
    "next_bars": "now.next_bars",
    "course_bars": "now.course_bars",
    "other_line": "now.line",
    "other_passage": "now.other_passage",
    "step_over": "now.step_over",
}
"""The whole advice, by what comes."""
_CORNER = {
    "rung_up": "corner.rung_up",
    "same_rung": "corner.same_rung",
    "down": "corner.down",
    "down_in_bars": "corner.down",
    "all_bars": "corner.rung_up",
    "settling": "corner.settling",
    "metronome": "corner.metronome",
    "own_pace": "corner.own_pace",
    "any_place": "corner.any_place",
    "places": "corner.places",
    "rhythm": "corner.rhythm",
    "rhythm_at": "corner.rhythm_at",
    "letters": "corner.letters",
    "sight": "corner.sight",
    "bars": "corner.bars",
    "sibling": "corner.sibling",
    "line": "corner.line",
    "shelf": "corner.shelf",
    "evening": "corner.evening",
    "assignment": "corner.assignment",
    "next_bars": "corner.bars",
    "course_bars": "corner.bars",
    "other_line": "corner.line",
    "other_passage": "corner.other_passage",
    "step_over": "corner.step_over",
}
"""Two or three words of it, for the corner of the sheet."""
_ONWARD = {
    Onward.NEXT_BARS: "next_bars",
    Onward.COURSE_BARS: "course_bars",
    Onward.OTHER_LINE: "other_line",
    Onward.OTHER_PASSAGE: "other_passage",
    Onward.STEP_OVER: "step_over",
}
_OTHER_MUSIC: Final = {ToSibling: "sibling", ToFreshLine: "line", ToProgramme: "evening"}
_ALSO = {
    reasons.ONCE_MORE_ANOTHER_DAY.key: "now.sign_another_day",
    reasons.ONCE_MORE_AFTER_A_NIGHT.key: "now.sign_after_a_night",
    reasons.SAME_NOTE_TWICE.key: "now.same_note_twice",
    reasons.SAME_NOTE_AWAY.key: "now.same_note_away",
    reasons.FALSE_START.key: "now.false_start",
    reasons.NOT_HEARD_ENOUGH.key: "now.not_heard_enough",
    "coach.enough_for_today": "now.enough_for_today",
    "coach.begun_and_left": "now.begun_and_left",
    "coach.too_short_to_sign_off": "now.too_short_to_sign",
}
"""What the coach said besides that is worth a second sentence, whatever comes next."""
_WHY_AGAIN = {
    reasons.NOT_SURE.key: reasons.NOT_SURE.key,
    reasons.FREE_NOT_SURE.key: reasons.NOT_SURE.key,
    reasons.FIND_ALL.key: reasons.FIND_ALL.key,
    reasons.TO_THE_END.key: "now.to_the_end",
    "coach.not_quick": "coach.not_quick",
}
"""And why the same bars come again without a clock: all right, and asked for once more, is taken for a fault."""
_AGAIN = frozenset(("places", "own_pace"))


def bars_after(request: TakeRequest, finished: Finished, decision: Decision) -> TakeRequest | None:
    """The request over other bars of the same passage, where that is the advice: those alone in which a take fell
    apart, and all of them again once they were clean. None where the bars stay.
    """
    if not isinstance(finished, FinishedTake) or request.tempo_bpm is None or request.stage is not Stage.TIME:
        return None
    if _in_evening(request):
        return None
    if request.around is not None:
        done = is_clean_take(finished) or decision.offer is not Offer.AGAIN
        return request.widened() if done else None
    fell = any(said.key.startswith("coach.fell_apart") for said in decision.reason)
    goes_on = decision.offer is Offer.AGAIN and decision.stage is Stage.TIME and not decision.settling
    bars = failed_bars(finished) if fell and goes_on and decision.tempo_bpm is not None else None
    return None if bars is None else request.narrowed(*bars)


def advised_route(
    request: TakeRequest, decision: Decision, then: PlannedNext | None, over: TakeRequest | None = None
) -> Route:
    """Where Enter leads after a take of `request`: on as the coach says, or as the plan does in a step of it.
    `over` is the request over other bars of the passage, from `bars_after`.
    """
    if _in_evening(request):
        return ToProgramme()
    if over is not None and (then is None or then.onward is Onward.AS_ADVISED):
        decision = _over_all_again(request, decision) if over.around is None else decision
        return ToPlanned(over, decision, then) if request.planned else ToPage(over.as_decided(decision), chosen=True)
    if request.planned:
        return ToPlanned(request, decision, then)
    return _route_alone(request, decision, then)


def _route_alone(request: TakeRequest, decision: Decision, then: PlannedNext | None) -> Route:
    """Where it leads outside of the plan, with the same bars or from them."""
    if request.stage.named:
        return ToPage(request, chosen=True)
    if decision.offer is Offer.AGAIN:
        return ToPage(request.as_decided(decision), chosen=True)
    if decision.offer is Offer.SIBLING and not request.stage.once_through:
        return ToSibling(request)
    return other_bars_route(request, decision, then)


def _in_evening(request: TakeRequest) -> bool:
    """Whether the programme goes on behind a take, as it went: an evening is played, not practised."""
    return request.evening and request.passage.whole


def other_bars_route(request: TakeRequest, decision: Decision, then: PlannedNext | None) -> Route:
    """On to other music: the next bars, another line, the assignment, or the shelf."""
    if request.planned:
        return ToPlanned(request, decision, then)
    if request.assigned is not None and request.is_last:
        return Back()
    if request.fresh and request.is_last:
        return ToFreshLine()
    return ToShelf() if request.is_last else ToPage(request.moved(1))


def _over_all_again(request: TakeRequest, decision: Decision) -> Decision:
    """All bars are taken up at the tempo at which the few were clean."""
    return replace(
        decision,
        offer=Offer.AGAIN,
        stage=Stage.TIME,
        pulse=Pulse.METRONOME,
        tempo_bpm=request.tempo_bpm,
        reason=(reasons.begun(Stage.TIME, Pulse.METRONOME, request.tempo_bpm),),
        settling=False,
    )


def now_in_words(
    request: TakeRequest, decision: Decision, then: PlannedNext | None, over: TakeRequest | None = None
) -> tuple[Message, ...]:
    """The one advice after a take of `request`, which is what Enter does, and a second sentence where there is reason
    for one.
    """
    kind, values = _next(request, decision, then, over)
    worth = _ALSO | _WHY_AGAIN if kind in _AGAIN else _ALSO
    also = [message(worth[said.key], **dict(said.values)) for said in decision.reason if said.key in worth]
    return (message(_NOW[kind], **values), *also[:1])


def corner_in_words(
    request: TakeRequest, decision: Decision, then: PlannedNext | None, over: TakeRequest | None = None
) -> Message:
    """The same in the few words that the corner has room for."""
    kind, values = _next(request, decision, then, over)
    return message(_CORNER[kind], **values)


def _next(
    request: TakeRequest, decision: Decision, then: PlannedNext | None, over: TakeRequest | None
) -> tuple[str, dict[str, object]]:
    """What comes, by the way that leads there."""
    match advised_route(request, decision, then, over):
        case ToPlanned(following, decided) if following is not None and following is over and decided is not None:
            return _on_page(request, following.as_decided(decided))
        case ToPage(following):
            return _on_page(request, following)
        case ToSibling() | ToFreshLine() | ToProgramme() as other:
            return _OTHER_MUSIC[type(other)], {}
        case Back():
            return "assignment", {}
        case ToPlanned():
            return _in_plan(request, decision, then)
    return "shelf", {}


def _in_plan(request: TakeRequest, decision: Decision, then: PlannedNext | None) -> tuple[str, dict[str, object]]:
    if then is not None and then.onward is Onward.AS_ADVISED:
        return _on_page(request, request.as_decided(decision))
    kind = "step_over" if then is None else _ONWARD[then.onward]
    passage = None if then is None else then.passage
    return kind, {} if passage is None else {"passage": passage.title}


def _on_page(request: TakeRequest, following: TakeRequest) -> tuple[str, dict[str, object]]:
    if following.around == request.passage:
        return "down_in_bars", {"bpm": following.tempo_bpm, "bars": bars_in_words(following.passage)}
    if request.around == following.passage:
        return "all_bars", {"bpm": following.tempo_bpm, "bars": bars_in_words(following.passage)}
    if following.passage != request.passage:
        return "bars", {"bars": bars_in_words(following.passage)}
    stage, bpm = following.stage, following.tempo_bpm
    at: dict[str, object] = {} if bpm is None else {"bpm": bpm}
    if stage is Stage.TIME and bpm is not None:
        return _at_tempo(request, following, bpm), at
    if stage is Stage.RHYTHM:
        return ("rhythm" if bpm is None else "rhythm_at"), at
    own_pace = "any_place" if following.free_reading else "own_pace"
    return {Stage.TIME: own_pace, Stage.PLACES: "places", Stage.LETTERS: "letters"}.get(stage, "sight"), {}


def _at_tempo(request: TakeRequest, following: TakeRequest, bpm: int) -> str:
    """How the next tempo lies to the last one, where both are on the ladder."""
    if following.settling:
        return "settling"
    climbing = request.stage is Stage.TIME and request.pulse is Pulse.METRONOME
    if not climbing or request.tempo_bpm is None:
        return "metronome"
    return "rung_up" if bpm > request.tempo_bpm else "same_rung" if bpm == request.tempo_bpm else "down"

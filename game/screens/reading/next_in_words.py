"""What comes after a take: where Enter leads, and the same in words, read off the way itself."""

from game.coach import reasons
from game.coach.decisions import Decision, Offer
from game.coach.plan.plan_onward import Onward, PlannedNext
from game.coach.stages import Pulse, Stage
from game.message import Message, message
from game.practice.take_request import TakeRequest
from game.screens.reading.bars_in_words import bars_in_words
from game.screens.routes import Route, ToFreshLine, ToPage, ToPlanned, ToShelf, ToSibling

_NOW = {
    "rung_up": "now.rung_up",
    "same_rung": "now.same_rung",
    "down": "now.down",
    "settling": "now.settling",
    "metronome": "now.metronome",
    "own_pace": "now.own_pace",
    "places": "now.places",
    "rhythm": "now.rhythm",
    "rhythm_at": "now.rhythm_at",
    "letters": "now.letters",
    "sight": "now.sight",
    "bars": "now.bars",
    "sibling": "now.sibling",
    "line": "now.line",
    "shelf": "now.shelf",
    "next_bars": "now.next_bars",
    "other_line": "now.line",
    "other_passage": "now.other_passage",
    "step_over": "now.step_over",
}
"""The whole advice, by what comes."""
_CORNER = {
    "rung_up": "corner.rung_up",
    "same_rung": "corner.same_rung",
    "down": "corner.down",
    "settling": "corner.settling",
    "metronome": "corner.metronome",
    "own_pace": "corner.own_pace",
    "places": "corner.places",
    "rhythm": "corner.rhythm",
    "rhythm_at": "corner.rhythm_at",
    "letters": "corner.letters",
    "sight": "corner.sight",
    "bars": "corner.bars",
    "sibling": "corner.sibling",
    "line": "corner.line",
    "shelf": "corner.shelf",
    "next_bars": "corner.bars",
    "other_line": "corner.line",
    "other_passage": "corner.other_passage",
    "step_over": "corner.step_over",
}
"""Two or three words of it, for the corner of the sheet."""
_ONWARD = {
    Onward.NEXT_BARS: "next_bars",
    Onward.OTHER_LINE: "other_line",
    Onward.OTHER_PASSAGE: "other_passage",
    Onward.STEP_OVER: "step_over",
}
_ALSO = {
    reasons.ONCE_MORE_ANOTHER_DAY.key: "now.sign_another_day",
    reasons.ONCE_MORE_AFTER_A_NIGHT.key: "now.sign_after_a_night",
    reasons.SAME_NOTE_TWICE.key: "now.same_note_twice",
    reasons.SAME_NOTE_AWAY.key: "now.same_note_away",
    reasons.FALSE_START.key: "now.false_start",
    "coach.enough_for_today": "now.enough_for_today",
    "coach.begun_and_left": "now.begun_and_left",
    "coach.too_short_to_sign_off": "now.too_short_to_sign",
}
"""What the coach said besides that is worth a second sentence, whatever comes next."""


def advised_route(request: TakeRequest, decision: Decision, then: PlannedNext | None) -> Route:
    """Where Enter leads after a take of `request`: on as the coach says, or as the plan does in a step of it."""
    if request.planned:
        return ToPlanned(request, decision, then)
    if request.stage.named:
        return ToPage(request, chosen=True)
    if decision.offer is Offer.AGAIN:
        return ToPage(request.as_decided(decision), chosen=True)
    if decision.offer is Offer.SIBLING and not request.stage.once_through:
        return ToSibling(request)
    return other_bars_route(request, decision, then)


def other_bars_route(request: TakeRequest, decision: Decision, then: PlannedNext | None) -> Route:
    """On to other music: the next bars, another line, or the shelf."""
    if request.planned:
        return ToPlanned(request, decision, then)
    if request.fresh and request.is_last:
        return ToFreshLine()
    return ToShelf() if request.is_last else ToPage(request.moved(1))


def now_in_words(request: TakeRequest, decision: Decision, then: PlannedNext | None) -> tuple[Message, ...]:
    """The one advice after a take of `request`, which is what Enter does, and a second sentence where there is reason
    for one.
    """
    kind, values = _next(request, decision, then)
    also = [message(_ALSO[said.key], **dict(said.values)) for said in decision.reason if said.key in _ALSO]
    return (message(_NOW[kind], **values), *also[:1])


def corner_in_words(request: TakeRequest, decision: Decision, then: PlannedNext | None) -> Message:
    """The same in the few words that the corner has room for."""
    kind, values = _next(request, decision, then)
    return message(_CORNER[kind], **values)


def _next(request: TakeRequest, decision: Decision, then: PlannedNext | None) -> tuple[str, dict[str, object]]:
    """What comes, by the way that leads there."""
    match advised_route(request, decision, then):
        case ToPage(following):
            return _on_page(request, following)
        case ToSibling():
            return "sibling", {}
        case ToFreshLine():
            return "line", {}
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
    if following.passage != request.passage:
        return "bars", {"bars": bars_in_words(following.passage)}
    stage, bpm = following.stage, following.tempo_bpm
    at: dict[str, object] = {} if bpm is None else {"bpm": bpm}
    if stage is Stage.TIME and bpm is not None:
        return _at_tempo(request, following, bpm), at
    if stage is Stage.RHYTHM:
        return ("rhythm" if bpm is None else "rhythm_at"), at
    return {Stage.TIME: "own_pace", Stage.PLACES: "places", Stage.LETTERS: "letters"}.get(stage, "sight"), {}


def _at_tempo(request: TakeRequest, following: TakeRequest, bpm: int) -> str:
    """How the next tempo lies to the last one, where both are on the ladder."""
    if following.settling:
        return "settling"
    climbing = request.stage is Stage.TIME and request.pulse is Pulse.METRONOME
    if not climbing or request.tempo_bpm is None:
        return "metronome"
    return "rung_up" if bpm > request.tempo_bpm else "same_rung" if bpm == request.tempo_bpm else "down"

"""The coach's ladder of a passage as it is drawn in the margin of page and result."""

from game.coach.decisions import Decision
from game.coach.tempo_ladder import LadderRung, RungStanding, ladder_of
from game.desk.kit.ladder import Rung, RungState
from game.music.passage import Passage
from game.neck.neck_map import NeckMap
from game.player.player_coach import PlayerCoach

_STATES = {
    RungStanding.KEPT: RungState.KEPT,
    RungStanding.NOW: RungState.NOW,
    RungStanding.AHEAD: RungState.AHEAD,
}


def ladder_rungs(coach: PlayerCoach, decision: Decision, passage: Passage, neck_map: NeckMap) -> tuple[LadderRung, ...]:
    """The rungs of a passage after what was decided; none where no note of it has a home. Takes some milliseconds."""
    notes = sum(neck_map.home_of(note.sounding) is not None for note in passage.notes)
    return ladder_of(coach.state, decision, notes=notes) if notes else ()


def drawn_rung(rung: LadderRung) -> Rung:
    """A rung as the kit draws it."""
    return Rung(
        tempo=rung.tempo_bpm,
        state=_STATES[rung.standing],
        takes=tuple(take.clean and not take.own_word for take in rung.takes),
        target=rung.target,
        folded=rung.folded,
        wish=rung.wish,
    )

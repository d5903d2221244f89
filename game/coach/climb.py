"""What a passage's ladder is made of: the takes at each tempo, and the tempi that were kept."""

from dataclasses import dataclass

from game.coach.events import TakeResult

TAKES_SHOWN = 3
"""So many takes of a tempo are looked back at."""
_MOST_TAKES = 30


@dataclass(frozen=True, slots=True, kw_only=True)
class ClimbTake:
    """A take in time with the metronome. `clean` where right notes, time and keeping going were as a clean take asks;
    `settling` for the easy last one of a day, `own_word` where its player marked it.
    """

    bpm: int
    clean: bool
    day: int = 0
    settling: bool = False
    own_word: bool = False


def climb_take(result: TakeResult, bpm: int, *, clean: bool) -> ClimbTake:
    """A take as the ladder sees it."""
    return ClimbTake(
        bpm=bpm,
        clean=clean,
        day=result.day,
        settling=result.settling,
        own_word=result.self_marked,
    )


def climb_after(climb: tuple[ClimbTake, ...], take: ClimbTake) -> tuple[ClimbTake, ...]:
    """The takes, oldest first, with one more: the last few of each tempo, and of all not more than are looked at."""
    climb = (*climb, take)
    same = [at for at, other in enumerate(climb) if other.bpm == take.bpm]
    if len(same) > TAKES_SHOWN:
        climb = (*climb[: same[0]], *climb[same[0] + 1 :])
    return climb[-_MOST_TAKES:]


def fastest_kept_on(climb: tuple[ClimbTake, ...], day: int) -> int | None:
    """The fastest tempo kept on a day, of those looked back at; None where none was."""
    return max((take.bpm for take in climb if take.clean and not take.own_word and take.day == day), default=None)


def steadiness(climb: tuple[ClimbTake, ...]) -> float:
    """How steady the last takes were: 0 where the last was not clean, 1 after three clean ones. Takes that their player
    marked do not count.
    """
    heard = [take.clean for take in climb if not take.own_word][-TAKES_SHOWN:]
    in_a_row = next((back for back, clean in enumerate(reversed(heard)) if not clean), len(heard))
    return in_a_row / TAKES_SHOWN


def kept_after(kept_bpms: tuple[int, ...], take: ClimbTake) -> tuple[int, ...]:
    """The tempi that were kept, rising, and never one less. By a player's own word nothing is."""
    if not take.clean or take.own_word or take.bpm in kept_bpms:
        return kept_bpms
    return tuple(sorted((*kept_bpms, take.bpm)))

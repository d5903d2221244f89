"""How each level is written: how much comes back and in which way, how often strong notes are chord tones, how dense it
is. The figures are ours, set by `tests.bench.lines` beside real music, and by reading the lines.
"""

from dataclasses import dataclass


@dataclass(frozen=True, slots=True, kw_only=True)
class SongManner:
    """`lead` is the share of lines with the ways of lead sheets, the others are like folk songs. Of units that come
    back, `same` come note for note, `answer` with another end, `sequence` from another note of the scale; the others
    keep their rhythm alone. `bar_again` is how often a bar takes up the rhythm of the one before, `moved` how often it
    then takes up its steps. `repeats` is how much likelier a note is struck again than by the weights, `thirds` a
    third, `returns` a plan in which units come back; `in_chord` is the power that the degrees of the chord count by.
    """

    lead: float
    same: float
    answer: float
    sequence: float
    bar_again: float
    moved: float = 0.5
    repeats: float = 1.0
    thirds: float = 1.0
    in_chord: float = 1.0
    dense: float = 0.0
    returns: float = 1.0


@dataclass(frozen=True, slots=True, kw_only=True)
class SoloManner:
    """`strong` and `weak` are how much likelier chord tones are than by the weights, on strong beats and on the others;
    `outside` how much likelier notes outside the scale of their chord, `thirds` and `leaps` those intervals. `taken_up`
    is the share of phrases that take up a figure, `habit` how much likelier a rhythm is once it was there, `off` half
    a bar that begins off the beat.
    """

    strong: float
    weak: float
    outside: float
    taken_up: float
    thirds: float = 1.0
    leaps: float = 1.0
    dense: float = 0.0
    habit: float = 0.0
    off: float = 1.0


SONG_MANNERS = {
    1: SongManner(
        lead=0.25,
        same=0.97,
        answer=0.03,
        sequence=0.0,
        bar_again=0.48,
        moved=1.0,
        repeats=0.44,
        thirds=0.66,
        in_chord=0.4,
        returns=8.0,
    ),
    2: SongManner(
        lead=0.25,
        returns=1.7,
        same=0.72,
        moved=0.7,
        answer=0.2,
        sequence=0.1,
        bar_again=0.28,
        repeats=0.35,
        thirds=0.9,
        in_chord=0.3,
        dense=0.1,
    ),
    3: SongManner(
        lead=0.25,
        returns=1.6,
        same=0.7,
        moved=0.6,
        answer=0.2,
        sequence=0.1,
        bar_again=0.28,
        repeats=0.35,
        thirds=0.9,
        in_chord=0.22,
        dense=0.1,
    ),
    4: SongManner(
        lead=0.4,
        returns=1.3,
        same=0.6,
        answer=0.2,
        sequence=0.15,
        bar_again=0.27,
        repeats=0.42,
        in_chord=0.22,
        dense=0.18,
    ),
    5: SongManner(
        lead=0.6, same=0.55, answer=0.25, sequence=0.1, bar_again=0.24, repeats=0.42, in_chord=0.27, dense=0.08
    ),
}
SOLO_MANNERS = {
    6: SoloManner(strong=6.0, weak=1.1, outside=0.85, taken_up=0.85, thirds=0.9, leaps=1.0, dense=0.2, habit=0.3),
    7: SoloManner(strong=2.7, weak=1.15, outside=1.42, taken_up=0.85, thirds=1.1, leaps=1.1, dense=0.27, habit=0.1),
    8: SoloManner(strong=1.7, weak=1.1, outside=2.2, taken_up=0.7, thirds=1.15, leaps=1.2, dense=0.26, off=1.5),
}

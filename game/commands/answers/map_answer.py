"""The answer of `homefret map`."""

from typing import Annotated

from msgspec import UNSET, Meta, UnsetType

from game.commands.answers.kinds import Answer, Fret, Frets, Ordinal, Share, Sounding, String, Words, Written
from game.music.score import Reading

OnMap = Annotated[Share, Meta(description="of the notes of the tunes, those with a home")]
Unreached = Annotated[list[int], Meta(description="sounding pitches of the tunes without a home")]
Stretched = Annotated[Share, Meta(description="of the notes of the tunes, those whose home is a stretch")]


class MapHome(Answer, frozen=True, kw_only=True):
    """The place of a sounding pitch, with its name on the page."""

    sounding: Sounding
    written: Written
    string: String
    fret: Fret
    stretch: bool
    outlying: bool


class MapHand(Answer, frozen=True, kw_only=True):
    """The hand: frets under its fingers, how far it stretches beyond them, and whether open strings are homes in every
    position.
    """

    span: Ordinal
    stretch: Annotated[str, Meta(description="both, back, on or none: by which finger it reaches a fret further")]
    open_strings: bool


class MapSecond(Answer, frozen=True, kw_only=True):
    """The second region: its position, the lowest written note of the higher of both, and why the hand shifts there."""

    position: Ordinal
    seam: Written
    reasons: list[Words]


class UnreadFile(Answer, frozen=True, kw_only=True):
    """A file that was not read, and why."""

    file: str
    why: Words


class PositionServed(Answer, frozen=True, kw_only=True):
    """How a position serves the tunes."""

    position: int
    on_map_share: OnMap
    stretch_share: Stretched


class MapServing(Answer, frozen=True, kw_only=True):
    """The best map of a position for the tunes, what moving on it costs, and what it gives up."""

    position: Ordinal
    homes: list[MapHome]
    on_map_share: OnMap
    stretch_share: Stretched
    outlying_share: Annotated[Share, Meta(description="of the notes of the tunes, those whose home is outlying")]
    movement: Annotated[float, Meta(ge=0, description="mean cost a note by the table of costs")]
    gives_up: list[Words]


class MapAnswer(Answer, frozen=True, kw_only=True):
    """The map. With `--for`, how it serves the tunes and which positions would, the best first."""

    tuning: str
    read: Reading
    position: Ordinal
    frets: Frets
    homes: list[MapHome]
    hand: MapHand | UnsetType = UNSET
    second: MapSecond | UnsetType = UNSET
    capo: Annotated[int, Meta(ge=1, description="the fret of the capo, from which frets count")] | UnsetType = UNSET
    on_map_share: OnMap | UnsetType = UNSET
    stretch_share: Stretched | UnsetType = UNSET
    unreached: Unreached | UnsetType = UNSET
    best_positions: list[PositionServed] | UnsetType = UNSET
    best: MapServing | UnsetType = UNSET
    positions: list[MapServing] | UnsetType = UNSET
    unread: list[UnreadFile] | UnsetType = UNSET
    chart: str | UnsetType = UNSET
    map_file: Annotated[str, Meta(description="the map file that was written")] | UnsetType = UNSET

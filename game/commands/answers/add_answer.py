"""The answer of `homefret add`."""

from typing import Annotated

from msgspec import UNSET, Meta, UnsetType

from game.commands.answers.kinds import Answer, Meter, Ordinal, Words


class AddedTune(Answer, frozen=True, kw_only=True):
    """A tune that is on the shelf now, and how it can be read on this map."""

    name: Annotated[str, Meta(pattern="^[0-9a-f]{24}$", description="its name in the library")]
    file: str
    title: Words
    composer: str
    part: str
    key: Annotated[str, Meta(description="as in Bb or Dm")]
    meter: Meter
    bars: Ordinal
    notes: Annotated[int, Meta(ge=1, description="noteheads of the page, graces apart")]
    lowest: Annotated[int, Meta(description="sounding MIDI number")]
    highest: Annotated[int, Meta(description="sounding MIDI number")]
    difficulty: Annotated[float, Meta(ge=0, description="on this map; ours")]
    off_map: Annotated[int, Meta(ge=0, description="noteheads without a home on this map")]
    order: (
        Annotated[str, Meta(description="bars in order of play, by their numbers as printed: 1-8, 1-6, 9-10")]
        | UnsetType
    ) = UNSET
    assumed: (
        Annotated[list[str], Meta(description="what was assumed of the order of play, a sentence each")] | UnsetType
    ) = UNSET
    note: Annotated[str, Meta(description="what was chosen in the file, one sentence, may be empty")]


class RefusedFile(Answer, frozen=True, kw_only=True):
    """A file that is not on the shelf, and why."""

    file: str
    why: Words


class AddAnswer(Answer, frozen=True, kw_only=True):
    """What was added, what to read next first, and what was not."""

    added: Annotated[list[AddedTune], Meta(min_length=1)]
    refused: list[RefusedFile]

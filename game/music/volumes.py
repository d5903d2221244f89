"""How loud each part of the sound is: settings of the player's, needed before anything of sound is loaded."""

from dataclasses import dataclass


@dataclass(frozen=True, slots=True, kw_only=True)
class Volumes:
    """Each 0 to 1."""

    click: float
    guitar: float
    accompaniment: float


SILENT = Volumes(click=0.0, guitar=0.0, accompaniment=0.0)

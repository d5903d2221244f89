"""How loud each part of the sound is: settings of the player's, needed before anything of sound is loaded."""

from dataclasses import dataclass

from game.music.clicking import ClickSound


@dataclass(frozen=True, slots=True, kw_only=True)
class Volumes:
    """Each 0 to 1; and what the click sounds like."""

    click: float
    guitar: float
    accompaniment: float
    click_sound: ClickSound = ClickSound.WOODEN


SILENT = Volumes(click=0.0, guitar=0.0, accompaniment=0.0)

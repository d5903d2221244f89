"""How each part of the sound is to be: settings of the player's, needed before anything of sound is loaded."""

from dataclasses import dataclass

from game.music.clicking import ClickSound


@dataclass(frozen=True, slots=True, kw_only=True)
class Volumes:
    """Each 0 to 1; what the click sounds like; and by how many semitones strings, bass and chords are `raised`, as
    behind a capo.
    """

    click: float
    guitar: float
    accompaniment: float
    click_sound: ClickSound = ClickSound.WOODEN
    raised: int = 0


SILENT = Volumes(click=0.0, guitar=0.0, accompaniment=0.0)

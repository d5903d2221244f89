"""What can be heard on a result: the take as it was played, and the line as it is written, with bass and chords."""

import pygame

from game.practice.finished_take import Finished, FinishedTake
from game.screens.context import ScreenContext
from game.screens.key_hints import KeyHint, NamedKey, key_hints
from game.screens.reading.bass_and_chords_for import hear_passage
from game.screens.reading.bass_and_chords_key import (
    BASS_AND_CHORDS_KEY,
    bass_and_chords_hint,
    has_chords,
    toggle_bass_and_chords,
)
from game.screens.reading.playback_lines import played_back, tempo_played

START_OR_STOP: NamedKey = ("keys.space", "keys.start_or_stop")
"""The key that ends what sounds, and lets it sound again."""


class ResultSounds:
    """The sounds of one take, and the keys that are for them."""

    def __init__(self, context: ScreenContext, finished: Finished) -> None:
        self._context, self._finished = context, finished
        self._has_chords = has_chords(finished.passage)

    @property
    def _was_heard(self) -> bool:
        """Whether there is anything of the take to be heard."""
        return isinstance(self._finished, FinishedTake) and bool(self._finished.played)

    @property
    def hints(self) -> tuple[KeyHint, ...]:
        """The keys of the two, and that of bass and chords where the music has any."""
        played: tuple[NamedKey, ...] = (("P", "keys.hear"),) if self._was_heard else ()
        band = bass_and_chords_hint(self._context) if self._has_chords else ()
        return (*key_hints(*played, ("W", "keys.hear_line")), *band)

    def on_key(self, key: int) -> None:
        """Take a key; others do nothing."""
        if key == pygame.K_p:
            self._play_back()
        elif key == pygame.K_w:
            self._hear_written()
        elif key == BASS_AND_CHORDS_KEY and self._has_chords:
            toggle_bass_and_chords(self._context)
        elif key == pygame.K_SPACE:
            self._start_or_stop()

    def _start_or_stop(self) -> None:
        """What sounds stops; where nothing does, the take is heard, or the line where nobody heard a take."""
        sound = self._context.devices.sound
        if sound.strings.playing:
            sound.stop()
        elif self._was_heard:
            self._play_back()
        else:
            self._hear_written()

    def _play_back(self) -> None:
        """The take just made."""
        if isinstance(self._finished, FinishedTake) and self._finished.played:
            self._context.devices.sound.play((played_back(self._finished),), self._context.clock)
            self._context.say_sound()

    def _hear_written(self) -> None:
        """The line as it is written, at the tempo of the take."""
        hear_passage(self._context, self._finished.passage, tempo_bpm=tempo_played(self._finished))
        self._context.say_sound()

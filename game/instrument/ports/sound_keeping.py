"""A file that a player asked for, into which the sound of an input is written as it comes. In the listening process
alone.
"""

import importlib
from contextlib import suppress
from pathlib import Path
from typing import Any

import numpy as np
from numpy.typing import NDArray

from game.errors import reason_of
from game.instrument.ports.driver import PortError

LONGEST_S = 3600.0
"""A recording forgotten for a day does not fill the disk."""


class SoundFileKept:
    """A new file of one channel with 24 bits, WAV or FLAC by its ending. `library` is what tests hand in for soundfile.
    Raises `PortError` for a file that is there already, or cannot be written.
    """

    def __init__(self, path: Path, rate: int, library: Any = None) -> None:
        self._left = round(LONGEST_S * rate)
        self._path = path
        try:
            library = library or importlib.import_module("soundfile")
        except (ImportError, OSError) as error:
            raise PortError("sound_input.no_soundfile") from error
        try:
            # Made anew: what stands there already is never written over.
            self._bytes = path.open("x+b")
        except FileExistsError as error:
            raise PortError("sound_input.file_there", path=path) from error
        except OSError as error:
            raise self._refusal(error) from error
        try:
            self._file = library.SoundFile(
                self._bytes, mode="w", samplerate=rate, channels=1, subtype="PCM_24", format=path.suffix[1:].upper()
            )
        except Exception as error:
            self._bytes.close()
            raise self._refusal(error) from error

    def write(self, samples: NDArray[np.float32]) -> None:
        """Some more. Raises `PortError` where the disk refuses, or an hour is full: then the file is closed and
        whole.
        """
        room = samples[: self._left]
        self._left -= len(room)
        try:
            self._file.write(room)
            if self._left == 0:
                self._end()
        except Exception as error:
            with suppress(Exception):
                self._end()
            raise self._refusal(error) from error
        if self._left == 0:
            raise PortError("sound_input.file_full", path=self._path, minutes=round(LONGEST_S / 60))

    def close(self) -> None:
        """What came is all. Raises `PortError` where the disk refuses the rest."""
        try:
            self._end()
        except Exception as error:
            raise self._refusal(error) from error

    def _end(self) -> None:
        try:
            self._file.close()
        finally:
            self._bytes.close()

    def _refusal(self, error: Exception) -> PortError:
        return PortError("sound_input.file_refused", path=self._path, reason=reason_of(error))

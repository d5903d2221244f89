"""A file dropped on the window as the system reports it: an event of SDL, with the name in bytes.

Source: `SDL_events.h` of SDL 2, `SDL_DropEvent`.
"""

import ctypes
from functools import cache
from pathlib import Path

import pygame

_DROP_FILE = 0x1000


class _DropEvent(ctypes.Structure):
    _fields_ = (
        ("type", ctypes.c_uint32),
        ("timestamp", ctypes.c_uint32),
        ("file", ctypes.c_void_p),
        ("window", ctypes.c_uint32),
        # As large as the largest event is.
        ("rest", ctypes.c_uint8 * 64),
    )


@cache
def _sdl() -> ctypes.CDLL:
    """The library that pygame has loaded: its own, or the system's."""
    beside = sorted((Path(pygame.__file__).parents[1] / "pygame.libs").glob("libSDL2-2*"))
    sdl = ctypes.CDLL(str(beside[0]) if beside else "libSDL2-2.0.so.0")
    sdl.SDL_strdup.restype, sdl.SDL_strdup.argtypes = ctypes.c_void_p, [ctypes.c_char_p]
    return sdl


def drop(path: bytes) -> None:
    """Drop a file or folder. It may be called from any thread, as SDL says of its queue."""
    # Whoever takes the event out of the queue frees the name.
    event = _DropEvent(type=_DROP_FILE, file=_sdl().SDL_strdup(path))
    assert _sdl().SDL_PushEvent(ctypes.byref(event)) == 1

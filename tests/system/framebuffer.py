"""What a virtual screen shows, read from the file in which Xvfb keeps it (`-fbdir`): a picture costs no process.

Source: the X window dump format, X11/XWDFile.h, version 7: a header of big-endian words, the colours, the dots.
"""

import struct
from pathlib import Path

import pygame

_WORDS = 25
_HEADER_BYTES, _VERSION, _WIDTH, _HEIGHT, _BITS_A_DOT, _BYTES_A_LINE, _COLOURS = 0, 1, 4, 5, 11, 12, 19
_COLOUR_BYTES = 12
# Red, green and blue in a dot; the fourth byte says nothing.
_MASKS = (0xFF0000, 0xFF00, 0xFF, 0)


def picture_of(path: Path) -> pygame.Surface:
    """The picture in a dump of 32 bits a dot, as Xvfb writes it for a screen of depth 24."""
    content = path.read_bytes()
    header = struct.unpack(f">{_WORDS}I", content[: 4 * _WORDS])
    size = header[_WIDTH], header[_HEIGHT]
    kind = header[_VERSION], header[_BITS_A_DOT], header[_BYTES_A_LINE]
    assert kind == (7, 32, 4 * size[0]), f"{path} is another kind of picture: {header}"
    begin = header[_HEADER_BYTES] + _COLOUR_BYTES * header[_COLOURS]
    picture = pygame.Surface(size, depth=32, masks=_MASKS)
    picture.get_buffer().write(content[begin : begin + 4 * size[0] * size[1]])
    return picture

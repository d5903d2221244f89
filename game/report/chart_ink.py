"""What charts are drawn with: the colours of ink and pencil on white paper, and the faces that are shipped."""

from functools import lru_cache
from typing import Final

from matplotlib.font_manager import FontProperties
from matplotlib.textpath import TextPath

from game.paths import shipped

INK, PENCIL, PAPER = "#201d1a", "#8b8378", "#ffffff"
SHADE: Final = "#efece6"
"""A ground that print stays readable on, in grey too."""

POINTS_PER_MM: Final = 72 / 25.4
TEXT, STRONG, SLANTED, FIGURES = (
    "HomefretText-Regular",
    "HomefretText-SemiBold",
    "HomefretText-Italic",
    "HomefretFigures",
)


def font(name: str, size: float) -> FontProperties:
    """A shipped face, `size` in points."""
    return FontProperties(fname=str(shipped("content", "fonts", f"{name}.ttf")), size=size)


@lru_cache(maxsize=512)
def text_width_mm(text: str, name: str, size: float) -> float:
    """How wide a text is, `size` in points."""
    if not text.strip():
        return 0.0
    box = TextPath((0, 0), text, prop=font(name, size)).get_extents()
    return float(box.width) / POINTS_PER_MM

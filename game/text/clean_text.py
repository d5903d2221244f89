"""Text out of files (titles, names, words) is hostile until it has been through here, once."""

import re
import unicodedata
from pathlib import PurePath

LONGEST = 200
"""Characters: longer titles and names are cut (ours; no page has room for more)."""

_SPACE = re.compile(r"\s+")
# Cc controls, Cf invisible and direction-turning signs, Cs lone surrogates, Co private use, Cn unassigned.
_UNWANTED = frozenset({"Cc", "Cf", "Cs", "Co", "Cn"})
_LOOKED_AT = 40
"""Characters for each that is wanted: what stands behind a longer run of signs that nobody sees is not looked for."""

# Controls, signs that turn the direction or are not seen, surrogates.
_HARMFUL = re.compile("[\x00-\x1f\x7f-\x9f\u200b-\u200f\u2028-\u202e\u2060-\u206f\ufeff\ud800-\udfff]")
# Python's own stand-ins for bytes that are no UTF-8 (PEP 383).
_NO_UTF8 = {0xDC00 + byte: chr(byte) for byte in range(0x80, 0x100)}


def cleaned(text: str | None, longest: int = LONGEST) -> str:
    """`text` on one line, without control or invisible characters, at most `longest` characters. Bytes of a name that
    are no UTF-8, as old archives have them, are read as Latin-1, which most of them are (trade).

    Markup such as `<b>` stays as it stands: whoever writes HTML, XML or CSV escapes it there.
    """
    spaced = _SPACE.sub(" ", (text or "")[: _LOOKED_AT * longest]).translate(_NO_UTF8)
    printable = "".join(char for char in spaced if unicodedata.category(char) not in _UNWANTED).strip()
    return printable if len(printable) <= longest else printable[: longest - 1].rstrip() + "…"


def cleaned_name(path: PurePath | str, longest: int = LONGEST) -> str:
    """The name of a file or folder to show; the signs of a name that a system takes apart are put together."""
    return cleaned(unicodedata.normalize("NFC", PurePath(path).name or str(path)), longest)


def has_ending(path: PurePath, ending: str) -> bool:
    """Whether a file has an ending, in small letters; Notepad writes its own behind it, `week.toml.txt`, where systems
    that hide endings show `week.toml`.
    """
    return path.name.casefold().endswith((ending, f"{ending}.txt"))


def harmless(text: str) -> str:
    """What is put into a sentence: as it is, but on one line and without what turns, hides or steers the rest of it."""
    return cleaned(text, len(text)) if _HARMFUL.search(text) else text

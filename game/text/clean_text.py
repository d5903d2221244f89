"""Text out of files (titles, names, words) is hostile until it has been through here, once."""

import os
import re
import unicodedata
from contextlib import suppress
from pathlib import PurePath

LONGEST = 200
"""Characters: longer titles and names are cut (ours; no page has room for more)."""

_SPACE = re.compile(r"\s+")
# Cc controls, Cf invisible and direction-turning signs, Cs lone surrogates, Co private use, Cn unassigned.
_UNWANTED = frozenset({"Cc", "Cf", "Cs", "Co", "Cn"})
_LOOKED_AT = 40
"""Characters for each that is wanted: what stands behind a longer run of signs that nobody sees is not looked for."""


def cleaned(text: str | None, longest: int = LONGEST) -> str:
    """`text` on one line, without control or invisible characters, at most `longest` characters.

    Markup such as `<b>` stays as it stands: whoever writes HTML, XML or CSV escapes it there.
    """
    spaced = _SPACE.sub(" ", (text or "")[: _LOOKED_AT * longest])
    printable = "".join(char for char in spaced if unicodedata.category(char) not in _UNWANTED).strip()
    return printable if len(printable) <= longest else printable[: longest - 1].rstrip() + "…"


def cleaned_name(path: PurePath | str, longest: int = LONGEST) -> str:
    """The name of a file or folder to show. Names that are not UTF-8, as old archives have them, are read as Latin-1,
    which most of them are (trade); the signs of a name that a system takes apart are put together.
    """
    name = PurePath(path).name or str(path)
    if not _is_utf8(name):
        with suppress(UnicodeEncodeError):
            name = os.fsencode(name).decode("latin-1")
    return cleaned(unicodedata.normalize("NFC", name), longest)


def _is_utf8(name: str) -> bool:
    try:
        name.encode()
    except UnicodeEncodeError:
        return False
    return True

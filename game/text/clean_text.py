"""Text out of files (titles, names, words) is hostile until it has been through here, once."""

import re
import unicodedata

LONGEST = 200
"""Characters: longer titles and names are cut (ours; no page has room for more)."""

_SPACE = re.compile(r"\s+")
# Cc controls, Cf invisible and direction-turning signs, Cs lone surrogates, Co private use, Cn unassigned.
_UNWANTED = frozenset({"Cc", "Cf", "Cs", "Co", "Cn"})


def cleaned(text: str | None, longest: int = LONGEST) -> str:
    """`text` on one line, without control or invisible characters, at most `longest` characters.

    Markup such as `<b>` stays as it stands: whoever writes HTML, XML or CSV escapes it there.
    """
    spaced = _SPACE.sub(" ", text or "")
    printable = "".join(char for char in spaced if unicodedata.category(char) not in _UNWANTED).strip()
    return printable if len(printable) <= longest else printable[: longest - 1].rstrip() + "…"

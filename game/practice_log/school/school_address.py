"""The address of a school's database, `postgresql://…`, as people write it, and as it may be shown.

Nothing here needs PostgreSQL's library: whoever has no school need not have it.
"""

import re

_SCHEMES = ("postgresql://", "postgres://")
_SECRET = re.compile(r"(password=)[^&]*", re.IGNORECASE)


def is_school(text: str) -> bool:
    """Whether a source is a school's database: else it is a file or a folder."""
    return text.lower().startswith(_SCHEMES)


def without_password(address: str) -> str:
    """The address as it may be shown. Rather too much is left out than a piece of a password with `@` or `/` in it."""
    scheme, _, rest = address.partition("://")
    who, at, where = rest.rpartition("@")
    shown = f"{who.partition(':')[0]}{at}{where}"
    return f"{scheme}://{_SECRET.sub('', shown).rstrip('?&')}"


def has_password(address: str) -> bool:
    """Whether a password stands in an address, where whoever lists the programs of the computer reads it."""
    _, _, rest = address.partition("://")
    who, _, _ = rest.rpartition("@")
    return ":" in who or _SECRET.search(rest) is not None

"""How the page of a student of a class is called: a name that never changes its owner."""

from hashlib import sha256
from uuid import UUID

_DIGITS = 12
"""48 bits: two of a thousand students get the same name once in half a thousand million classes."""


def page_name(student: UUID) -> str:
    """The name of the file, by nothing but the student's id: neither their name nor who else is in the class."""
    return f"student-{sha256(student.bytes).hexdigest()[:_DIGITS]}.html"

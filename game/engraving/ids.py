"""Names of noteheads and rests inside notation, and back again."""

import re

from game.music.written import HeadId

_HEAD = re.compile(r"n(\d+)-(\d+)")


def note_id(head: HeadId) -> str:
    """The XML id of a notehead: `n3-0` is the first event of the fourth bar."""
    return f"n{head.bar}-{head.event}"


def rest_id(place: HeadId) -> str:
    """The XML id of a rest, which stands at `place` among the events of its bar."""
    return f"r{place.bar}-{place.event}"


def head_of(xml_id: str) -> HeadId | None:
    """The notehead called `xml_id`: the opposite of `note_id`. None for anything else."""
    found = _HEAD.fullmatch(xml_id)
    return HeadId(int(found[1]), int(found[2])) if found else None

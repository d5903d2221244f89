"""A file that holds several tunes, as distinct from the parts of one."""

from game.errors import SeveralPartsError


class SeveralTunesError(SeveralPartsError):
    """A file holds several tunes and none was chosen: each is a tune of its own, and all may be wanted."""

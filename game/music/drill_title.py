"""What a row of single notes is called in scores, logs and files: by it a drill is told from music."""

_BEGINS = "Single notes, in "


def drill_title(key: str) -> str:
    """The title of a row of single notes in the key of that name ("Bb")."""
    return f"{_BEGINS}{key}"


def is_drill_title(title: str) -> bool:
    """Whether a title is that of a row of single notes: no tune, but notes one by one."""
    return title.startswith(_BEGINS)

"""A tune that was entered goes onto the shelf: its file is read as any that is dropped on the window."""

from pathlib import Path

from game.screens.context import ScreenContext
from game.screens.writing.written_tune import write_tune
from game.text.catalogue import say
from game.tunes.entering.draft import Draft
from game.tunes.entering.draft_file import FOLDER, write_draft
from game.tunes.library.library import withdraw
from game.tunes.library.shelf_entry import tune_name


def keep_tune(context: ScreenContext, draft_path: Path, draft: Draft) -> Draft:
    """Write the tune and have it read onto the shelf, in the place of what was kept of it before; the draft stays, to
    be put right later. Returns it as it is now.

    Raises `TuneError` when the disk is full.
    """
    folder = context.session.folder
    before = _written_before(folder, draft)
    path, kept = write_tune(folder, draft)
    write_draft(draft_path, kept)
    if before is not None and before != path.read_bytes():
        withdraw(tune_name(before, None, None))
    context.window.imports.drop(path)
    context.say(say("writing.kept", title=kept.title, file=path.name))
    return kept


def _written_before(folder: Path, draft: Draft) -> bytes | None:
    """What the file holds that was written of this draft, None where there is none."""
    try:
        return (folder / FOLDER / draft.kept_as).read_bytes() if draft.kept_as else None
    except OSError:
        return None

"""A tune goes onto the shelf as a file that is dropped does, in the place of what was kept of it before."""

from dataclasses import replace

from game.screens.writing.keeping import keep_tune
from game.tunes.entering.draft_file import FOLDER, new_draft_path, read_draft
from game.tunes.library.library import shelf
from tests.tunes.entering.made_taps import BEATS, tapped_run, taps, with_pitches


def own():
    return [entry for entry in shelf() if not entry.shipped]


def test_what_is_kept_again_takes_the_place_of_what_was_kept(table):
    path = new_draft_path(table.context.session.folder)
    draft = replace(tapped_run(with_pitches(8), taps(BEATS)).draft, title="The Ford")
    kept = keep_tune(table.context, path, draft)
    table.wait_for_imports()
    assert read_draft(path).kept_as == kept.kept_as == "The Ford.musicxml"
    (first,) = own()
    keep_tune(table.context, path, replace(kept, title="The Ford at Noon"))
    table.wait_for_imports()
    (second,) = own()
    assert (first.title, second.title) == ("The Ford", "The Ford at Noon")


def test_what_is_kept_unchanged_stays_where_it_stands(table):
    path = new_draft_path(table.context.session.folder)
    kept = keep_tune(table.context, path, replace(tapped_run(with_pitches(8), taps(BEATS)).draft, title="The Ford"))
    table.wait_for_imports()
    before = own()
    keep_tune(table.context, path, kept)
    table.wait_for_imports()
    assert own() == before


def test_a_file_the_player_took_away_is_written_again(table):
    path = new_draft_path(table.context.session.folder)
    kept = keep_tune(table.context, path, replace(with_pitches(3).draft, title="The Ford"))
    table.wait_for_imports()
    (table.context.session.folder / FOLDER / kept.kept_as).unlink()
    keep_tune(table.context, path, kept)
    assert (table.context.session.folder / FOLDER / kept.kept_as).exists()
    table.wait_for_imports()

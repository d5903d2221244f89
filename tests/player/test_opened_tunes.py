"""Which tunes a player has opened."""

from game.player.opened_tunes import add_opened_tune, read_opened_tunes


def test_a_tune_that_was_opened_is_remembered_once(tmp_path):
    for name in ("ode-to-joy", "0123abcd", "ode-to-joy"):
        add_opened_tune(name, tmp_path)
    assert read_opened_tunes(tmp_path) == {"ode-to-joy", "0123abcd"}
    assert (tmp_path / "seen.txt").read_text().splitlines() == ["ode-to-joy", "0123abcd"]


def test_each_player_has_opened_their_own(tmp_path):
    add_opened_tune("ode-to-joy", tmp_path / "one")
    assert read_opened_tunes(tmp_path / "other") == frozenset()


def test_what_is_no_name_of_a_tune_is_passed_over(tmp_path):
    (tmp_path / "seen.txt").write_text("ode-to-joy\n../../etc\nOde to Joy\n" + "a" * 90 + "\n")
    assert read_opened_tunes(tmp_path) == {"ode-to-joy"}


def test_from_the_shelf_a_tune_is_opened(table):
    before = read_opened_tunes(table.context.session.folder)
    table.key(13)
    assert read_opened_tunes(table.context.session.folder) == before | {table.context.session.last_opened.name}


def test_what_was_opened_is_seen_and_stays_so(tmp_path):
    """Once each; a damaged file loses what is damaged, a missing one everything."""
    assert read_opened_tunes(tmp_path) == frozenset()
    for name in ("01-au-clair", "abc123", "abc123"):
        add_opened_tune(name, tmp_path)
    assert read_opened_tunes(tmp_path) == {"01-au-clair", "abc123"}
    with (tmp_path / "seen.txt").open("ab") as file:
        file.write(b"\xff\x00../../etc\nlast-one\n")
    assert read_opened_tunes(tmp_path) == {"01-au-clair", "abc123", "last-one"}
    assert len((tmp_path / "seen.txt").read_bytes().splitlines()) == 4

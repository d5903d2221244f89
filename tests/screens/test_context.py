"""What every screen can reach."""

from dataclasses import replace

import msgspec

from game.player.settings import Look, Settings


def test_settings_that_cannot_be_kept_hold_until_the_end(table, tmp_path):
    session = table.context.session
    session.profile = replace(session.profile, settings_path=tmp_path / "dropped" / "x" / "settings.json")
    (tmp_path / "dropped").write_text("a file is in the way", encoding="utf-8")
    table.context.change_settings(msgspec.structs.replace(Settings(), look=Look.NIGHT))
    assert table.context.settings.look is Look.NIGHT
    assert "could not be kept" in table.context.window.message

"""A student is erased from a school's database by the same command, with the pages that were written of it."""

from game.commands.main import main
from game.paths import user_data
from game.player.written_pages import remember_page
from game.practice_log.school.school_address import without_password
from game.practice_log.transfer.erased import is_erased
from game.report.page_names import page_name
from tests.practice_log.classes.students import ADA, CEM
from tests.practice_log.school.schools import brought, names_in_school, staffed, two_classes


def test_nothing_of_them_is_left_in_the_school_or_in_its_pages(school_server, school, tmp_path, capsys):
    staffed(school_server, school)
    brought(school_server, school, two_classes(tmp_path / "classes"))
    address = school_server.address(school, "gina")
    index = tmp_path / "index.html"
    index.write_text(f'<meta name="generator" content="Homefret">{page_name(CEM.uuid)}')
    (tmp_path / page_name(CEM.uuid)).write_text("Cem")
    remember_page(without_password(address), without_password(address), index)
    assert main(["erase", "--player", "cem", "--from", address, "--yes"]) == 0
    said = capsys.readouterr().out
    assert "stay out of it" in said
    assert not index.exists()
    assert not (tmp_path / page_name(CEM.uuid)).exists()
    assert is_erased(user_data(), CEM.uuid)
    assert names_in_school(address, [ADA.uuid, CEM.uuid]) == ("Ada",)
    assert main(["erase", "--player", str(CEM.uuid), "--from", address, "--yes"]) == 2

"""Pictures for people who look before they install come from the real program."""

from pathlib import Path

import pygame

from game.demo import desk_pictures
from game.demo.desk_pictures import FOLDER, GUIDE, NAMES, main
from tests.sampling import how_many, only_where_all_is_run


@only_where_all_is_run("every picture")
def test_all_pictures_and_the_guide_are_made_anew(tmp_path, monkeypatch):
    monkeypatch.setattr(desk_pictures, "_DAYS", how_many(14, by_default=1))
    assert main(tmp_path / "made") == 0
    made = {path.name for path in (tmp_path / "made").iterdir()}
    assert made == {GUIDE, *(f"{name}.png" for name in NAMES)}
    sizes = {pygame.image.load(tmp_path / "made" / f"{name}.png").get_size() for name in NAMES}
    assert sizes == {(1280, 720)}


def test_the_readme_shows_them_all_and_they_are_there():
    checkout = Path(__file__).parents[2]
    readme = (checkout / "README.md").read_text(encoding="utf-8")
    for name in NAMES:
        path = (FOLDER / f"{name}.png").as_posix()
        assert path in readme
        assert (checkout / path).is_file()
    assert (FOLDER / GUIDE).as_posix() in readme

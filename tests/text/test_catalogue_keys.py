"""Keys are found in the source where a person would find them."""

import pytest

from game.text.catalogue_keys import KeysAskedFor, keys_asked_for
from game.text.catalogue_keys import _in_source as in_source
from game.text.catalogue_keys import _in_templates as in_templates

# The program is gone through once for both files that ask which keys it has.
pytestmark = pytest.mark.xdist_group("keys of the catalogue")


def asked(*said, families=(), texts=(), patterns=()):
    return KeysAskedFor(frozenset(said), frozenset(families), frozenset(texts), frozenset(patterns))


@pytest.mark.parametrize(
    ("source", "found"),
    [
        ('say("shelf.title")', {("said", "shelf.title"), ("text", "shelf.title")}),
        ('catalogue.say("faults", faults=x)', {("said", "faults"), ("text", "faults")}),
        ('raise TuneError("tune.empty", name=n)', {("said", "tune.empty"), ("text", "tune.empty")}),
        ('message("a.b" if x else "a.c")', {("said", "a.b"), ("said", "a.c"), ("text", "a.b"), ("text", "a.c")}),
        ('say(f"cause.{cause}")', {("family", r"cause\..+"), ("pattern", r"cause\..+"), ("text", "cause.")}),
        ('key = f"fact.{x}"', {("pattern", r"fact\..+"), ("text", "fact.")}),
        ('ValueError("no notes: none")', {("text", "no notes: none")}),
    ],
)
def test_a_call_that_says_something_names_its_key(tmp_path, source, found):
    (tmp_path / "module.py").write_text(source, encoding="utf-8")
    assert set(in_source(tmp_path)) == found


def test_a_template_says_keys_too(tmp_path):
    (tmp_path / "page.html").write_text('<p>{{ say("page.title") }}{{ other("x.y") }}</p>', encoding="utf-8")
    assert list(in_templates(tmp_path)) == [("said", "page.title")]


def test_a_key_or_a_family_that_the_catalogue_lacks_is_missing():
    found = asked("a.one", "a.two", "verbatim", families={r"b\..+", r"c\..+"})
    assert found.missing({"a.one", "b.one"}) == ["a.two", r"c\..+"]


def test_a_key_that_no_call_no_table_and_no_family_names_is_unused():
    found = asked("a.one", families={r"b\..+"}, texts={"c.one"}, patterns={r"d\..+"})
    assert found.unused({"a.one", "b.one", "c.one", "d.one", "e.one"}) == ["e.one"]


def test_the_program_itself_is_read():
    found = keys_asked_for()
    assert "export.damaged" in found.said
    assert r"cause\..+" in found.families

"""A newer book is refused, an older one is brought up to date after a copy was kept beside it."""

from __future__ import annotations

import sqlite3
from pathlib import Path

import pytest

from trialfit.book.changes import Change
from trialfit.book.journal import Book
from trialfit.book.opening import open_build
from trialfit.book.refusals import Unusable
from trialfit.book.salvage import verification
from trialfit.book.store import schema
from trialfit.book.store.schema import Newer


@pytest.fixture
def first_version(tmp_path: Path, small) -> Path:
    """A book as the first version wrote it: without the index by path."""
    file = tmp_path / "old one.book"
    Book.create(file, small, "laptop").close()
    db = sqlite3.connect(file, isolation_level=None)
    db.execute("drop index change_by_path")
    db.execute("pragma user_version = 1")
    db.execute("vacuum")
    db.close()
    return file


def indexes(file: Path) -> list[str]:
    db = sqlite3.connect(file)
    found = [name for (name,) in db.execute("select name from sqlite_schema where type = 'index' and sql is not null")]
    db.close()
    return found


def test_an_older_book_is_read_as_it_is(first_version, small):
    before = first_version.read_bytes()

    assert open_build(first_version).document == small
    assert first_version.read_bytes() == before
    assert not verification(str(first_version)).damages


def test_an_older_book_is_migrated_before_it_is_written_and_a_copy_stays(first_version, small):
    with Book.open(first_version) as book:
        kept = book.migrated_from
        book.write(Change(path="car.mass", before="960 kg, weighed", after="985 kg"))
        assert list(book.damages()) == []

    assert kept == first_version.with_name("old one-version-1.book")
    assert indexes(first_version) == ["change_by_path"]
    assert indexes(kept) == []
    assert open_build(kept).document == small
    assert open_build(first_version).document.parts["car"].entries["mass"] == "985 kg"
    with Book.open(first_version) as again:
        assert again.migrated_from is None


def test_a_copy_that_is_there_already_is_not_written_over(first_version):
    taken = first_version.with_name("old one-version-1.book")
    taken.write_text("mine")
    with Book.open(first_version) as book:
        assert book.migrated_from == first_version.with_name("old one-version-1-2.book")

    assert taken.read_text() == "mine"


def test_a_migration_that_fails_changes_nothing(first_version, monkeypatch):
    monkeypatch.setattr(schema, "MIGRATIONS", {1: ("create index half on change (device)", "create nonsense")})
    with pytest.raises(Unusable, match="cannot be read"):
        Book.open(first_version)

    assert indexes(first_version) == []
    monkeypatch.undo()
    with Book.open(first_version) as book:
        assert list(book.damages()) == []


def test_a_newer_book_is_refused_in_a_sentence_and_not_touched(tmp_path, small):
    file = tmp_path / "newer.book"
    Book.create(file, small).close()
    db = sqlite3.connect(file)
    db.execute(f"pragma user_version = {schema.SCHEMA + 1}")
    db.close()
    before = file.read_bytes()

    for work in (Book.open, open_build, lambda path: verification(str(path))):
        with pytest.raises(Newer) as refused:
            work(file)
        (sentence,) = refused.value.sentences()
        assert sentence == (
            f"{file}: was written by a newer trialfit (version 3 of the book, this one reads up to 2): "
            "use the newer program; nothing was changed"
        )
    assert file.read_bytes() == before
    assert [one.name for one in tmp_path.iterdir()] == ["newer.book"]

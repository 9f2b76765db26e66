"""A file is taken for what is in it, and a moment for what is typed."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta

import pytest

from trialfit.book import BadInput
from trialfit.book.journal import Book
from trialfit.book.opening import is_book, open_build, read_moment
from trialfit.book.writing import text_of_document


def test_a_book_and_its_text_are_the_same_build_whatever_their_names(tmp_path, small):
    Book.create(tmp_path / "made.book", small).close()
    (tmp_path / "made.book").rename(tmp_path / "book.toml")
    (tmp_path / "text.book").write_text(text_of_document(small), encoding="utf-8")

    assert is_book(tmp_path / "book.toml")
    assert not is_book(tmp_path / "text.book")
    assert open_build(tmp_path / "book.toml").document == open_build(tmp_path / "text.book").document == small


@pytest.mark.parametrize("left", [0, 1, 14])
def test_a_book_that_was_cut_off_at_its_beginning_is_not_taken_for_text(tmp_path, small, left):
    path = tmp_path / "made.book"
    Book.create(path, small).close()
    path.write_bytes(path.read_bytes()[:left])

    assert is_book(path)
    with pytest.raises(BadInput, match="damaged at its beginning"):
        open_build(path)
    assert len(path.read_bytes()) == left


def test_an_empty_text_file_is_a_build_to_begin_with(tmp_path):
    (tmp_path / "new.toml").touch()

    assert not is_book(tmp_path / "new.toml")


@pytest.mark.parametrize("name", ["nowhere.toml", "a\0b"])
def test_a_file_that_is_not_there_is_no_book(tmp_path, name):
    assert not is_book(tmp_path / name)


def test_a_build_that_the_parts_no_longer_understand_is_refused_with_what_they_say(book, put):
    put(book, "car.mass", "12 mm")

    with pytest.raises(BadInput, match="car.mass"):
        open_build(book.path)


def test_the_build_at_a_date_is_the_one_after_the_last_change_of_that_day(tmp_path, small):
    day = datetime(2026, 3, 14, 9, tzinfo=UTC)
    times = iter([day, day + timedelta(days=2)])
    Book.create(tmp_path / "mine.book").close()
    with Book.open(tmp_path / "mine.book", clock=lambda: next(times)) as book:
        for name in ("first", "second"):
            book.take_in(small.model_copy(update={"name": name, "parts": {}, "choices": {}, "limits": {}}))
    found = {
        text: open_build(tmp_path / "mine.book", read_moment(text)).name
        for text in ("2026-03-15", "2026-03-17", "1", "2")
    }

    assert found == {"2026-03-15": "first", "2026-03-17": "second", "1": "first", "2": "second"}
    with pytest.raises(BadInput, match="has no record of 2026-03-1[23] .*: its first change was made at 2026-03-14"):
        open_build(tmp_path / "mine.book", read_moment("2026-03-12"))
    with pytest.raises(BadInput, match="has no change 3: expected a number from 1 to 2"):
        open_build(tmp_path / "mine.book", 3)


def test_a_date_alone_is_its_end_or_its_beginning():
    assert f"{read_moment('2026-03-14'):%Y-%m-%d %H:%M:%S.%f}" == "2026-03-14 23:59:59.999999"
    assert f"{read_moment('2026-03-14', of_day='begin'):%Y-%m-%d %H:%M:%S}" == "2026-03-14 00:00:00"
    assert f"{read_moment('20260314'):%Y-%m-%d}" == "2026-03-14"
    assert f"{read_moment('2026-03-14 00:00'):%H:%M}" == "00:00"
    assert read_moment("2026-03-14T16:30+02:00") == datetime(2026, 3, 14, 14, 30, tzinfo=UTC)


@pytest.mark.parametrize("text", ["yesterday", "2026-13-01", "14.3.2026", "", "-3", "9999-12-31T23:59:60"])
def test_what_is_no_date_is_said_with_an_example(text):
    with pytest.raises(BadInput) as refused:
        read_moment(text)
    assert refused.value.sentences() == [
        f'the date: "{text}" is not a date: write it as 2026-03-14, as "2026-03-14 16:30", or as the number of a change'
    ]

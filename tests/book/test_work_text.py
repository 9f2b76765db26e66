"""Jobs, orders, workshop, readings and what was done: in the text, in the book, and out again without loss."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from trialfit.book.changes import differences, document, empty, put, state_of
from trialfit.book.document import Document
from trialfit.book.journal import Book
from trialfit.book.problems import BadInput
from trialfit.book.refusals import Refused
from trialfit.book.toml_text import document_of, read_text
from trialfit.book.work_text import KEYS
from trialfit.book.writing import text_of_document

NAMES = st.from_regex(r"[A-Za-z][\w-]{0,8}", fullmatch=True)
ENTRIES = st.one_of(st.text(max_size=12), st.lists(st.text(max_size=6), max_size=3).map(tuple))


def _tables(kind: str) -> st.SearchStrategy[dict[str, object]]:
    return st.dictionaries(st.sampled_from(KEYS[kind]), ENTRIES, max_size=4)


DOCUMENTS = st.builds(
    Document,
    jobs=st.dictionaries(NAMES, _tables("job"), max_size=3),
    orders=st.dictionaries(NAMES, _tables("order"), max_size=3),
    workshop=_tables("workshop"),
    readings=st.dictionaries(NAMES, st.text(max_size=12), max_size=3),
    work=st.dictionaries(st.integers(1, 99).map(str), _tables("work"), max_size=3),
)


@given(DOCUMENTS)
def test_what_is_written_and_read_again_is_the_same(written):
    found, problems = document_of(text_of_document(written), "the text")

    assert problems == []
    assert found == written


@given(DOCUMENTS, DOCUMENTS)
def test_the_differences_lead_from_one_build_to_the_other(old, new):
    state = state_of(old)
    for change in differences(state, state_of(new)):
        put(state, change.path, change.after)

    assert document(state) == new


def test_a_state_from_before_there_were_jobs_takes_them():
    state = empty()
    for group in ("jobs", "orders", "workshop", "readings", "work"):
        del state[group]
    put(state, "job.tray", {"hours": "1/2/3"})
    put(state, "workshop.people", "2")

    assert document(state).jobs == {"tray": {"hours": "1/2/3"}}


def test_a_book_keeps_jobs_entry_by_entry(book: Book, put):
    put(book, "job.tray", {"hours": "1/2/3"})
    put(book, "job.tray.needs", ["CH02"])
    put(book, "reading.pickup_gap", "8 mm")

    assert book.document.jobs["tray"] == {"hours": "1/2/3", "needs": ("CH02",)}
    assert book.document.readings == {"pickup_gap": "8 mm"}


@pytest.mark.parametrize(
    ("path", "after", "says"),
    [
        ("job.tray.colour", "red", "job.tray.colour is an unknown entry: expected one of title, hours"),
        ("work.first", {"what": "start"}, "is not a path: an entry of the work log has a number"),
        ("work.1.what", "start", "is not a path: an entry of the work log has a number"),
        ("reading.a.b", "8 mm", "is too long or has"),
        ("order.hose", "12 EUR", "cannot be"),
    ],
)
def test_what_has_no_place_is_refused(book, put, path, after, says):
    with pytest.raises(Refused) as wrong:
        put(book, path, after)

    assert says in str(wrong.value)


@pytest.mark.parametrize(
    ("text", "says"),
    [
        ('[job.tray]\ncolour = "red"', "line 2: job.tray.colour is an unknown entry: expected one of title"),
        ("job = 3", "job is not a table"),
        ("[workshop]\npeople = true", "workshop.people is not text"),
        ('[reading]\ngap = ["1 mm"]', "reading.gap is a list: expected one reading"),
    ],
)
def test_a_text_with_the_wrong_shape_is_refused_with_its_line(text, says):
    with pytest.raises(BadInput) as wrong:
        read_text(text, "mine.toml")

    assert says in str(wrong.value)

"""The one way to change a book: durable, never over another's change, never twice."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta

import pytest

from trialfit.book import BadInput
from trialfit.book.changes import Change
from trialfit.book.checking import check_sound
from trialfit.book.document import Document
from trialfit.book.journal import Book
from trialfit.book.refusals import Refused, Stale, Unusable
from trialfit.book.store.store import Store


def test_a_change_is_there_when_the_book_is_opened_again(book, put):
    made = put(book, "car.mass", "985 ± 5 kg, weighed", note="with the cage in")

    with Book.open(book.path, read_only=True) as again:
        assert again.value("car.mass") == "985 ± 5 kg, weighed"
        (last,) = again.journal(made.number - 1)

    assert (last.path, last.before, last.after) == ("car.mass", "960 kg, weighed", "985 ± 5 kg, weighed")
    assert (last.device, last.note) == ("phone", "with the cage in")
    assert last == made


def test_a_change_over_what_another_device_wrote_meanwhile_is_refused_with_both_values(book, put):
    put(book, "car.mass", "985 kg, weighed", device="phone")
    number = book.number

    with pytest.raises(Stale) as refused:
        book.write(Change(path="car.mass", before="960 kg, weighed", after="970 kg"), "laptop")

    (sentence,) = refused.value.sentences()
    assert sentence.startswith(f"{book.path}: car.mass was changed meanwhile by phone, change {number} of ")
    assert sentence.endswith(
        'it was "960 kg, weighed" when you began, now it is "985 kg, weighed", you wrote "970 kg". '
        "Nothing was changed: compare both values and write again"
    )
    assert refused.value.found == "985 kg, weighed"
    assert book.number == number


def test_a_change_sent_twice_with_one_key_counts_once(book):
    change = Change(path="car.mass", before="960 kg, weighed", after="985 kg", key="a1")
    first = book.write(change, "phone")

    assert book.write(change, "phone") == first
    assert book.number == first.number


def test_a_key_that_belongs_to_another_change_is_refused(book):
    """Two measurements must not be taken for one because a device used a key again."""
    made = book.write(Change(path="car.mass", before="960 kg, weighed", after="985 kg", key="a1"))

    with pytest.raises(Refused, match=f"has the key a1, already used by change {made.number} of car.mass"):
        book.write(Change(path="long.ratio", before="3.54", after="3.6", key="a1"))


def test_a_change_that_fails_its_check_leaves_no_trace(book):
    before = book.document

    with pytest.raises(BadInput, match="car.mass"):
        book.write(Change(path="car.mass", before="960 kg, weighed", after="12 mm"), check=check_sound(book.path))

    assert book.document == before
    assert list(book.damages()) == []


def test_a_fault_that_was_there_before_does_not_stop_other_changes(book, put):
    put(book, "car.mass", "12 mm")  # as from a program that was less strict

    book.write(Change(path="long.ratio", before="3.54", after="3.6"), check=check_sound(book.path))

    assert book.value("long.ratio") == "3.6"


@pytest.mark.parametrize(
    ("path", "before", "after", "sentence"),
    [
        ("car.mass", "960 kg, weighed", "960 kg, weighed", 'car.mass is already "960 kg, weighed": nothing to change'),
        ("car.kind", "car", None, "car.kind cannot be removed, only changed; or remove the whole of car"),
        ("car.mass", "960 kg, weighed", ["1", ["2"]], "car.mass cannot be "),
        ("hub", None, {"kind": 3}, "hub cannot be "),
        ("hub.axle", None, "rear", "hub.axle has no place: hub does not exist"),
        ("a.b.c", None, "x", "a.b.c is not a path: expected letters, digits, - and _, for example front_shaft.length"),
        ("", None, "x", "is not a path: expected letters, digits"),
        ("limit", None, "x", "limit has no finding: write it as limit.FINDING"),
        ("choice", None, "x", "choice is not a path"),
        (
            "choice.axle.colour",
            None,
            "x",
            "choice.axle.colour is an unknown entry: a choice has options, picked and note",
        ),
        ("format", None, {"kind": "car"}, "format is not a valid part name"),
        ("car.mass", "960 kg, weighed", "9" * 100_001, "car.mass is 100001 characters long: expected at most 100000"),
        ("car.mass", "960 kg, weighed", "\udcff", "car.mass has characters that are not text: write it as UTF-8"),
    ],
)
def test_a_change_that_makes_no_sense_is_refused_in_one_sentence(book, path, before, after, sentence):
    number = book.number

    with pytest.raises(Refused) as refused:
        book.write(Change(path=path, before=before, after=after))

    assert sentence in refused.value.sentences()[0]
    assert book.number == number


def test_removing_a_part_says_who_refers_to_it(book):
    with pytest.raises(Refused, match="gearbox cannot be removed: prop_shaft.after refer to it; change these first"):
        book.write(Change(path="gearbox", before=book.value("gearbox"), after=None))
    with pytest.raises(Refused, match="long cannot be removed: choice.axle refer to it"):
        book.write(Change(path="long", before=book.value("long"), after=None))


def test_undo_is_a_new_change_that_puts_back_what_stood_there(book, put):
    made = put(book, "car.mass", "985 kg")
    back = book.undo(made.number, "laptop")

    assert book.value("car.mass") == "960 kg, weighed"
    assert (back.number, back.note, back.device) == (made.number + 1, f"takes back change {made.number}", "laptop")


def test_undo_without_a_number_takes_back_the_newest_change(book, put):
    put(book, "car.mass", "985 kg")
    put(book, "long.ratio", "3.6")
    book.undo()

    assert (book.value("car.mass"), book.value("long.ratio")) == ("985 kg", "3.54")


def test_undo_names_the_later_change_that_stands_in_its_way(book, put):
    first = put(book, "car.mass", "985 kg", device="laptop")
    second = put(book, "car.mass", "990 kg", device="phone")

    with pytest.raises(Refused) as refused:
        book.undo(first.number)

    assert (
        f"change {first.number} of car.mass cannot be taken back: change {second.number} of car.mass (phone, "
        in refused.value.sentences()[0]
    )
    assert book.value("car.mass") == "990 kg"


def test_a_later_change_of_another_fact_does_not_stand_in_the_way(book, put):
    first = put(book, "car.mass", "985 kg")
    put(book, "car.wheelbase", "2.4 m")
    book.undo(first.number)

    assert book.value("car.mass") == "960 kg, weighed"


def test_a_part_that_got_facts_since_is_not_taken_back_with_them(book, put):
    first = put(book, "hub", {"kind": "hub", "note": "", "entries": {}})
    put(book, "hub.axle", "rear")

    with pytest.raises(Refused, match=r"change \d+ of hub cannot be taken back: change \d+ of hub.axle"):
        book.undo(first.number)


def test_a_part_that_was_taken_out_comes_back_whole(book):
    before = book.value("prop_shaft")
    book.write(Change(path="prop_shaft", before=before, after=None))
    book.undo()

    assert book.value("prop_shaft") == before


def test_undo_of_a_change_that_never_was_is_refused(book):
    with pytest.raises(Refused, match="unknown change 999: the last change is"):
        book.undo(999)


def test_undo_sent_twice_with_one_key_counts_once(book, put):
    put(book, "car.mass", "985 kg")
    first = book.undo(key="b2")

    assert book.undo(key="b2") == first
    assert book.value("car.mass") == "960 kg, weighed"


def test_taking_a_document_in_is_all_or_nothing(book, small, demo):
    """A check that fails after the last change leaves the first one undone as well."""

    def refuse(*_: object) -> None:
        raise BadInput("here", [])

    with pytest.raises(BadInput):
        book.take_in(demo, check=refuse)

    assert book.document == small


def test_a_document_taken_in_needs_only_the_changes_that_it_has(book, small):
    changed = small.parts["car"].model_copy(update={"entries": {"mass": "1000 kg"}})
    made = book.take_in(small.model_copy(update={"parts": {**small.parts, "car": changed}}))

    assert [(one.path, one.after) for one in made] == [("car.mass", "1000 kg")]


def test_the_build_as_it_was_after_each_change(book, put):
    number, before = book.number, book.document
    put(book, "car.mass", "985 kg")
    put(book, "gearbox.ratios", ["3", "2"])

    assert book.document_after(number) == before
    assert book.document_after(number + 1).parts["car"].entries["mass"] == "985 kg"
    assert book.document_after(number + 2) == book.document


def test_snapshots_do_not_change_what_was(tmp_path, small):
    """Over thousands of changes, each state between is the same with snapshots and by the journal from its beginning."""
    with Book.create(tmp_path / "long.book", small) as book:
        begin = book.number
        for number in range(1000):
            book.write(Change(path="car.mass", before=book.value("car.mass"), after=f"{number} kg"))
        for number in (0, 199, 200, 201, 555, 999):
            assert book.document_after(begin + 1 + number).parts["car"].entries["mass"] == f"{number} kg"


def test_a_clock_that_jumps_backwards_does_not_turn_the_order_round(tmp_path):
    noon = datetime(2026, 6, 1, 12, tzinfo=UTC)
    times = iter([noon, noon - timedelta(days=400), noon + timedelta(hours=1)])
    Book.create(tmp_path / "clock.book").close()
    with Book.open(tmp_path / "clock.book", clock=lambda: next(times)) as book:
        book.write(Change(path="name", before="", after="a"))
        back = book.write(Change(path="name", before="a", after="b"))
        book.write(Change(path="name", before="b", after="c"))

        assert back.time == noon
        assert [one.after for one in book.journal()] == ["a", "b", "c"]
        assert book.document_after(book.number_at(noon)).name == "b"
        assert book.number_at(noon - timedelta(days=1)) == 0


def test_the_order_is_kept_by_a_program_that_opens_the_book_with_a_wrong_clock(tmp_path):
    noon = datetime(2026, 6, 1, 12, tzinfo=UTC)
    Book.create(tmp_path / "clock.book").close()
    with Book.open(tmp_path / "clock.book", clock=lambda: noon) as book:
        book.write(Change(path="name", before="", after="a"))
    with Book.open(tmp_path / "clock.book", clock=lambda: noon - timedelta(days=9)) as book:
        assert book.write(Change(path="name", before="a", after="b")).time == noon


def test_a_new_book_never_takes_the_place_of_a_file(tmp_path):
    file = tmp_path / "mine.book"
    file.write_text("dear diary")

    with pytest.raises(Unusable, match="exists already: choose another name; nothing was changed"):
        Book.create(file, Document())

    assert file.read_text() == "dear diary"


def test_a_new_book_that_cannot_be_filled_is_not_there_at_all(tmp_path, monkeypatch):
    def interrupt(*_: object, **__: object) -> None:
        raise KeyboardInterrupt

    monkeypatch.setattr(Book, "take_in", interrupt)
    with pytest.raises(KeyboardInterrupt):
        Book.create(tmp_path / "mine.book", Document(name="x"))

    assert list(tmp_path.iterdir()) == []


def test_a_change_of_each_kind_has_its_place(book, put):
    """Part, fact, list, pick, options, note, limit, name and story; each is found again, and the book is sound."""
    changes = {
        "name": "other",
        "story": "a story",
        "hub": {"kind": "hub", "note": "", "entries": {"axle": "rear"}},
        "car.note": "from the donor",
        "gearbox.ratios": ["2.1", "3.6", "1.4"],
        "choice.axle.picked": "short",
        "choice.box": {"options": ["gearbox"], "picked": "gearbox", "note": ""},
        "limit.gearing.time.0_100_kmh": "7 s",
    }
    for path, after in changes.items():
        put(book, path, after)

    assert {path: book.value(path) for path in changes} == changes
    assert list(book.damages()) == []


def test_the_newest_change_of_a_path_is_found_by_whole_steps(book, put):
    """A change of `axle_long` is none of `axle`, and one of `axle.x` is one of `axle`."""
    put(book, "hub", {"kind": "hub", "note": "", "entries": {}})
    made = put(book, "hub.axle", "rear")
    put(book, "hub_front", {"kind": "hub", "note": "", "entries": {}})
    store = Store.open(book.path, read_only=True)

    assert store.touching("hub") == made
    assert store.touching("hub.axle", made.number) is None
    store.close()


def test_a_device_whose_name_is_no_text_is_refused(book):
    with pytest.raises(Refused, match="the name of the device has characters that are not text"):
        book.write(Change(path="car.mass", before="960 kg, weighed", after="1 t"), "\udcff")

    assert book.value("car.mass") == "960 kg, weighed"

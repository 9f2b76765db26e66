"""A build with old names is read as if it had those of today, in a file and in a book; and it can be rewritten."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta
from pathlib import Path

import pytest

from trialfit.book import BadInput
from trialfit.book.changes import Change, Recorded
from trialfit.book.changing import change_entry
from trialfit.book.document import Document, PartText
from trialfit.book.editing import move_item, remove, set_entry
from trialfit.book.journal import Book
from trialfit.book.opening import open_build
from trialfit.book.refusals import Refused, Stale
from trialfit.book.renaming import remark_on
from trialfit.book.salvage import salvage, verification
from trialfit.book.store import Store
from trialfit.book.toml_text import read, read_text
from trialfit.book.updating import new_text, update_names
from trialfit.book.writing import text_of_document
from trialfit.parts import KINDS
from trialfit.parts.declaring import CodeSpec, FactSpec, WordSpec
from trialfit.parts.lists_and_curves import ListSpec
from trialfit.parts.old_names import OLD_NAMES
from trialfit.subjects.catalogue import evaluate

DEMOS = Path(__file__).parents[2] / "demos"
OLD = """\
name = "old"    # a build of last year

[engine]
max_speed = "6200 rpm"
shock_factor   =   "1.6 ± 0.3, guess"   # from firing pulses

[given_back]    # the crossmember
note = "bolts in"
length = "0.8 m, taped"
ends = "one end" # a shelf

[arm_weld]
kind = "weld"
  torch_room = "90 mm, taped"

[point]
kind = "taped_point"
along = "216 mm, taped"
height = "214 mm, taped"

[check_it]
kind = "measurement"
of = "point.height"
serves = "structure.weld_room.arm_weld"
lengths = ["214 mm"]

# what I want
[limit]
"structure.weld_room.arm_weld" = "80 mm" # my own

[work.1]
what = "finish"
relied = ["structure.weld_room.arm_weld", "gearing.speedometer"]
"""
NEW = """\
name = "old"    # a build of last year

[engine]
max_speed = "6200 rpm"
application_factor   =   "1.6 ± 0.3, guess"   # from firing pulses

[given_back]    # the crossmember
kind = "reinforcement"
note = "bolts in"
length = "0.8 m, taped"
end_support = "cantilever" # a shelf

[arm_weld]
kind = "weld"
  torch_access = "90 mm, taped"

[point]
kind = "taped_point"
x = "216 mm, taped"
z = "214 mm, taped"

[check_it]
kind = "measurement"
of = "point.z"
serves = "structure.torch_access.arm_weld"
lengths = ["214 mm"]

# what I want
[limit]
"structure.torch_access.arm_weld" = "80 mm" # my own

[work.1]
what = "finish"
relied = ["structure.torch_access.arm_weld", "gearing.speedometer"]
"""


def with_old_names(document: Document) -> Document:
    """The document as it would have been written before."""
    kinds = {one.new: one.old for one in OLD_NAMES if one.what == "kind"}
    facts = {(one.of, one.new): one.old for one in OLD_NAMES if one.what == "fact"}
    words = {(one.of, one.new): one.old for one in OLD_NAMES if one.what == "word"}
    parts = {}
    for name, part in document.parts.items():
        entries = {
            facts.get((part.kind, fact), fact): words.get((f"{part.kind}.{fact}", value), value)
            for fact, value in part.entries.items()
        }
        parts[name] = PartText(kind=kinds.get(part.kind, part.kind), note=part.note, entries=entries)
    return document.model_copy(update={"parts": parts})


def example_of(kind: str, fact: str) -> str:
    """How an entry of a fact is written, as its declaration says."""
    spec = KINDS[kind].specs()[fact]
    if isinstance(spec, ListSpec):
        return f'["{spec.item.example}"]'
    assert isinstance(spec, FactSpec | CodeSpec | WordSpec), f"{kind}.{fact}"
    return f'"{spec.words[0] if isinstance(spec, WordSpec) else spec.example}"'


# --- a file ---


@pytest.mark.parametrize("one", [one for one in OLD_NAMES if one.what == "fact"], ids=lambda one: f"{one.of}.{one.old}")
def test_every_old_fact_is_read_and_a_remark_says_its_new_name(one):
    moves = 'fixed_to = "drivetrain"' if one.of == "solid" else ""
    build = read_text(f'[it]\nkind = "{one.of}"\n{moves}\n{one.old} = {example_of(one.of, one.new)}')

    assert one.new in build.parts["it"].values
    assert remark_on(build.renamed, "mine.toml") == (
        f'it.{one.old} is now called "{one.new}": `trialfit update-names mine.toml` rewrites it'
    )


@pytest.mark.parametrize("one", [one for one in OLD_NAMES if one.what == "word"], ids=lambda one: f"{one.of}={one.old}")
def test_every_old_word_is_read_and_a_remark_says_its_new_one(one):
    kind, _, fact = one.of.partition(".")
    build = read_text(f'[it]\nkind = "{kind}"\n{fact} = "{one.old}"')

    assert build.parts["it"].values[fact] == one.new
    assert remark_on(build.renamed, "mine.toml") == (
        f'it.{fact} = "{one.old}" is now called "{one.new}": `trialfit update-names mine.toml` rewrites it'
    )


def test_kinds_references_limits_and_what_was_relied_on_are_read_too():
    build = read_text(OLD)

    assert build.document == read_text(NEW).document
    assert build.parts["given_back"].kind == "reinforcement"
    assert remark_on(build.renamed, "mine.toml").startswith(
        'engine.shock_factor is now called "application_factor", and 10 more names are old: `trialfit update-names mine.toml`'
    )


def test_a_build_of_today_gets_no_remark():
    assert read_text(NEW).renamed == ()
    assert remark_on((), "mine.toml") == ""


@pytest.mark.parametrize(
    ("text", "says"),
    [
        (
            '[engine]\nshock_factor = "1.6"\napplication_factor = "1.7"',
            'the text, line 2: engine.shock_factor is now called "application_factor", which is written too: keep one of the two',
        ),
        (
            '[limit]\n"structure.weld_room.a" = "8 mm"\n"structure.torch_access.a" = "9 mm"',
            'the text, line 2: limit.structure.weld_room.a is now called "structure.torch_access.a", and that has a limit too: keep one of the two',
        ),
    ],
)
def test_an_old_name_beside_its_new_one_is_refused(text, says):
    with pytest.raises(BadInput) as refused:
        read_text(text)

    assert refused.value.sentences() == [says]


def test_what_is_wrong_with_an_old_name_is_shown_at_its_line():
    with pytest.raises(BadInput, match="line 3: engine.application_factor"):
        read_text('[engine]\nmax_speed = "6200 rpm"\nshock_factor = "0.5"')


@pytest.mark.parametrize("demo", ["hillclimb", "pickup", "electric"])
def test_a_demo_with_old_names_gives_the_same_report(demo):
    today = read(DEMOS / f"{demo}.toml")
    text = text_of_document(with_old_names(today.document))
    before = read_text(text)

    assert len(before.renamed) > 10
    assert before.document == today.document
    subjects = ("torque_path", "gearing", "structure", "lifting", "fastening")
    report = evaluate(before, 40, subjects)
    assert [remark.says.partition(",")[0].partition(" called ")[0] for remark in report.remarks[:1]] == ["is now"]
    assert report.model_copy(update={"remarks": report.remarks[1:]}) == evaluate(today, 40, subjects)
    assert read_text(new_text(text)[0]).document == today.document


# --- one entry of a file ---


def test_an_entry_set_by_its_old_or_new_name_is_the_one_that_stands_there(tmp_path):
    file = tmp_path / "mine.toml"
    file.write_text(OLD, encoding="utf-8")

    old = change_entry(file, "engine.shock_factor", "1.7, guess")
    new = change_entry(file, "engine.application_factor", "1.8, guess")

    assert (old.path, old.before, old.after) == ("engine.application_factor", "1.6 ± 0.3, guess", "1.7, guess")
    assert (new.path, new.before, new.after) == ("engine.application_factor", "1.7, guess", "1.8, guess")
    assert file.read_text(encoding="utf-8") == OLD.replace("1.6 ± 0.3, guess", "1.8, guess")


def test_old_words_kinds_and_limits_are_set_under_their_new_names(tmp_path):
    file = tmp_path / "mine.toml"
    file.write_text(NEW, encoding="utf-8")

    change_entry(file, "given_back.ends", "built in")
    change_entry(file, "rail.kind", "given_back")
    change_entry(file, "limit.structure.weld_room.arm_weld", "85 mm")

    build = read(file)
    assert build.renamed == ()
    assert build.parts["given_back"].end_support == "fixed"
    assert build.parts["rail"].kind == "reinforcement"
    assert build.limits == {"structure.torch_access.arm_weld": "85 mm"}


# --- rewriting a file ---


def test_a_file_is_rewritten_with_comments_spacing_and_order_kept(tmp_path):
    file = tmp_path / "mine.toml"
    file.write_text(OLD, encoding="utf-8")

    done = update_names(file)

    assert file.read_text(encoding="utf-8") == NEW
    assert ("engine.shock_factor", "shock_factor", "application_factor") in [
        (one.path, one.old, one.new) for one in done.names
    ]
    assert update_names(file).names == ()
    assert file.read_text(encoding="utf-8") == NEW


def test_line_ends_of_another_system_stay(tmp_path):
    file = tmp_path / "mine.toml"
    file.write_bytes(OLD.replace("\n", "\r\n").encode())
    update_names(file)

    assert file.read_bytes() == NEW.replace("\n", "\r\n").encode()


@pytest.mark.parametrize(
    ("old", "new"),
    [
        ('engine.shock_factor = "1.6" # mine\n', 'engine.application_factor = "1.6" # mine\n'),
        ('engine = { shock_factor = "1.6" }\n', 'engine = { application_factor = "1.6" }\n'),
        ('[engine]\n"shock_factor" = "1.6"\n', '[engine]\napplication_factor = "1.6"\n'),
        ("[unit]\nkind = 'power_unit'\nlayout = 'across'\n", "[unit]\nkind = 'power_unit'\nlayout = \"transverse\"\n"),
    ],
)
def test_any_way_to_write_a_table_is_rewritten(old, new):
    assert new_text(old)[0] == new


def test_a_build_that_is_not_sound_is_not_rewritten(tmp_path):
    file = tmp_path / "mine.toml"
    text = OLD.replace("6200 rpm", "-3 rpm")
    file.write_text(text, encoding="utf-8")

    with pytest.raises(BadInput, match=r"engine\.max_speed"):
        update_names(file)
    assert file.read_text(encoding="utf-8") == text


# --- a book ---


@pytest.fixture
def old_book(tmp_path: Path) -> Path:
    """A book as a program wrote it that knew only the old names."""
    file = tmp_path / "old.book"
    engine = {"kind": "engine", "note": "", "entries": {"shock_factor": "1.6, guess", "max_speed": "6200 rpm"}}
    weld = {"kind": "weld", "note": "", "entries": {"torch_room": "90 mm, taped"}}
    rail = {"kind": "given_back", "note": "", "entries": {}}
    changes = [
        ("engine", None, engine),
        ("arm_weld", None, weld),
        ("rail", None, rail),
        ("engine.shock_factor", "1.6, guess", "1.7, guess"),
        ("rail.ends", None, "held"),
        ("limit.structure.weld_room.arm_weld", None, "80 mm"),
        ("engine.max_speed", "6200 rpm", "6400 rpm"),
    ]
    begun = datetime(2026, 1, 1, tzinfo=UTC)
    store = Store.create(file)
    with store.turn():
        for number, (path, before, after) in enumerate(changes, 1):
            time = begun + timedelta(days=number)
            store.append(Recorded(path=path, before=before, after=after, number=number, time=time, device="old"))
    store.close()
    return file


def test_a_book_with_old_names_is_read_with_a_remark(old_book):
    build = open_build(old_book)

    assert build.parts["engine"].application_factor.written.value == 1.7
    assert build.parts["rail"].end_support == "pinned"
    assert build.limits == {"structure.torch_access.arm_weld": "80 mm"}
    assert remark_on(build.renamed, "old.book").startswith(
        'engine.shock_factor is now called "application_factor", and '
    )
    assert verification(str(old_book)).damages == ()


def test_a_book_with_old_names_is_read_as_it_was(old_book):
    assert open_build(old_book, 3).parts["engine"].application_factor.written.value == 1.6
    assert open_build(old_book, 4).parts["engine"].application_factor.written.value == 1.7


def test_an_old_change_is_taken_back_under_its_new_name(old_book):
    with Book.open(old_book) as book:
        made = book.undo(4)

        assert (made.path, made.before, made.after) == ("engine.application_factor", "1.7, guess", "1.6, guess")
        assert book.value("engine.shock_factor") == book.value("engine.application_factor") == "1.6, guess"
        assert next(book.journal(3)).path == "engine.shock_factor"
        book.undo(6)
        book.undo(5)
        assert book.document.limits == {}
        assert book.document.parts["rail"].entries == {}


def test_an_old_change_is_not_taken_back_over_a_later_one_under_the_new_name(old_book):
    with Book.open(old_book) as book:
        set_entry(book, "engine.application_factor", "1.9, guess")

        with pytest.raises(Refused, match=r"change 8 of engine\.application_factor .* came after it"):
            book.undo(4)


def test_a_later_change_under_the_old_name_stands_in_the_way_of_one_under_the_new(old_book):
    """What touches a path is sought under every name that the path had."""
    with Book.open(old_book) as book, pytest.raises(Stale) as refused:
        book.write(Change(path="engine.application_factor", before="1.6, guess", after="1.9"), "laptop")

    assert "was changed meanwhile by old, change 4 of" in refused.value.sentences()[0]


def test_a_change_asked_for_by_an_old_name_is_written_under_the_new_one(old_book):
    asked = Change(path="engine.shock_factor", before="1.7, guess", after="1.8, guess", key="a1")
    with Book.open(old_book) as book:
        made = book.write(asked, "phone")

        assert made.path == "engine.application_factor"
        assert book.write(asked, "phone") == made
        shown, _ = set_entry(book, "rail.ends", "one end")
        assert (shown.path, shown.before, shown.after) == ("rail.end_support", "pinned", "cantilever")
        assert remove(book, "arm_weld.torch_room").path == "arm_weld.torch_access"


def test_a_list_is_moved_by_an_old_path(tmp_path):
    """No list has been renamed so far: the path is looked up anyway."""
    start = read_text('[gearbox]\nratios = ["3.6", "2.1"]').document
    with (
        Book.create(tmp_path / "a.book", start) as book,
        pytest.raises(BadInput, match=r"gearbox\.ratio\.1 is not a value of a list"),
    ):
        move_item(book, "gearbox.ratio.1", 2)


def test_a_book_is_kept_under_the_names_of_today_and_its_journal_stays(old_book):
    with Book.open(old_book, read_only=True) as book:
        before, written = book.document, [*book.journal()]

    done = update_names(old_book)

    assert len(done.names) == 6
    assert "journal keeps the old names" in done.remark
    assert open_build(old_book).renamed == ()
    assert open_build(old_book).document == before
    with Book.open(old_book, read_only=True) as book:
        assert [*book.journal()] == written
    assert update_names(old_book).names == ()
    assert open_build(old_book, 4).parts["engine"].application_factor.written.value == 1.7
    assert verification(str(old_book)).damages == ()


def test_a_snapshot_with_old_names_is_read_too(old_book):
    store = Store.open(old_book)
    with store.turn():
        parts = {"engine": {"kind": "engine", "note": "", "entries": {"shock_factor": "1.7, guess"}}}
        state = {"name": "", "story": "", "parts": parts, "choices": {}, "limits": {"structure.weld_room.a": "9 mm"}}
        store.keep_snapshot(7, {**state, "work": {"1": {"relied": "structure.weld_room.a"}}})
    store.close()

    build = open_build(old_book)
    assert build.document.parts["engine"].entries == {"application_factor": "1.7, guess"}
    assert build.limits == {"structure.torch_access.a": "9 mm"}
    assert build.document.work["1"]["relied"] == "structure.torch_access.a"
    assert len(build.renamed) == 3


def test_what_is_brought_out_of_a_damaged_book_has_the_names_of_today(old_book):
    saved = salvage(str(old_book))

    assert saved.document.parts["engine"].entries["application_factor"] == "1.7, guess"
    assert saved.document.parts["rail"].kind == "reinforcement"


def test_a_file_with_old_names_goes_into_a_book_under_the_new_ones(tmp_path):
    with Book.create(tmp_path / "a.book", read_text(OLD).document) as book:
        assert book.renamed == ()
        assert [change.path for change in book.journal() if "old" in change.path] == []
        assert book.document == read_text(NEW).document

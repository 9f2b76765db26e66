"""A build written as TOML and read again is the same build, and so is one that went through a book and back."""

from __future__ import annotations

import tempfile
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from thorough import some

from trialfit.book import BadInput
from trialfit.book.carrying import folder_of, read_in, write_out, write_out_any
from trialfit.book.document import AttachmentText, ChoiceText, Document, PartText
from trialfit.book.editing import attach
from trialfit.book.journal import Book
from trialfit.book.media import Paper
from trialfit.book.opening import open_build
from trialfit.book.toml_text import document_of, read, read_text
from trialfit.book.writing import text_of_document
from trialfit.parts import KINDS

HEAD = {"format", "name", "story", "choice", "limit", "attachment", "kind", "note"}
TEXTS = st.one_of(
    st.text(st.characters(exclude_categories=["Cs"]), max_size=30),
    st.text("\n\r\t \"\\'#=[]ü\x7f\0", max_size=12),
    st.sampled_from(
        ["rpm : N·m\n1000 : 175\n2000 : 228\n", '"""', "a\r\nb", '\nends with "', "76.2 ± 0.1 mm, calipered"]
    ),
)
NAMES = st.from_regex(r"[a-z_äöü][a-z0-9_-]{0,8}", fullmatch=True).filter(lambda name: name not in HEAD)
ENTRIES = st.dictionaries(NAMES, st.one_of(TEXTS, st.lists(TEXTS, max_size=4).map(tuple)), max_size=4)
DOCUMENTS = st.builds(
    Document,
    name=TEXTS,
    story=TEXTS,
    parts=st.dictionaries(
        NAMES,
        st.builds(PartText, kind=st.one_of(st.sampled_from(sorted(KINDS)), TEXTS), note=TEXTS, entries=ENTRIES),
        max_size=4,
    ),
    choices=st.dictionaries(
        TEXTS,
        st.builds(ChoiceText, options=st.lists(TEXTS, max_size=3).map(tuple), picked=TEXTS, note=TEXTS),
        max_size=3,
    ),
    limits=st.dictionaries(TEXTS, TEXTS, max_size=3),
    attachments=st.dictionaries(
        TEXTS,
        st.builds(
            AttachmentText,
            about=TEXTS,
            file=TEXTS,
            sha256=st.from_regex(r"[0-9a-f]{64}", fullmatch=True),
            media_type=TEXTS,
            size=st.integers(0, 10**9),
            note=TEXTS,
        ),
        max_size=3,
    ),
)


@given(DOCUMENTS)
def test_any_document_is_the_same_when_its_text_is_read(document):
    read_again, problems = document_of(text_of_document(document), "the text")

    assert read_again == document
    assert problems == []
    assert list(read_again.parts) == list(document.parts)


@given(DOCUMENTS, st.text(st.characters(exclude_categories=["Cs"]), max_size=40))
def test_remarks_are_comments_whatever_they_say(document, remark):
    if any((ord(sign) < 32 and sign not in "\t\r\n") or sign == "\x7f" for sign in remark):
        remark = "plain"

    assert document_of(text_of_document(document, (remark,)), "the text")[0] == document


def test_a_demo_build_is_the_same_as_text(demo):
    assert read_text(text_of_document(demo)).document == demo


def test_a_curve_is_written_over_several_lines(demo):
    """A builder who reads the file sees the curve as he would have written it."""
    text = text_of_document(demo)

    assert 'torque_curve = """\nrpm : N·m' in text


def test_a_demo_build_is_the_same_after_toml_book_toml_book(tmp_path, demo):
    first, second = tmp_path / "first.toml", tmp_path / "second.toml"
    write_out(demo, first, lambda _: None)
    with Book.create(tmp_path / "a.book", read(first).document) as book:
        assert book.document == demo
        write_out(book.document, second, book.file)
    with Book.create(tmp_path / "b.book") as other:
        other.take_in(read(second).document)
        assert other.document == demo
    assert first.read_bytes() == second.read_bytes()


FACTS = st.fixed_dictionaries(
    {},
    optional={
        "length": st.integers(300, 2000).map(lambda n: f"{n} mm, taped"),
        "tube_outside_diameter": st.floats(50, 100).map(lambda d: f'{d:.2f} ± 0.1 mm, calipered; ä "quoted"'),
        "material": st.sampled_from(["steel"]),
    },
)


@given(st.dictionaries(NAMES.filter(lambda name: name not in KINDS), FACTS, max_size=6), TEXTS)
@settings(max_examples=some(25))
def test_a_generated_build_is_the_same_after_a_book(parts, story):
    """Builds that the parts understand, through a book and its TOML file into another book."""
    document = Document(
        story=story, parts={name: PartText(kind="prop_shaft", entries=facts) for name, facts in parts.items()}
    )
    with tempfile.TemporaryDirectory() as folder:
        file = Path(folder) / "build.toml"
        with Book.create(Path(folder) / "a.book", document) as book:
            write_out(book.document, file, book.file)
        with Book.create(Path(folder) / "b.book", read_in(file)[0].document) as other:
            assert other.document == document


def test_a_build_with_windows_line_ends_is_the_same_build(tmp_path, demo):
    """What an editor on Windows does to a file is not in the book, nor in what is written out of it."""
    unix, windows = tmp_path / "unix.toml", tmp_path / "windows.toml"
    write_out(demo, unix, lambda _: None)
    windows.write_bytes(b"\xef\xbb\xbf" + unix.read_bytes().replace(b"\n", b"\r\n"))
    with Book.create(tmp_path / "w.book", read(windows).document) as book:
        assert book.document == demo
        assert book.take_in(read(unix).document) == []


@pytest.fixture
def with_papers(book):
    """A book with two attachments of one content, and one of another."""
    attach(book, "gearbox", Paper("Zertifikat Ä.txt", b"certificate\r\n", "text/plain"), note="the maker's")
    attach(book, "car", Paper("Zertifikat Ä.txt", b"certificate\r\n", "text/plain"))
    attach(book, "job.weld", Paper("plan.pdf", b"%PDF-1.4 plan", "application/pdf"))
    return book


def test_attachments_go_out_into_a_folder_and_in_again(tmp_path, with_papers):
    file = tmp_path / "out" / "mine.toml"
    file.parent.mkdir()
    write_out_any(with_papers.path, file)
    names = sorted(one.name for one in folder_of(file).iterdir())
    build, papers = read_in(file)
    with Book.create(tmp_path / "other.book", build.document, papers=papers) as other:
        assert other.document == with_papers.document
        for card in other.document.attachments.values():
            assert other.file(card.sha256) == with_papers.file(card.sha256)

    assert names == ["Zertifikat_Ä.txt", "Zertifikat_Ä_2.txt", "plan.pdf"]


def test_a_toml_file_is_carried_with_its_attachments_too(tmp_path, with_papers):
    write_out_any(with_papers.path, tmp_path / "one.toml")
    write_out_any(tmp_path / "one.toml", tmp_path / "two.toml")

    assert open_build(tmp_path / "two.toml").document == with_papers.document
    assert (tmp_path / "two.files" / "plan.pdf").read_bytes() == b"%PDF-1.4 plan"


def test_a_missing_or_changed_attachment_is_named(tmp_path, with_papers):
    file = tmp_path / "mine.toml"
    write_out_any(with_papers.path, file)
    (folder_of(file) / "plan.pdf").unlink()
    (folder_of(file) / "Zertifikat_Ä.txt").write_bytes(b"forged")

    with pytest.raises(BadInput) as refused:
        read_in(file)
    assert [problem.path for problem in refused.value.problems] == ["attachment.Zertifikat_Ä", "attachment.plan"]
    assert "was changed: " in refused.value.problems[0].says
    assert "is missing beside the build" in refused.value.problems[1].says


def test_nothing_is_written_over_unasked(tmp_path, with_papers):
    file = tmp_path / "mine.toml"
    file.write_text("mine")
    with pytest.raises(BadInput, match="exists already: choose another name, or write --replace; nothing was changed"):
        write_out_any(with_papers.path, file)
    assert file.read_text() == "mine"
    assert not folder_of(file).exists()


def test_a_folder_that_cannot_be_written_is_said(tmp_path, with_papers):
    with pytest.raises(BadInput, match="cannot be written"):
        write_out_any(with_papers.path, tmp_path / "nowhere" / "mine.toml")


@pytest.mark.parametrize(
    "table",
    [
        "attachment = 3",
        "[attachment]\nx = 1",
        '[attachment.x]\nsha256 = "12"',
        '[attachment.x]\nsha256 = "{digest}"\nsize = -1',
        '[attachment.x]\nsha256 = "{digest}"\ncolour = "red"',
    ],
)
def test_a_table_that_is_no_attachment_is_said(table):
    with pytest.raises(BadInput, match="an attachment is written by `trialfit write-out`"):
        read_text(table.replace("{digest}", "a" * 64))

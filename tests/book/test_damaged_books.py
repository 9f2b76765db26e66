"""A damaged book is never written to, never ends in a traceback, and is never taken for sound where it matters."""

from __future__ import annotations

from pathlib import Path

import pytest
from thorough import some

from trialfit.book import BadInput
from trialfit.book.changes import Change
from trialfit.book.document import Document
from trialfit.book.journal import Book
from trialfit.book.opening import open_build
from trialfit.book.salvage import Salvaged, salvage, verification
from trialfit.book.toml_text import read, read_text
from trialfit.book.writing import text_of_document
from trialfit.cli.main import main

from .damaging import KINDS, damaged, other_database, sound_book

BOOKS = 1000
BLOCK = 100
DEMO = Path(__file__).parents[2] / "demos" / "hillclimb.toml"


@pytest.fixture(scope="module")
def sound(tmp_path_factory: pytest.TempPathFactory) -> bytes:
    """The bytes of a sound book."""
    file = tmp_path_factory.mktemp("sound") / "sound.book"
    sound_book(file, read(DEMO).document)
    return file.read_bytes()


@pytest.fixture(scope="module")
def whole(sound: bytes, tmp_path_factory: pytest.TempPathFactory) -> tuple[Document, list[object]]:
    """What the sound book holds: the build and every change."""
    file = tmp_path_factory.mktemp("whole") / "whole.book"
    file.write_bytes(sound)
    with Book.open(file, read_only=True) as book:
        return book.document, list(book.journal())


def answer(work, *words):
    """What a piece of work gives, or the sentences of its refusal, which must be sentences."""
    try:
        return work(*words)
    except BadInput as refused:
        sentences = refused.sentences()
        assert sentences
        assert all(sentence.strip() and "Error" not in sentence and "\n" not in sentence for sentence in sentences)
        return sentences


def _owns_up(saved: Salvaged, number: int) -> bool:
    """Whether what was brought out says that something is missing."""
    return len(saved.remarks) > 1 or f"is number {number};" not in saved.remarks[0]


def write(file: Path) -> int:
    """One change written; the number it got."""
    with Book.open(file) as book:
        return book.write(Change(path="story", before=book.value("story"), after="written over damage")).number


@pytest.mark.parametrize("block", some(range(0, BOOKS, BLOCK)))
def test_a_damaged_book_is_named_refused_and_left_alone(tmp_path, sound, whole, block):
    document, journal = whole
    for seed in range(block, block + BLOCK):
        kind, data = damaged(sound, seed)
        file = tmp_path / f"{seed}.book"
        file.write_bytes(data)
        said = f"{kind}, {seed}"

        found = answer(verification, str(file))
        is_sound = not isinstance(found, list) and not found.damages
        built = answer(open_build, file)
        if not isinstance(built, list):
            assert built.document == document, said
        saved = answer(salvage, str(file))
        if isinstance(saved, Salvaged):
            assert saved.document == document or _owns_up(saved, len(journal)), said
            answer(read_text, text_of_document(saved.document))
        assert file.read_bytes() == data, said

        number = answer(write, file)
        if isinstance(number, int):
            assert is_sound, said
        else:
            assert file.read_bytes() == data, said
        if is_sound:
            with Book.open(file, read_only=True) as book:
                assert list(book.journal())[: len(journal)] == journal, said
        file.unlink()


@pytest.mark.parametrize("seed", range(2 * len(KINDS)))
def test_the_commands_answer_a_damaged_book_in_sentences(tmp_path, sound, seed, capsys):
    _, data = damaged(sound, seed)
    file = tmp_path / "damaged.book"
    file.write_bytes(data)
    commands = [
        ["verify", file],
        ["facts", file],
        ["journal", file],
        ["set", file, "car.wheelbase", "2.4 m"],
        ["undo", file],
        ["keep-copy", file, tmp_path / "copy.book"],
        ["write-out", file, tmp_path / "out.toml", "--salvage"],
        ["as-of", file, "20", "facts"],
    ]
    for words in commands:
        before = file.read_bytes()  # a change that could be made where the book is sound stands
        code = main([str(word) for word in words])
        caught = capsys.readouterr()

        assert code in (0, 1, 2), words
        assert "Traceback" not in caught.err + caught.out
        assert caught.err if code == 2 else caught.out
        if code:
            assert file.read_bytes() == before or words[0] == "verify"


def test_most_of_a_book_without_its_beginning_comes_back(tmp_path, sound, whole):
    """The tree of the file is gone with its root; the leaves are read one by one."""
    file = tmp_path / "headless.book"
    file.write_bytes(bytes(4096) + sound[4096:])
    saved = salvage(str(file))

    assert saved.document == whole[0]
    assert saved.changes == len(whole[1])
    assert saved.remarks == (f"the newest readable change is number {len(whole[1])}; later changes, if any, are lost",)
    assert all(saved.bytes_of(card.sha256) for card in whole[0].attachments.values())


def test_a_changed_value_is_named_and_not_believed(tmp_path, sound, whole):
    """The worst damage is the one that still reads as a value."""
    file = tmp_path / "changed.book"
    file.write_bytes(sound.replace(b'"note 19"', b'"note 79"'))
    last = len(whole[1])

    assert [damage.where for damage in verification(str(file)).damages] == [f"change {last}"]
    with pytest.raises(BadInput, match=f"is damaged in change {last} or the one before it"):
        open_build(file)
    saved = salvage(str(file))
    assert saved.document.parts["car"].note == "note 18"
    assert saved.remarks[1:] == (
        f"lost: change {last}; the entries they changed may be missing or have their old value",
    )


def test_a_damaged_photo_is_named_and_the_rest_comes_out(tmp_path, sound, whole):
    card = whole[0].attachments["tunnel"]
    file = tmp_path / "photo.book"
    with_photo = bytearray(sound)
    file.write_bytes(sound)
    with Book.open(file, read_only=True) as book:
        start = sound.index(book.file(card.sha256)[:200])
    with_photo[start + 100] ^= 1
    file.write_bytes(with_photo)

    assert [str(damage.where) for damage in verification(str(file)).damages] == [f"attachment {card.sha256[:12]}"]
    saved = salvage(str(file))
    assert saved.remarks[1:] == ("lost: the bytes of attachment.tunnel (tunnel.txt, about gearbox)",)
    assert list(saved.document.attachments) == ["mount"]


def test_the_database_of_another_program_is_no_book(tmp_path):
    file = tmp_path / "other.book"
    other_database(file)
    before = file.read_bytes()

    for work in (open_build, Book.open, lambda path: verification(str(path))):
        with pytest.raises(BadInput, match="is a database of another program, not a book; nothing was changed"):
            work(file)
    with pytest.raises(BadInput, match="has no readable part of a book"):
        salvage(str(file))
    assert file.read_bytes() == before


def test_what_a_killed_writer_left_in_the_second_file_is_salvaged_too(tmp_path, small):
    """While a book is in use, the newest changes stand in the file beside it; a copy of both, with the first one torn."""
    with Book.create(tmp_path / "used.book", small) as book:
        book.write(Change(path="car.mass", before="960 kg, weighed", after="985 kg"))
        main_file, waiting = book.path.read_bytes(), Path(f"{book.path}-wal").read_bytes()
    file = tmp_path / "torn.book"
    file.write_bytes(bytes(100) + main_file[100:])
    Path(f"{file}-wal").write_bytes(waiting)

    assert salvage(str(file)).document.parts["car"].entries["mass"] == "985 kg"
    assert file.read_bytes()[:100] == bytes(100)

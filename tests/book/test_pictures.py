"""Photos: kept as they are given, a small one beside them, upright and without where it was taken."""

from __future__ import annotations

import struct
import zlib
from io import BytesIO
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from PIL import Image
from thorough import some

from trialfit.book import BadInput, media
from trialfit.book.document import Document, PartText
from trialfit.book.editing import attach
from trialfit.book.journal import Book
from trialfit.book.media import read_paper
from trialfit.book.pictures import LONGEST_SIDE, NotDrawable, preview_of
from trialfit.book.refusals import Refused

ORIENTATION, POSITION, LATITUDE = 0x0112, 0x8825, 2  # tags of EXIF 2.32


def photo(orientation: int = 1, size: tuple[int, int] = (1600, 800), kind: str = "JPEG", mode: str = "RGB") -> bytes:
    """A picture whose left half is red and whose right half is blue, with the place where it was taken."""
    picture = Image.new("RGB", size, (0, 0, 255))
    picture.paste((255, 0, 0), (0, 0, size[0] // 2, size[1]))
    exif = picture.getexif()
    exif[ORIENTATION] = orientation
    exif.get_ifd(POSITION)[LATITUDE] = (48.0, 8.0, 14.0)
    out = BytesIO()
    picture.convert(mode).save(out, kind, **({"exif": exif} if kind in ("JPEG", "PNG", "WEBP") else {}))
    return out.getvalue()


def is_red(colour) -> bool:
    return colour[0] > 200 and colour[2] < 60


@pytest.mark.parametrize(
    ("orientation", "size", "red_at"),
    [  # the eight of EXIF: where the side that was left in the file is to be seen
        (1, (1024, 512), (10, 256)),
        (2, (1024, 512), (1013, 256)),
        (3, (1024, 512), (1013, 256)),
        (4, (1024, 512), (10, 256)),
        (5, (512, 1024), (256, 10)),
        (6, (512, 1024), (256, 10)),
        (7, (512, 1024), (256, 1013)),
        (8, (512, 1024), (256, 1013)),
    ],
)
def test_the_preview_stands_upright_whatever_the_phone_wrote(orientation, size, red_at):
    preview = Image.open(BytesIO(preview_of(photo(orientation))))

    assert preview.size == size
    assert is_red(preview.getpixel(red_at))
    assert not is_red(preview.getpixel((size[0] - 1 - red_at[0], size[1] - 1 - red_at[1])))


@pytest.mark.parametrize("kind", ["JPEG", "PNG", "WEBP"])
def test_the_preview_does_not_say_where_the_photo_was_taken(kind):
    whole = photo(kind=kind)
    assert Image.open(BytesIO(whole)).getexif().get_ifd(POSITION)

    preview = preview_of(whole)
    assert b"Exif" not in preview
    assert not dict(Image.open(BytesIO(preview)).getexif())


@pytest.mark.parametrize(
    ("kind", "mode"),
    [
        ("PNG", "RGBA"),
        ("PNG", "P"),
        ("PNG", "L"),
        ("PNG", "1"),
        ("GIF", "P"),
        ("TIFF", "RGB"),
        ("JPEG", "CMYK"),
        ("PNG", "I;16"),
    ],
)
def test_every_sort_of_picture_has_a_preview(kind, mode):
    picture = Image.new("I;16", (40, 20)) if mode == "I;16" else None
    if picture:
        out = BytesIO()
        picture.save(out, kind)
        whole = out.getvalue()
    else:
        whole = photo(size=(40, 20), kind=kind, mode=mode)

    assert Image.open(BytesIO(preview_of(whole))).size == (40, 20)


def test_a_large_picture_becomes_a_small_one():
    preview = Image.open(BytesIO(preview_of(photo(size=(5000, 100)))))

    assert max(preview.size) == LONGEST_SIDE


def claimed(width: int, height: int) -> bytes:
    """A PNG of a few bytes that claims to be a huge picture."""
    head = b"IHDR" + struct.pack(">IIBBBBB", width, height, 8, 2, 0, 0, 0)
    return (
        b"\x89PNG\r\n\x1a\n"
        + struct.pack(">I", 13)
        + head
        + struct.pack(">I", zlib.crc32(head))
        + b"\0\0\0\5IDAT"
        + bytes(9)
    )


def test_a_small_file_that_claims_to_be_a_huge_picture_is_refused():
    with pytest.raises(NotDrawable, match="is 15000 × 11000 pixels: expected at most 150 million"):
        preview_of(claimed(15_000, 11_000))
    with pytest.raises(NotDrawable, match="."):
        preview_of(claimed(100_000, 100_000))


@given(data=st.data())
@settings(max_examples=some(60))
def test_a_torn_picture_is_drawn_or_refused_and_nothing_else(data):
    whole = bytearray(photo(size=(64, 32), kind=data.draw(st.sampled_from(["JPEG", "PNG", "GIF", "TIFF", "WEBP"]))))
    del whole[data.draw(st.integers(1, len(whole))) :]
    for place in data.draw(st.lists(st.integers(0, len(whole) - 1), max_size=4)):
        whole[place] ^= 255
    try:
        assert preview_of(bytes(whole)).startswith(b"\xff\xd8")
    except NotDrawable as refused:
        assert str(refused)


CONTENTS = {
    "a.jpg": photo(size=(20, 10)),
    "b.JPEG": photo(size=(20, 10)),
    "c.png": photo(size=(20, 10), kind="PNG"),
    "d.gif": photo(size=(20, 10), kind="GIF"),
    "e.tif": photo(size=(20, 10), kind="TIFF"),
    "f.webp": photo(size=(20, 10), kind="WEBP"),
    "g.heic": b"\0\0\0\x18ftypheic\0\0\0\0" + bytes(40),
    "h.pdf": b"%PDF-1.7\n",
    "i.step": b"ISO-10303-21;\nHEADER;",
    "j.txt": "Größe\r\n".encode(),
    "k.csv": b"a,b\n1,2\n",
    "l.svg": b"<svg/>",
}


@pytest.mark.parametrize("name", CONTENTS)
def test_a_file_that_is_what_its_name_says_is_kept_as_it_is(tmp_path, name):
    file = tmp_path / name
    file.write_bytes(CONTENTS[name])
    paper = read_paper(file)

    assert (paper.file, paper.whole) == (name, CONTENTS[name])
    assert (paper.preview is not None) == (name[0] in "abcdef")


@pytest.mark.parametrize(
    ("name", "content", "says"),
    [
        ("a.png", CONTENTS["a.jpg"], "has the name of a PNG picture, but its content is a JPEG picture"),
        (
            "a.pdf",
            b"MZ\x90\0 program",
            "has the name of a PDF document, but its content is an unknown type of file",
        ),
        ("a.jpg", b"<html>", "has the name of a JPEG picture, but its content is a text"),
        ("a.txt", CONTENTS["h.pdf"], "has the name of a text, but its content is a PDF document"),
        ("a.exe", b"MZ", 'ends in ".exe": expected a photo, certificate or drawing (.jpg, '),
        ("a", b"text", 'ends in "": expected a photo, certificate or drawing'),
        ("a.jpg", b"", "is empty: expected a photo, certificate or drawing"),
        ("a.jpg", CONTENTS["a.jpg"][:100], "is a damaged picture: open it in another program and save it again"),
    ],
)
def test_a_file_that_is_not_what_its_name_says_is_refused(tmp_path, name, content, says):
    file = tmp_path / name
    file.write_bytes(content)

    with pytest.raises(BadInput) as refused:
        read_paper(file)
    assert refused.value.sentences()[0].startswith(f"{file}: {says}")


def test_what_is_no_file_is_said(tmp_path):
    for place, says in (
        (tmp_path / "no.jpg", "does not exist"),
        (tmp_path, "is not a file"),
        (Path("/dev/zero"), "is not a file"),
        (Path("a\0b"), "is not a file name"),
    ):
        with pytest.raises(BadInput, match=says):
            read_paper(place)


def test_the_size_limit_is_stated(tmp_path, monkeypatch):
    monkeypatch.setattr(media, "LARGEST", 1_000_000)
    file = tmp_path / "large.txt"
    file.write_bytes(b"x" * 2_000_000)

    with pytest.raises(BadInput, match="is 2 MB: expected at most 1 MB; make it smaller"):
        read_paper(file)


@pytest.fixture
def attached(tmp_path):
    """A book, a photo on disk, and the change that attached it to the gearbox."""
    file = tmp_path / "tunnel cut.jpg"
    file.write_bytes(photo(6))
    document = Document(parts={"gearbox": PartText(kind="gearbox"), "car": PartText(kind="car")})
    with Book.create(tmp_path / "mine.book", document) as book:
        yield book, read_paper(file), attach(book, "gearbox", read_paper(file), note="before welding", device="phone")


def test_a_photo_is_kept_as_given_and_once(attached):
    book, paper, made = attached
    attach(book, "car", paper)
    card = book.document.attachments["tunnel_cut"]

    assert made.path == "attachment.tunnel_cut"
    assert (card.about, card.file, card.media_type, card.note) == (
        "gearbox",
        "tunnel cut.jpg",
        "image/jpeg",
        "before welding",
    )
    assert (card.size, book.file(card.sha256)) == (len(paper.whole), paper.whole)
    assert book.preview(card.sha256) == paper.preview
    assert book.document.attachments["tunnel_cut_2"].sha256 == card.sha256
    assert sum(1 for _ in book._store.files.digests()) == 1  # noqa: SLF001 - how often it is kept shows only there


def test_the_same_photo_of_the_same_part_is_refused(attached):
    book, paper, _ = attached

    with pytest.raises(Refused, match="gearbox already has tunnel cut.jpg, as attachment.tunnel_cut"):
        attach(book, "gearbox", paper)


def test_a_photo_of_nothing_is_refused(attached):
    book, paper, _ = attached

    with pytest.raises(
        Refused, match='gearbx is not a part of this build: did you mean "gearbox"\\?; a job is written as job.NAME'
    ):
        attach(book, "gearbx", paper)


def test_an_attachment_that_is_taken_out_can_come_back(attached):
    book, paper, made = attached
    book.undo(made.number)
    assert book.document.attachments == {}
    book.undo()

    assert book.file(book.document.attachments["tunnel_cut"].sha256) == paper.whole


def test_forgetting_deletes_the_bytes_and_leaves_a_trace(attached):
    """Neither the file nor what stands beside it holds the photo or its preview any more."""
    book, paper, _ = attached
    assert paper.whole[200:260] in _all_bytes(book.path)
    gone = book.forget("tunnel_cut", "phone", "not my car")

    assert book.document.attachments == {}
    assert book.file(gone.before["sha256"]) is None
    assert (gone.before["file"], gone.note) == ("tunnel cut.jpg", "forgotten, with its bytes; not my car")
    for piece in (paper.whole[200:260], paper.preview[200:260]):
        assert piece not in _all_bytes(book.path)
    assert list(book.damages()) == []
    with pytest.raises(Refused, match="cannot be attached: the bytes of the file were forgotten, or never given"):
        book.undo()


def test_a_photo_that_was_forgotten_can_be_attached_anew(attached):
    book, paper, _ = attached
    book.forget("tunnel_cut")
    attach(book, "gearbox", paper)

    assert book.file(book.document.attachments["tunnel_cut"].sha256) == paper.whole


def test_a_file_that_others_are_too_is_not_forgotten(attached):
    book, paper, _ = attached
    attach(book, "car", paper)

    with pytest.raises(Refused, match="attachment.tunnel_cut is the same file as tunnel_cut_2: remove these first"):
        book.forget("tunnel_cut")


def _all_bytes(path: Path) -> bytes:
    return b"".join(one.read_bytes() for one in path.parent.iterdir() if one.name.startswith(path.name))

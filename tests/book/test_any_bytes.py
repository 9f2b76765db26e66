"""Whatever stands in a file, it is read or refused in sentences."""

from __future__ import annotations

from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from thorough import some

from trialfit.book import BadInput, Build, read, read_text
from trialfit.parts import KINDS

DEMOS = sorted((Path(__file__).parents[2] / "demos").glob("*.toml"))
PIECES = st.sampled_from(
    [
        "[",
        "]",
        "car",
        "engine",
        "=",
        '"',
        "'",
        "\n",
        ".",
        "kind",
        "ratios",
        "3.5",
        "kg",
        "±",
        ",",
        "choice",
        "limit",
        "#",
        '"""',
        "1e400",
    ]
)


def read_or_refused(text: str) -> Build | None:
    """The build, or None where it was refused with at least one sentence."""
    try:
        return read_text(text)
    except BadInput as refused:
        assert refused.sentences()
        assert all(sentence and "\n\n" not in sentence for sentence in refused.sentences())
        return None


@given(st.binary(max_size=300))
@settings(max_examples=150)
def test_any_bytes(tmp_path_factory: pytest.TempPathFactory, raw: bytes) -> None:
    """Bytes at random."""
    file = tmp_path_factory.getbasetemp() / "any.toml"
    file.write_bytes(raw)
    try:
        read(file)
    except BadInput as refused:
        assert refused.sentences()


@given(st.lists(PIECES, max_size=40).map("".join))
@settings(max_examples=300)
def test_pieces_of_builds_in_any_order(text: str) -> None:
    """What looks like a build and is none."""
    read_or_refused(text)


@given(st.sampled_from(DEMOS), st.data())
@settings(max_examples=some(100))
def test_a_demo_with_a_stretch_replaced(file: Path, data: st.DataObject) -> None:
    """A sound file with one stretch of it overwritten."""
    text = file.read_text(encoding="utf-8")
    start = data.draw(st.integers(0, len(text)))
    end = data.draw(st.integers(start, min(start + 40, len(text))))
    read_or_refused(text[:start] + data.draw(st.text(max_size=20)) + text[end:])


@given(
    st.sampled_from(sorted(KINDS)),
    st.dictionaries(st.from_regex(r"[a-z_]{1,12}", fullmatch=True), st.text(max_size=30), max_size=4),
)
@settings(max_examples=150)
def test_any_entries_of_any_kind(kind: str, entries: dict[str, str]) -> None:
    """Entries that are not facts of the part, or facts with any text."""
    names = [*entries, *KINDS[kind].specs()][:8]
    lines = [
        f"{name} = {_quoted(text)}"
        for name, text in zip(names, [*entries.values(), *["?"] * 8], strict=False)
        if name != "kind"
    ]
    read_or_refused("\n".join(["[thing]", f'kind = "{kind}"', *dict.fromkeys(lines)]))


def _quoted(text: str) -> str:
    return (
        '"'
        + "".join(f"\\U{ord(letter):08x}" if ord(letter) < 0xD800 or ord(letter) > 0xDFFF else "?" for letter in text)
        + '"'
    )

"""Every example in the pages written by hand is run: builds are read, commands and Python are run and compared.

A block of TOML that begins with "# name.toml" is written to that file for the commands after it ("..., refused": it is meant
to be wrong). In the output of a command "..." stands for anything.
"""

from __future__ import annotations

import doctest
import re
import shlex
import shutil
from collections.abc import Iterator
from pathlib import Path

import pytest

from trialfit.book import BadInput, read_text
from trialfit.cli.main import main

ROOT = Path(__file__).parents[2]
PAGES = [ROOT / "README.md", *sorted((ROOT / "docs").glob("*.md"))]
_BLOCK = re.compile(r"^( *)```(\w+)\n(.*?)^\1```$", re.DOTALL | re.MULTILINE)
_NAME = re.compile(r"# (\S+\.toml)(, refused)?\n")


def _blocks(page: Path, language: str) -> list[str]:
    return [text for found, text in _all_blocks(page) if found == language]


def _all_blocks(page: Path) -> Iterator[tuple[str, str]]:
    for indent, language, text in _BLOCK.findall(page.read_text(encoding="utf-8")):
        yield language, re.sub(f"^{indent}", "", text, flags=re.MULTILINE)


@pytest.fixture
def workshop(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A folder with the demo builds in it, where the examples are run."""
    shutil.copytree(ROOT / "demos", tmp_path / "demos")
    monkeypatch.chdir(tmp_path)
    monkeypatch.setenv("COLUMNS", "80")
    return tmp_path


@pytest.mark.parametrize("page", PAGES, ids=lambda page: page.stem)
def test_every_build_in_a_page_can_be_read(page):
    for text in _blocks(page, "toml"):
        name = _NAME.match(text)
        if name and name[2]:
            with pytest.raises(BadInput):
                read_text(text)
        else:
            assert read_text(text).parts


@pytest.mark.parametrize("page", PAGES, ids=lambda page: page.stem)
def test_every_command_in_a_page_prints_what_the_page_says(page, workshop, capsys, monkeypatch):
    blocks = list(_all_blocks(page))
    for language, text in blocks:
        name = _NAME.match(text)
        if language == "toml" and name:
            (workshop / name[1]).write_text(text, encoding="utf-8")
    if page.stem != "ten_minutes" and not (workshop / "mine.toml").exists():
        _borrow(workshop)
    for language, text in blocks:
        if language == "console":
            _run_all(text, capsys, monkeypatch)


def _borrow(workshop: Path) -> None:
    """The build of the first page, which the others go on with."""
    (text,) = _blocks(ROOT / "docs" / "ten_minutes.md", "toml")
    (workshop / "mine.toml").write_text(text, encoding="utf-8")


def _run_all(text: str, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch) -> None:
    for piece in re.split(r"^\$ ", text, flags=re.MULTILINE)[1:]:
        command, _, expected = piece.partition("\n")
        program, *words = shlex.split(command)
        assert program in {"trialfit", "./run"}
        monkeypatch.setenv("TRIALFIT_STARTED_AS", program)
        main(words)
        caught = capsys.readouterr()
        printed = caught.out + caught.err
        assert re.fullmatch(_pattern(expected), printed), f"{command} printed\n{printed}"


def _pattern(expected: str) -> str:
    lines = [
        r"(?:.*\n)*" if line.strip() == "..." else r" *" + re.escape(line.strip()).replace(r"\.\.\.", ".*") + r" *\n"
        for line in expected.splitlines()
    ]
    return "".join(lines)


@pytest.mark.parametrize("page", PAGES, ids=lambda page: page.stem)
def test_every_python_example_in_a_page_runs(page, workshop):
    _borrow(workshop)
    if page.stem == "ten_minutes":
        main(["set", "mine.toml", "engine.cruise_high", "3300 rpm, gauged"])
    for text in _blocks(page, "python"):
        if ">>>" in text:
            example = doctest.DocTestParser().get_doctest(text, {}, page.name, str(page), 0)
            results = doctest.DocTestRunner().run(example)
            assert results.failed == 0
        else:
            exec(compile(text, page.name, "exec"), {})  # noqa: S102 - the example of our own page


def test_the_pages_have_examples_at_all():
    """Guards the reader of the pages itself: it must find what is there."""
    found = [language for page in PAGES for language, _ in _all_blocks(page)]

    assert found.count("toml") >= 5
    assert found.count("console") >= 9
    assert found.count("python") >= 2

"""The words in which the journal shows a part that was added or taken out."""

from __future__ import annotations

import pytest

from trialfit.cli.pages.book import in_words


@pytest.mark.parametrize(
    ("entries", "words"),
    [
        ({"ratio": "3.54"}, "final_drive, 1 entry"),
        ({"ratio": "3.54", "after": "prop_shaft"}, "final_drive, 2 entries"),
    ],
)
def test_one_entry_is_singular(entries: dict[str, str], words: str) -> None:
    """One entry is not "1 entries"."""
    assert in_words({"kind": "final_drive", "note": "", "entries": {**entries}}) == words

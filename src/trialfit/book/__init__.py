"""A build as it is written down: the document, its TOML text, and the parts read from it."""

from __future__ import annotations

from trialfit.book.build import Build
from trialfit.book.problems import BadInput, Located
from trialfit.book.toml_text import read, read_text

__all__ = ["BadInput", "Build", "Located", "read", "read_text"]

"""The command line: thin, without a rule of the trade and without arithmetic."""

from __future__ import annotations

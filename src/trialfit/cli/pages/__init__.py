"""What the commands print for people: each module turns one kind of result into a page, and adds nothing to it."""

from __future__ import annotations

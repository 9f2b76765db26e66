"""The only place with SQL: a journal of changes in a SQLite file, with snapshots and attachments."""

from __future__ import annotations

from trialfit.book.store.damage import Damage
from trialfit.book.store.store import Store

__all__ = ["Damage", "Store"]

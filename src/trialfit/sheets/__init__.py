"""Printed pages: what hangs on the garage wall and what comes back from it with figures in pencil."""

from __future__ import annotations

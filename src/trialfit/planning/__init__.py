"""The work: jobs in their order, what is open, what may be done now, when it ends, what it costs."""

from __future__ import annotations

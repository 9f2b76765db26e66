"""What to do about findings: what to measure next, the written and the missing facts, and the reasons behind a finding."""

from __future__ import annotations

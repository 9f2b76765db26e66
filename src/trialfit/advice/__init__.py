"""What to do about findings: what to measure next, what is written and what is not, and why a finding is as it is."""

from __future__ import annotations

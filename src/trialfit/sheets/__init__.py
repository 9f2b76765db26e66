"""Printed pages, for the garage wall and for figures in pencil."""

from __future__ import annotations

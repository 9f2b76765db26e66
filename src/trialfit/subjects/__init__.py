"""What a build must satisfy, subject by subject."""

from __future__ import annotations

from trialfit.subjects.catalogue import evaluate, requirements, subject_names

__all__ = ["evaluate", "requirements", "subject_names"]

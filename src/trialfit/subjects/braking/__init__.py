"""Braking: what the brakes of a build do, worked out for its plot; nothing is asked of them here."""

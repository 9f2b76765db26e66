"""From facts with their uncertainty to findings with a verdict."""

"""The oil pan."""

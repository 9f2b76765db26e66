"""Facts with their spread into findings with a verdict."""

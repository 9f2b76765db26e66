"""One module per plot: each makes a Plot of a build."""

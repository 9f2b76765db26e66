"""One module for each plot: it makes a Plot of a build."""

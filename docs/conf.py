"""The manual: `sphinx-build -W -b html docs docs/_build/html`. Pages that follow from the program are made first."""

from __future__ import annotations

import sys
from pathlib import Path

HERE = Path(__file__).parent
sys.path[:0] = [str(HERE), str(HERE.parent / "src")]

from generating import write_pages  # noqa: E402 - the path is set above

import trialfit  # noqa: E402 - the path is set above

project = "trialfit"
author = "the trialfit project"
release = version = trialfit.__version__
extensions = ["myst_parser"]
source_suffix = {".md": "markdown"}
exclude_patterns = ["_build", "**/README.md", "_generated/names.md"]  # the last is part of names.md
html_theme = "furo"
html_title = "trialfit"
html_theme_options = {"light_css_variables": {"font-stack": "Georgia, serif", "font-stack--monospace": "monospace"}}
html_copy_source = False
nitpicky = True
myst_heading_anchors = 2

write_pages(HERE / "_generated")

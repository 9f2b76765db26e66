"""`trialfit update-names`: the old names in a build rewritten to those of today."""

from __future__ import annotations

from trialfit.cli.options import BuildFile, Json  # noqa: TC001 - read when the command is run


def update_names(file: BuildFile, /, *, json: Json = False) -> int:
    """Rewrites the old names of facts, kinds, words and findings in a build to those of today.

    A build with old names can be read anyway; this command ends the remark about them. In a TOML file comments and
    order stay. The journal of a book stays as it was written, and the values of the build stay the same. A file
    without old names is not changed.
    """
    from pathlib import Path

    from trialfit.book.updating import update_names as update
    from trialfit.cli.pages.change import names_page
    from trialfit.cli.screen import answer

    done = update(Path(file))
    answer(done, names_page(done), as_json=json)
    return 0

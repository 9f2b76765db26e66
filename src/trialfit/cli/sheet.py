"""`trialfit sheet`: a sheet for the bench as a PDF, or all of them."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, Annotated, Literal

from cyclopts import Parameter

from trialfit.cli.options import MOMENT, BuildFile, Json, remark_on_names
from trialfit.cli.sites import When, moment_given, written_in

if TYPE_CHECKING:
    from trialfit.sheets.known import Known
    from trialfit.sheets.listing import SheetLine
    from trialfit.sheets.press import Paper

Name = Annotated[str | None, Parameter(help="name of the sheet; without it, all sheets are listed")]
OutFile = Annotated[str | None, Parameter(name=("-o", "--out"), help="the PDF to write; else NAME.pdf here")]
All = Annotated[str | None, Parameter(name="--all", help="print every sheet into this folder")]
Size = Annotated[Literal["a4", "letter"], Parameter(name="--paper", help="size of the paper")]
Units = Annotated[Literal["metric", "us", "both"], Parameter(help="units of the figures worked out")]
Large = Annotated[bool, Parameter(negative="", show_default=False, help="large print")]
Address = Annotated[
    str, Parameter(show_default=False, help="address of the same sheet for a phone; printed as a QR code")
]
_LONGEST_ADDRESS = 100  # what a QR code of its size on the paper can hold and a phone still reads


def sheet(
    build: BuildFile,
    name: Name = None,
    /,
    *,
    out: OutFile = None,
    into: All = None,
    paper: Size = "a4",
    units: Units = "metric",
    large: Large = False,
    address: Address = "",
    when: When = "",
    json: Json = False,
) -> int:
    """Prints a sheet of a build as a PDF, with --all every one; without a name it lists the sheets.

    A sheet can be printed before the build is complete: it lists what is missing, with lines to fill in by hand. The
    figures are those of the other commands. The same build gives the same file, byte for byte. With a name, --json
    prints the content of the sheet as data, and writes a PDF only if -o names one.
    """
    from trialfit.book.saving import PDF, check_output
    from trialfit.cli.pages.sheets import list_page
    from trialfit.cli.screen import answer
    from trialfit.sheets.amounts import UnitSystem
    from trialfit.sheets.known import known_of
    from trialfit.sheets.listing import SheetList, sheet_list
    from trialfit.sheets.press import Paper

    _check(name, out, into, address)
    if name is not None and (out is not None or not json):
        check_output(Path(out or f"{name}.pdf"), PDF, reads=[build])
    known = known_of(build, moment_given(when), MOMENT.get(), UnitSystem(units), written_in(build))
    remark_on_names(known.build, build)
    if name is None and into is None:
        listed = sheet_list(known.build.name)
        answer(listed, list_page(listed), as_json=json)
        return 0
    page = Paper(known.dated, known.journal, paper, large, known.units.says, address)
    if name is None:
        done = SheetList(build=known.build.name, sheets=tuple(_print_all(known, page, Path(into or ""))))
        answer(done, list_page(done), as_json=json)
        return 0
    return _print_one(known, page, name, out, as_json=json)


def _check(name: str | None, out: str | None, into: str | None, address: str) -> None:
    """Checks that the options go together. Raises BadInput."""
    from trialfit.book.problems import BadInput, Located

    if name and into is not None:
        raise BadInput("trialfit sheet", [Located("--all", f'prints every sheet: leave out "{name}" or --all')])
    if out is not None and name is None:
        raise BadInput(
            "trialfit sheet", [Located("-o", "needs the name of a sheet: trialfit sheet BUILD NAME -o FILE")]
        )
    if out == "" or into == "":
        raise BadInput("trialfit sheet", [Located("-o" if out == "" else "--all", "is empty: expected a name")])
    if address and not (address.startswith(("http://", "https://")) and len(address) <= _LONGEST_ADDRESS):
        says = f"is not an address: expected one that begins with http:// and has at most {_LONGEST_ADDRESS} characters"
        raise BadInput("trialfit sheet", [Located("--address", says)])
    if address and into is not None:
        raise BadInput("trialfit sheet", [Located("--address", "is that of one sheet: it does not go with --all")])


def _print_one(known: Known, page: Paper, name: str, out: str | None, *, as_json: bool) -> int:
    from trialfit.book.saving import PDF, save
    from trialfit.cli.pages.sheets import list_page
    from trialfit.cli.screen import answer, working
    from trialfit.sheets.all_sheets import SHEETS, make
    from trialfit.sheets.listing import SheetLine, SheetList
    from trialfit.sheets.press import press

    with working(f"working out the sheet {name}"):
        made = make(name, known)
    if out is not None or not as_json:
        pdf, file = press(made, page), Path(out or f"{name}.pdf")
        save(pdf, file, PDF)
        line = SheetLine(name=name, says=SHEETS[name][0], file=str(file), size=len(pdf))
    if as_json:
        answer(made, (), as_json=True)
    else:
        listed = SheetList(build=known.build.name, sheets=(line,))
        answer(listed, list_page(listed), as_json=False)
    return 0


def _print_all(known: Known, page: Paper, folder: Path) -> list[SheetLine]:
    from trialfit.book.saving import PDF, check_output, make_folder, save
    from trialfit.cli.screen import working
    from trialfit.sheets.all_sheets import SHEETS, make
    from trialfit.sheets.listing import SheetLine
    from trialfit.sheets.press import press

    make_folder(folder)
    for name in SHEETS:  # all of them before the first is written
        check_output(folder / f"{name}.pdf", PDF)
    lines = []
    with working("working out the sheets") as say:
        for number, (name, (says, _)) in enumerate(SHEETS.items(), 1):
            say(f"sheet {number} of {len(SHEETS)}: {name}")
            pdf, file = press(make(name, known), page), folder / f"{name}.pdf"
            save(pdf, file, PDF)
            lines.append(SheetLine(name=name, says=says, file=str(file), size=len(pdf)))
    return lines

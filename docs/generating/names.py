"""The list of names and units of the whole project, and the tables of instruments and units."""

from __future__ import annotations

import inspect
import re
from collections import defaultdict

from generating.handbook import formulas, modules
from generating.writing import table
from trialfit.advice.instruments import Instrument, instruments
from trialfit.facts.provenance import Provenance, measured_by, source_of_default
from trialfit.facts.quantity import QUANTITIES
from trialfit.facts.showing import interval_text
from trialfit.facts.unit_table import unit_rows
from trialfit.facts.units import from_si_difference
from trialfit.parts.describing import describe_kinds
from trialfit.parts.old_names import OLD_NAMES

_ABOUT_NAMES = """\
One list for the whole project. The names of facts are those that stand in a build; the names of arguments are those of the
formulas, in SI. A unit appears in a name only outside of SI."""
_ABOUT_OLD_NAMES = """\
Names that a build may still have. They are read with a remark, and `trialfit update-names FILE` rewrites them. A fact draws its
values under the first name that it had, so that no figure changes with its name."""
_ABOUT_INSTRUMENTS = """\
What `trialfit measure` chooses from. The half-width is an expanded uncertainty (k = 2, 95 %). Cost: 1 in every toolbox,
2 cheap or borrowed, 3 rented or expensive, 4 a workshop does it."""
_ABOUT_UNITS = """\
Every unit that is read, by quantity. Capital and small letters count: mPa is not MPa. `usual` marks the unit that worked-out
values are shown in; facts are shown in the unit they were written in."""
_COLUMNS = re.compile(r"\s{2,}")
_SYMBOL_AND_UNIT = 2


def name_pages() -> dict[str, str]:
    """The pages by path."""
    return {"names.md": _names(), "instruments.md": _instruments(), "units.md": _units()}


def _names() -> str:
    return "\n\n".join(
        [
            "# Names and units",
            _ABOUT_NAMES,
            "## Facts of parts",
            table(("name", "meaning", "takes", "shown in", "of"), _fact_rows()),
            "## Arguments of formulas",
            table(("name", "symbol", "SI unit", "in"), _argument_rows()),
            "## Old names",
            _ABOUT_OLD_NAMES,
            table(("old name", "name now", "what it is", "of"), _old_rows()),
        ]
    )


def _old_rows() -> list[tuple[str, ...]]:
    return sorted((one.old, one.new, one.what, one.of) for one in OLD_NAMES)


def _fact_rows() -> list[tuple[str, ...]]:
    kinds = defaultdict(list)
    for kind in describe_kinds().kinds:
        for fact in kind.facts:
            kinds[fact.name, fact.meaning, fact.takes, fact.unit].append(kind.kind)
    return sorted((*fact, ", ".join(of)) for fact, of in kinds.items())


def _argument_rows() -> list[tuple[str, ...]]:
    """From the rows "name  symbol  unit" of the docstrings."""
    places = defaultdict(list)
    for module in modules():
        for name, thing in formulas(module):
            if not inspect.isfunction(thing):
                continue
            for argument, (symbol, unit) in _described(thing).items():
                places[argument, symbol, unit].append(f"{module.__name__.rpartition('.')[2]}.{name}")
    return sorted((*row, ", ".join(of)) for row, of in places.items())


def _described(formula: object) -> dict[str, tuple[str, str]]:
    found = {}
    known = inspect.signature(formula).parameters
    for line in (inspect.getdoc(formula) or "").splitlines():
        name, *columns = _COLUMNS.split(line.strip())
        if name in known and len(columns) >= _SYMBOL_AND_UNIT:
            found[name] = (columns[0].partition(",")[0], columns[1])
    return found


def _instruments() -> str:
    rows = [
        (one.quantity.name, one.name, _half_width(one), str(one.provenance), str(one.cost), one.source)
        for one in instruments()
    ]
    words = [(str(word), quantity.name, source_of_default(quantity, word)) for quantity, word in _pairs()]
    return "\n\n".join(
        [
            "# Instruments and default spreads",
            _ABOUT_INSTRUMENTS,
            table(("quantity", "instrument", "half-width", "write it as", "cost", "source"), sorted(rows)),
            "## Words for where a fact came from",
            "Each brings a spread where none is written.",
            table(("word", "quantity", "source of its spread"), sorted(words)),
        ]
    )


def _half_width(one: Instrument) -> str:
    pieces = []
    if one.absolute:
        half = float(from_si_difference(one.absolute, one.unit))
        pieces.append(f"± {interval_text(half, half, half, one.unit.canonical)}")
    if one.relative:
        pieces.append(f"± {one.relative:.1%} of the value")
    return " and ".join(pieces) or "exact"


def _pairs() -> list[tuple[object, Provenance]]:
    return [(quantity, word) for quantity in QUANTITIES.values() for word in measured_by(quantity)]


def _units() -> str:
    rows = [
        (name, row.symbol or "none", ", ".join(spelling for spelling in row.spellings if spelling), row.shown)
        for name in QUANTITIES
        for row in unit_rows(name)
    ]
    return "\n\n".join(
        [
            "# Units and their spellings",
            _ABOUT_UNITS,
            table(("quantity", "unit", "also written", "shown"), rows),
        ]
    )

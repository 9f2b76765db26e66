"""A page for each module of formulas, made from its docstrings as they stand."""

from __future__ import annotations

import inspect
import pkgutil
from importlib import import_module
from typing import TYPE_CHECKING

from generating.writing import contents, sentence, verbatim
from trialfit import handbook

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator
    from types import ModuleType


def modules() -> list[ModuleType]:
    """The modules of formulas, by name."""
    names = sorted(found.name for found in pkgutil.iter_modules(handbook.__path__) if not found.name.startswith("_"))
    return [import_module(f"{handbook.__name__}.{name}") for name in names]


def formulas(module: ModuleType) -> Iterator[tuple[str, Callable[..., object]]]:
    """The public functions and classes that a module defines, in the order they stand in."""
    own = [
        (name, thing)
        for name, thing in vars(module).items()
        if not name.startswith("_")
        and (inspect.isfunction(thing) or inspect.isclass(thing))
        and thing.__module__ == module.__name__
    ]
    return iter(sorted(own, key=lambda pair: inspect.getsourcelines(pair[1])[1]))


def handbook_pages() -> dict[str, str]:
    """The pages by path."""
    pages = {f"handbook/{_short(module)}.md": _page(module) for module in modules()}
    index = "\n".join(
        [
            "# Handbook: the formulas",
            "",
            "Each page is made from the docstrings of one module. All values are SI. Formulas take floats or numpy arrays and",
            "give the same; outside its range a formula gives nan. They can be used alone:",
            "`from trialfit.handbook import gearing`.",
            "",
            contents(_short(module) for module in modules()),
        ]
    )
    return {"handbook/index.md": index, **pages}


def _short(module: ModuleType) -> str:
    return module.__name__.rpartition(".")[2]


def _page(module: ModuleType) -> str:
    title = inspect.cleandoc(module.__doc__ or "").partition("\n")[0]
    pieces = [f"# {_short(module)}", sentence(title), verbatim(inspect.cleandoc(module.__doc__ or ""))]
    for name, thing in formulas(module):
        pieces += [
            f"## {_short(module)}.{name}",
            verbatim(_signature(name, thing), "python"),
            verbatim(inspect.getdoc(thing) or ""),
        ]
    return "\n\n".join(pieces)


def _signature(name: str, thing: Callable[..., object]) -> str:
    if inspect.isclass(thing):
        return f"class {name}"
    words = [str(parameter).partition(":")[0].strip() for parameter in inspect.signature(thing).parameters.values()]
    return f"{name}({', '.join(words)})"

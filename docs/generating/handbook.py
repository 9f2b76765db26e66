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
    """The modules of formulas: those at the door, which every room uses, then room by room."""
    names = sorted(found.name for found in pkgutil.iter_modules(handbook.__path__) if not found.ispkg)
    at_the_door = [import_module(f"{handbook.__name__}.{name}") for name in names]
    return at_the_door + [module for room in handbook.rooms() for module in handbook.modules(room)]


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
    """The pages by path: a folder for each room, like the handbook itself."""
    pages = {f"handbook/{short_path(module)}.md": _page(module) for module in modules()}
    index = "\n".join(
        [
            "# Handbook: the formulas",
            "",
            "Each page is made from the docstrings of one module, room by room. All values are SI. Formulas take floats or numpy",
            "arrays and give the same; outside its range a formula gives nan. They can be used alone:",
            "`from trialfit.handbook import cardan`.",
            "",
            contents([*(path for path in map(short_path, modules()) if "/" not in path), *_indexes()]),
        ]
    )
    rooms = {f"handbook/{room}/index.md": _room(room) for room in handbook.rooms()}
    return {"handbook/index.md": index, **rooms, **pages}


def _indexes() -> list[str]:
    return [f"{room}/index" for room in handbook.rooms()]


def _room(room: str) -> str:
    says = inspect.getdoc(import_module(f"{handbook.__name__}.{room}")) or ""
    listed = contents(_short(module) for module in handbook.modules(room))
    return f"# {room}\n\n{sentence(says)}\n\n{listed}"


def short_path(module: ModuleType) -> str:
    """Where a module stands in the handbook: "driveline/cardan"."""
    return module.__name__.removeprefix(f"{handbook.__name__}.").replace(".", "/")


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
